/**
 * `record JOURNAL.json [--case ID] [--as FORM] [--zone ZONE] [--anchor ANCHOR] [--json]`: exports a journal in one
 * form. An anchor, as a record of the case prints it, says how long it was once: what was cut is a finding.
 * A file with many journals is told which case is meant; a case that names no time zone is told in the
 * one that is given, else in UTC. Exit code 0 when its
 * whole hash chain holds, 1 when something was set apart or the entries tell what cannot have happened (what
 * holds is still written, and standard error says what does not), 2 when the file is no journal.
 */

import { JOURNALS_LENGTH_MAX } from '../base/caps.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type CannotBe, cannotBe } from '../engine/cannot-be.ts';
import type { AnchorFact } from '../export/anchor.ts';
import { type Anchor, headStatement, judgeAnchor, parseAnchor } from '../export/anchor.ts';
import { EXPORT_FORMS, exportFile } from '../export/export-forms.ts';
import { foldJournal, type ParsedJournal, parseJournal } from '../export/journal-json.ts';
import { journalOf, journalsIn } from '../export/journals-json.ts';
import { verifyChain } from '../storage/hash-chain.ts';
import { isSignedBy } from '../storage/signatures.ts';
import type { FormId } from '../words/codes.ts';
import { isZone } from '../words/zone.ts';
import { type ExitCode, type Io, refuse, writeAnswer } from './output.ts';
import { readText } from './read-text.ts';

interface Request {
  readonly file: string;
  readonly form: FormId;
  /** Which case of a file with many; null when it was not said. */
  readonly caseId: string | null;
  /** The clinic's zone, for a case that names none. */
  readonly zone: string | null;
  /** What an earlier record said of how long the case was. */
  readonly anchor: Anchor | null;
  /** Writes `{ form, name, mediaType, text, problems }` instead of the text alone. */
  readonly asJson: boolean;
}

const FORM_WORDS = `one of ${EXPORT_FORMS.map((f) => f.id).join(', ')}`;

function formOf(name: string | undefined): Result<FormId, Problem> {
  const form = EXPORT_FORMS.find((f) => f.id === name);
  return form ? ok(form.id) : err(problem('record.--as', FORM_WORDS, name, 'unknown-form'));
}

function parseArgs(args: readonly string[]): Result<Request, Problem> {
  const asJson = args.includes('--json');
  const given = args
    .filter((arg) => arg !== '--json')
    .flatMap((a) => a.split(/(?<=^--(?:as|case|zone|anchor))=/));
  const which = taken(given, '--case');
  const where = taken(which.rest, '--zone');
  const kept = taken(where.rest, '--anchor');
  const as = taken(kept.rest, '--as');
  const anchor = parseAnchor(kept.value ?? '');
  const form = as.isGiven ? formOf(as.value) : ok<FormId>('text');
  if (!form.ok) return form;
  if (which.isGiven && which.value === undefined) {
    return err(problem('record.--case', 'the id of a case', undefined, 'which-case'));
  }
  if (where.isGiven && !isZone(where.value ?? '')) {
    const expected = 'a name of the IANA time zone database such as Europe/Lisbon';
    return err(problem('record.--zone', expected, where.value, 'unknown-zone'));
  }
  if (kept.isGiven && anchor === null) {
    const expected = 'an anchor as a record prints it, such as 57:HASH';
    return err(problem('record.--anchor', expected, kept.value, 'no-anchor'));
  }
  const [file, ...more] = as.rest;
  if (file === undefined || more.length > 0 || (file.startsWith('-') && file !== '-')) {
    const came = file === undefined ? file : [file, ...more].join(' ');
    return err(problem('record', 'one journal file, or - for standard input', came));
  }
  const [caseId, zone] = [which.value ?? null, where.value ?? null];
  return ok({ file, form: form.value, caseId, zone, anchor, asJson });
}

/** An option with its value taken out of the arguments. */
function taken(args: readonly string[], name: string) {
  const at = args.indexOf(name);
  if (at === -1) return { isGiven: false, value: undefined, rest: args };
  return { isGiven: true, value: args[at + 1], rest: args.toSpliced(at, 2) };
}

