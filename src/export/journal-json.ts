/** Reads a journal back from the JSON document that `journal-text.ts` writes, without loss. */
import * as v from 'valibot';
import { CASE_ENTRIES_MAX, JOURNAL_LENGTH_MAX } from '../base/caps.ts';
import { fieldsOf, isRecord, type JsonFields, jsonOr } from '../base/json.ts';
import { type Problem, problem, showCame } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { escapeUnseen } from '../base/unseen.ts';
import { type CaseLog, replay } from '../engine/log.ts';
import { issuesToProblems } from '../protocol/document-problems.ts';
import { type JsonFault, readJsonText } from '../protocol/json-text.ts';
import type { BadEntryReason, ExportEntry, SecondEnd, Verification } from './export-source.ts';
import { JOURNAL_FORMAT, journalJson, NO_HASH } from './journal-text.ts';
import { entrySchema, secondEndSchema } from './schema-journal.ts';

const NAME = 'journal';

/** What follows the chain: the one that stores entries also knows how they are linked. */
interface ChainReader {
  readonly verify: (entries: readonly unknown[]) => {
    readonly goodCount: number;
    readonly firstBad: Verification['firstBad'];
  };
}

export interface ParsedJournal {
  readonly caseId: string;
  /** The entries whose chain holds and whose events are known. */
  readonly entries: readonly ExportEntry[];
  /** The first bad entry and everything after it, as found; a line that is no JSON as its text. */
  readonly apart: readonly unknown[];
  /** What other tablets pressed in the place of these entries; each follows on an entry of this chain. */
  readonly secondEnds: readonly SecondEnd[];
  readonly verification: Verification;
  /**
   * What does not fit, the first bad entry first. Empty only when the text is, to the letter, what
   * {@link journalJson} writes for these entries, or the same JSON laid out in another way.
   */
  readonly problems: readonly Problem[];
  /** Characters that nobody sees, which the entries hold and keep. */
  readonly warnings: readonly Problem[];
}

interface Found {
  readonly caseId: string | null;
  readonly count: number | null;
  readonly head: string | null;
  readonly entries: readonly unknown[];
  readonly apart: readonly unknown[];
  readonly secondEnds: readonly unknown[];
  /** Index of the first entry that is no JSON, or that says a key twice. */
  readonly unreadableFrom: number | null;
  /** What is wrong with that entry, where its place is known. */
  readonly fault: Problem | null;
  readonly told: readonly JsonFault[];
}

const textOr = (value: unknown): string | null => (typeof value === 'string' ? value : null);
const listOr = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

const HEAD_KEYS = [
  'format',
  'formatVersion',
  'caseId',
  'count',
  'head',
  'entries',
  'apart',
  'secondEnds',
];

/** What a document of this format must say of itself before its entries are looked at. */
function headProblem(fields: JsonFields): Problem | null {
  const { format, formatVersion } = fields;
  if (format !== JOURNAL_FORMAT) {
    return problem(`${NAME}.format`, `"${JOURNAL_FORMAT}"`, format, 'wrong-format');
  }
  if (formatVersion !== 1) {
    return problem(`${NAME}.formatVersion`, 'the number 1', formatVersion, 'newer-format');
  }
  if (typeof fields['caseId'] !== 'string') {
    return problem(`${NAME}.caseId`, 'the id of the case', fields['caseId']);
  }
  if (!Array.isArray(fields['entries'])) {
    return problem(`${NAME}.entries`, 'a list of entries', fields['entries']);
  }
  const { length } = fields['entries'];
  if (length > CASE_ENTRIES_MAX) {
    const expected = `at most ${CASE_ENTRIES_MAX} entries`;
    const came = `a list of ${length}`;
    return { code: 'too-many', place: `${NAME}.entries`, expected, came };
  }
  const unknown = Object.keys(fields).find((key) => !HEAD_KEYS.includes(key));
  if (unknown !== undefined) {
    return problem(`${NAME}.${unknown}`, 'no such key', fields[unknown], 'unknown-key');
  }
  return null;
}

function foundIn(fields: JsonFields): Found {
  return {
    caseId: textOr(fields['caseId']),
    count: typeof fields['count'] === 'number' ? fields['count'] : null,
    head: textOr(fields['head']),
    entries: listOr(fields['entries']),
    apart: listOr(fields['apart']),
    secondEnds: listOr(fields['secondEnds']),
    unreadableFrom: null,
    fault: null,
    told: [],
  };
}

