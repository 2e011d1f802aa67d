/**
 * Many journals in one file, and each of them back as it was written. Every journal begins on a line
 * of its own, so that damage to one leaves the others readable. Pure.
 */
import { JOURNALS_LENGTH_MAX } from '../base/caps.ts';
import { fieldsOf, jsonOr } from '../base/json.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { readJsonText } from '../protocol/json-text.ts';
import { JOURNAL_FORMAT } from './journal-text.ts';

export const JOURNALS_FORMAT = 'lutewatch-journals';
const NAME = 'journals';
const NEXT = `{"format":"${JOURNAL_FORMAT}",`;
/** Case ids that a refusal names; more would be no line any more. */
const NAMED_MAX = 5;

/** The file in parts, so that it need not be built in one piece; `journals` as `journalJson` wrote them. */
export function journalsParts(journals: readonly string[]): string[] {
  const head = JSON.stringify({
    format: JOURNALS_FORMAT,
    formatVersion: 1,
    count: journals.length,
  });
  const last = journals.length - 1;
  return [
    `${head.slice(0, -1)},"journals":[\n`,
    ...journals.map((text, n) => `${text.trimEnd()}${n < last ? ',' : ''}\n`),
    ']}\n',
  ];
}

/** One journal of a file, as text for `parseJournal`. */
interface JournalText {
  readonly caseId: string;
  readonly text: string;
}

interface JournalTexts {
  readonly journals: readonly JournalText[];
  /** What the file says it holds. */
  readonly count: number | null;
  /** A key that the file says twice, or nesting that is too deep. */
  readonly fault: Problem | null;
}

function caseIdIn(text: string): string {
  const head = text.slice(0, text.indexOf('"entries":'));
  const { caseId } = fieldsOf(jsonOr(`${head.replace(/,$/, '')}}`)?.value);
  return typeof caseId === 'string' ? caseId : '';
}

/** The file as it is written here: cut where a journal begins. */
function byLines(lines: readonly string[]): JournalText[] {
  const starts = lines.flatMap((line, n) => (n > 0 && line.startsWith(NEXT) ? [n] : []));
  return starts.map((from, n) => {
    const end = starts[n + 1] ?? lines.findLastIndex((line) => line.startsWith(']}'));
    const own = lines.slice(from, end > from ? end : undefined).join('\n');
    const text = `${own.trimEnd().replace(/,$/, '')}\n`;
    return { caseId: caseIdIn(text), text };
  });
}

/** The same JSON laid out in another way. */
function byParsing(all: unknown): JournalText[] {
  const { journals } = fieldsOf(all);
  return (Array.isArray(journals) ? journals : []).map((journal) => {
    const { caseId } = fieldsOf(journal);
    return { caseId: typeof caseId === 'string' ? caseId : '', text: JSON.stringify(journal) };
  });
}

const readText = (text: string) =>
  readJsonText(text, { name: NAME, lengthMax: JOURNALS_LENGTH_MAX, keepsUnseen: true });

/** The journals of a file; null when it is no such file. Its fault, if any, is one of its frame. */
export function journalsIn(text: string): JournalTexts | null {
  const lines = text.replace(/^\ufeff/, '').split('\n');
  const head = readText(`${lines[0] ?? ''}]}`);
  const first = fieldsOf(jsonOr(`${lines[0] ?? ''}]}`)?.value);
  if (first['format'] === JOURNALS_FORMAT) {
    const count = typeof first['count'] === 'number' ? first['count'] : null;
    return { journals: byLines(lines), count, fault: head.ok ? null : head.error.problem };
  }
  const all = lines.length < 2 || !text.includes(JOURNALS_FORMAT) ? null : jsonOr(text);
  const { format, count } = fieldsOf(all?.value);
  if (format !== JOURNALS_FORMAT) return null;
  const whole = readText(text);
  return {
    journals: byParsing(all?.value),
    count: typeof count === 'number' ? count : null,
    fault: whole.ok ? null : whole.error.problem,
  };
}

/**
 * One journal of a file.
 * @param caseId which one; may be left out when the file holds only one.
 * @returns its text, and what the file as a whole does not keep of what it says. Errors: `which-case`, or the
 *   fault of the file.
 */
export function journalOf(
  { journals, count, fault }: JournalTexts,
  caseId: string | null,
): Result<{ readonly text: string; readonly problems: readonly Problem[] }, Problem> {
  if (fault !== null) return err(fault);
  const own = caseId === null ? journals : journals.filter((j) => j.caseId === caseId);
  const [found] = own;
  if (found === undefined || own.length > 1) {
    const ids = journals.slice(0, NAMED_MAX).map((j) => j.caseId);
    const more = journals.length > NAMED_MAX ? ', …' : '';
    const expected = `one of the ${journals.length} cases of the file: ${ids.join(', ')}${more}`;
    return err(problem('record.--case', expected, caseId ?? undefined, 'which-case'));
  }
  const lost =
    count === null || count === journals.length
      ? []
      : [problem(`${NAME}.count`, `${journals.length}`, count, 'head-differs')];
  return ok({ text: found.text, problems: lost });
}