/** The first problem is the most telling; a journal may have lost all of its entries. */
function readJournal(text: string, caseId: string | null): Result<ParsedJournal, Problem> {
  const many = journalsIn(text);
  const own = many ? journalOf(many, caseId) : ok({ text, problems: [] });
  if (!own.ok) return own;
  const parsed = parseJournal(own.value.text, { verify: verifyChain });
  const nothing = problem('journal', 'a journal with entries', text, 'no-entries');
  if (!parsed.ok) return err(parsed.error[0] ?? nothing);
  const { entries, problems } = parsed.value;
  if (entries.length === 0) return err(problems[0] ?? nothing);
  if (caseId !== null && parsed.value.caseId !== caseId) {
    return err(problem('record.--case', `the case of the file, ${parsed.value.caseId}`, caseId));
  }
  return ok({ ...parsed.value, problems: [...problems, ...own.value.problems] });
}

/** What the entries tell that cannot have happened, with the place in the file. */
const strangeProblem = ({ seq, at, code, expected, came }: CannotBe): Problem => ({
  code,
  place: `journal.entries[${seq}].${at}`,
  expected,
  came,
});

/** How the entries stand to an anchor, and whether its signature fits. */
async function anchored(
  journal: Pick<ParsedJournal, 'caseId' | 'entries'>,
  anchor: Anchor,
): Promise<{ readonly fact: AnchorFact; readonly problems: readonly Problem[] }> {
  const { entries, head, signed } = anchor;
  const { caseId } = journal;
  const text = headStatement({ caseId, entries, head });
  const isSigned = signed && (await isSignedBy(globalThis.crypto, { ...signed, text }));
  const state = judgeAnchor(journal.entries, anchor);
  const { publicKey = null, signature = null } = signed ?? {};
  const problems: Problem[] = [];
  const told = (place: string, expected: string, came: string, code: string) =>
    problems.push({ place, expected, came, code });
  if (isSigned === false) {
    told('record.--anchor', 'a signature that fits its key and this case', 'another', 'not-signed');
  }
  if (state === 'cut') {
    const came = `${journal.entries.length} entries`;
    told('journal.entries', `the ${entries} entries that the anchor names`, came, 'cut');
  }
  if (state === 'differs') {
    const came = journal.entries[entries - 1]?.hash ?? '';
    told(
      `journal.entries[${entries - 1}].hash`,
      `${head}, as the anchor names it`,
      came,
      'differs',
    );
  }
  return { fact: { entries, head, publicKey, signature, state, isSigned }, problems };
}

function usage(io: Io): 0 {
  const lines = EXPORT_FORMS.map(({ id, about }) => `  ${id.padEnd(12)}${about}`);
  io.stdout(
    [
      'record JOURNAL.json [--case ID] [--as FORM] [--zone ZONE] [--anchor ANCHOR] [--json]',
      ...lines,
      '',
    ].join('\n'),
  );
  return 0;
}

/** Exports one journal. See the head of this file for the exit codes. */
export async function run(args: readonly string[], io: Io): Promise<ExitCode> {
  if (args[0] === '--help' || args[0] === '-h') return usage(io);
  const request = parseArgs(args);
  if (!request.ok) return refuse(io, request.error);
  const text = await readText(request.value.file, io, JOURNALS_LENGTH_MAX);
  if (!text.ok) return refuse(io, text.error);
  const journal = readJournal(text.value, request.value.caseId);
  if (!journal.ok) return refuse(io, journal.error);
  const { entries, verification, apart, secondEnds, problems, warnings } = journal.value;
  const log = foldJournal(entries);
  if (!log.ok) return refuse(io, log.error);
  const { anchor } = request.value;
  const kept = anchor && (await anchored(journal.value, anchor));
  const strange = [...cannotBe(log.value).map(strangeProblem), ...(kept?.problems ?? [])];
  const all = [...problems, ...strange];
  const { form, zone, asJson } = request.value;
  const file = exportFile(
    {
      log: log.value,
      entries,
      verification,
      secondEnds,
      apart,
      ...(zone === null ? {} : { clinicZone: zone }),
      ...(kept === null ? {} : { anchor: kept.fact }),
    },
    form,
  );
  const told = warnings.length === 0 ? {} : { warnings };
  if (asJson) writeAnswer(io, { form, ...file, problems: all, ...told }, { asJson });
  else io.stdout(file.text);
  // Of what does not hold the first line is the most telling; of what cannot be each has its own.
  const [first] = problems;
  const lines = [...(first === undefined ? [] : [first]), ...strange];
  for (const line of lines.length === 0 ? warnings.slice(0, 1) : lines) refuse(io, line);
  return all.length === 0 ? 0 : 1;
}
