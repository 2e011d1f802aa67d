/**
 * `record JOURNAL.json [--case ID] [--as FORM] [--zone ZONE] [--json]`: exports a journal in one form.
 * A file with many journals is told which case is meant; a case that names no time zone is told in the
 * one that is given, else in UTC. Exit code 0 when its
 * whole hash chain holds, 1 when something was set apart (what holds is still written, and standard
 * error says what does not), 2 when the file is no journal.
 */

import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { EXPORT_FORMS, exportFile } from '../export/export-forms.ts';
import { foldJournal, type ParsedJournal, parseJournal } from '../export/journal-json.ts';
import { journalOf, journalsIn } from '../export/journals-json.ts';
import { verifyChain } from '../storage/hash-chain.ts';
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
    .flatMap((a) => a.split(/(?<=^--(?:as|case|zone))=/));
  const which = taken(given, '--case');
  const where = taken(which.rest, '--zone');
  const as = taken(where.rest, '--as');
  const form = as.isGiven ? formOf(as.value) : ok<FormId>('text');
  if (!form.ok) return form;
  if (which.isGiven && which.value === undefined) {
    return err(problem('record.--case', 'the id of a case', undefined, 'which-case'));
  }
  if (where.isGiven && !isZone(where.value ?? '')) {
    const expected = 'a name of the IANA time zone database such as Europe/Lisbon';
    return err(problem('record.--zone', expected, where.value, 'unknown-zone'));
  }
  const [file, ...more] = as.rest;
  if (file === undefined || more.length > 0 || (file.startsWith('-') && file !== '-')) {
    const came = file === undefined ? file : [file, ...more].join(' ');
    return err(problem('record', 'one journal file, or - for standard input', came));
  }
  const [caseId, zone] = [which.value ?? null, where.value ?? null];
  return ok({ file, form: form.value, caseId, zone, asJson });
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

function usage(io: Io): 0 {
  const lines = EXPORT_FORMS.map(({ id, about }) => `  ${id.padEnd(12)}${about}`);
  io.stdout(
    ['record JOURNAL.json [--case ID] [--as FORM] [--zone ZONE] [--json]', ...lines, ''].join('\n'),
  );
  return 0;
}

/** Exports one journal. See the head of this file for the exit codes. */
export async function run(args: readonly string[], io: Io): Promise<ExitCode> {
  if (args[0] === '--help' || args[0] === '-h') return usage(io);
  const request = parseArgs(args);
  if (!request.ok) return refuse(io, request.error);
  const text = await readText(request.value.file, io);
  if (!text.ok) return refuse(io, text.error);
  const journal = readJournal(text.value, request.value.caseId);
  if (!journal.ok) return refuse(io, journal.error);
  const { entries, verification, apart, problems, warnings } = journal.value;
  const log = foldJournal(entries);
  if (!log.ok) return refuse(io, log.error);
  const { form, zone, asJson } = request.value;
  const file = exportFile(
    {
      log: log.value,
      entries,
      verification,
      apart,
      ...(zone === null ? {} : { clinicZone: zone }),
    },
    form,
  );
  const told = warnings.length === 0 ? {} : { warnings };
  if (asJson) writeAnswer(io, { form, ...file, problems, ...told }, { asJson });
  else io.stdout(file.text);
  const [first = warnings[0]] = problems;
  if (first !== undefined) refuse(io, first);
  return problems.length === 0 ? 0 : 1;
}