const readText = (text: string) =>
  readJsonText(text, { name: NAME, lengthMax: JOURNAL_LENGTH_MAX, keepsUnseen: true });

/** A line by itself, or null when it is no JSON or says a key twice. */
function lineOr(text: string): { readonly value: unknown } | null {
  const read = readText(text);
  return read.ok ? read.value : null;
}

/** Reads damaged text line by line: what lies before the damage can still be told. */
function salvage(text: string): Found | null {
  const lines = text.split('\n');
  const head = fieldsOf(lineOr(`${lines[0] ?? ''}]}`)?.value);
  const end = lines.findIndex((line, i) => i > 0 && line.startsWith(']'));
  const own = lines.slice(1, end === -1 ? lines.length : end).filter((line) => line !== '');
  const read = own.map((line) => lineOr(line.replace(/,$/, '')) ?? { text: line });
  const isEntry = read.some((r) => 'value' in r && fieldsOf(r.value)['event'] !== undefined);
  if (!isEntry) return null;
  const bad = read.findIndex((r) => 'text' in r);
  return {
    ...foundIn({ ...head, apart: [] }),
    entries: read.map((r) => ('value' in r ? r.value : r.text)),
    apart: end === -1 ? [] : lines.slice(end).filter((line) => !/^\]?\}?$/.test(line)),
    unreadableFrom: bad === -1 ? null : bad,
  };
}

function foundOr(value: unknown): Result<Found, Problem> {
  if (!isRecord(value)) {
    return err(problem(NAME, `an object with "format": "${JOURNAL_FORMAT}"`, value));
  }
  const fault = headProblem(value);
  return fault ? err(fault) : ok(foundIn(value));
}

/** What can be saved of a text that the reader refuses: everything before the entry at fault. */
function saved(text: string, { problem: fault, path }: JsonFault): Result<Found, Problem> {
  const [list, index] = path;
  const whole = fault.code === 'duplicate-key' ? jsonOr(text) : null;
  if (whole !== null && list === 'entries' && typeof index === 'number') {
    const found = foundOr(whole.value);
    return found.ok ? ok({ ...found.value, unreadableFrom: index, fault }) : found;
  }
  const lines = whole === null && fault.code !== 'too-deep' ? salvage(text) : null;
  return lines === null ? err(fault) : ok(lines);
}

function documentIn(text: string): Result<Found, Problem> {
  const read = readText(text);
  if (!read.ok) return saved(text, read.error);
  const found = foundOr(read.value.value);
  return found.ok ? ok({ ...found.value, told: read.value.told }) : found;
}

const REASON_WORDS: Readonly<Record<BadEntryReason, string>> = {
  shape: 'an entry { caseId, seq, press, epoch, stamp, by, event, prev, hash }',
  'other-case': 'an entry of the same case',
  sequence: 'the next entry in sequence',
  link: 'the hash of the entry before it',
  hash: 'an entry that fits its own hash',
  missing: 'as many entries as the journal counts',
  text: 'an entry that is JSON',
  event: 'an event that this version knows',
};

/** Follows the chain, then asks whether the events are known. The first fault ends both. */
function verified(found: Found, { verify }: ChainReader) {
  const upTo = found.unreadableFrom ?? found.entries.length;
  const chain = verify(found.entries.slice(0, upTo));
  const entries: ExportEntry[] = [];
  for (const [index, value] of found.entries.slice(0, chain.goodCount).entries()) {
    const parsed = v.safeParse(entrySchema, value, { abortPipeEarly: true });
    if (!parsed.success) {
      const problems = issuesToProblems(parsed.issues, `${NAME}.entries[${index}]`);
      return { entries, firstBad: { index, reason: 'event' as const }, problems };
    }
    // The parsed copy is equal; the value itself is kept because its key order was hashed.
    entries.push(value as ExportEntry);
  }
  if (chain.firstBad) return { entries, firstBad: chain.firstBad, problems: [] };
  if (found.unreadableFrom !== null) {
    const problems = found.fault === null ? [] : [found.fault];
    return { entries, firstBad: { index: upTo, reason: 'text' as const }, problems };
  }
  const isShort = found.count !== null && entries.length < found.count;
  const missing = { index: entries.length, reason: 'missing' as const };
  return { entries, firstBad: isShort ? missing : null, problems: [] };
}

/** The second ends that follow on the chain; what is wrong with the others. */
function endsIn(found: Found, entries: readonly ExportEntry[], { verify }: ChainReader) {
  const secondEnds: SecondEnd[] = [];
  const problems: Problem[] = [];
  for (const [index, value] of found.secondEnds.entries()) {
    const place = `${NAME}.secondEnds[${index}]`;
    const parsed = v.safeParse(secondEndSchema, value, { abortPipeEarly: true });
    if (!parsed.success) {
      problems.push(...issuesToProblems(parsed.issues, place));
      continue;
    }
    const end = value as SecondEnd;
    const at = end.entries[0]?.seq ?? 0;
    const { firstBad } = verify([...entries.slice(0, at), ...end.entries]);
    if (end.entries.length > 0 && firstBad === null) secondEnds.push(end);
    else problems.push(problem(place, 'entries that follow on the chain', 'others', 'link'));
  }
  return { secondEnds, problems };
}

/** What the document says of its entries and what they are. */
function headProblems(found: Found, entries: readonly ExportEntry[]): Problem[] {
  const head = entries.at(-1)?.hash ?? NO_HASH;
  const caseId = entries[0]?.caseId ?? found.caseId;
  const pairs = [
    { key: 'count', expected: entries.length, came: found.count },
    { key: 'head', expected: head, came: found.head },
    { key: 'caseId', expected: caseId, came: found.caseId },
  ];
  return pairs
    .filter(({ expected, came }) => expected !== came)
    .map(({ key, expected, came }) =>
      problem(`${NAME}.${key}`, showCame(expected), came, 'head-differs'),
    );
}

/** The separators of a scanned label are control characters that belong there. */
const isLabel = ({ path }: JsonFault): boolean =>
  path.at(-2) === 'scanned' && path.at(-1) === 'text';

/** True when the text differs from what would be written, in more than spaces and line feeds. */
function isReworded(text: string, journal: Parameters<typeof journalJson>[0]): boolean {
  const written = journalJson(journal);
  if (text === written) return false;
  // The command line writes what nobody sees as escapes; that is the same JSON.
  const bare = (all: string): string => escapeUnseen(all.replaceAll(/[ \t\r\n]+/g, ''));
  return bare(text) !== bare(written);
}

/**
 * Reads an exported journal.
 * @param chain follows the hash chain of entries of unknown shape.
 * @returns the entries that hold and, set apart, the first that does not with everything after it.
 *   Errors: `not-json` with line and column when nothing can be saved, `wrong-format`,
 *   `newer-format`, `too-large`.
 */
export function parseJournal(
  text: string,
  chain: ChainReader,
): Result<ParsedJournal, readonly Problem[]> {
  const body = text.startsWith('\ufeff') ? text.slice(1) : text;
  const found = documentIn(body);
  if (!found.ok) return err([found.error]);
  const { entries, firstBad, problems } = verified(found.value, chain);
  const apart = [...found.value.entries.slice(entries.length), ...found.value.apart];
  const caseId = entries[0]?.caseId ?? found.value.caseId ?? '';
  const place = `${NAME}.entries[${firstBad?.index ?? 0}]`;
  const bad = firstBad
    ? [
        problem(
          place,
          REASON_WORDS[firstBad.reason],
          found.value.entries[firstBad.index],
          firstBad.reason,
        ),
      ]
    : [];
  const ends = endsIn(found.value, entries, chain);
  const head = firstBad ? [] : headProblems(found.value, entries);
  const reworded =
    firstBad === null &&
    head.length === 0 &&
    ends.problems.length === 0 &&
    isReworded(body, { caseId, entries, apart, secondEnds: ends.secondEnds })
      ? [problem(NAME, 'the text that these entries are written as', 'other text', 'reworded')]
      : [];
  return ok({
    caseId,
    entries,
    apart,
    secondEnds: ends.secondEnds,
    verification: { goodCount: entries.length, firstBad },
    problems: [...problems, ...bad, ...head, ...ends.problems, ...reworded],
    warnings: found.value.told.filter((fault) => !isLabel(fault)).map((f) => f.problem),
  });
}

/**
 * Folds the entries of a journal from outside. Entries can be chained well and still tell of
 * something that cannot happen; that is an expected failure here.
 */
export function foldJournal(entries: readonly ExportEntry[]): Result<CaseLog, Problem> {
  const place = `${NAME}.entries`;
  if (entries.length === 0) return err(problem(place, 'at least one entry', entries, 'no-entries'));
  try {
    return ok(replay(entries));
  } catch (thrown) {
    const came = thrown instanceof Error ? thrown.message : String(thrown);
    return err({ code: 'contradiction', place, expected: 'events that follow', came });
  }
}
