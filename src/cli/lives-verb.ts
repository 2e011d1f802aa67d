/**
 * `lives FILE [--as csv|fhir] [--case ID] [--today DAY] [--json]`: what became of the units, one row or
 * Observation for each unit at each visit. FILE is the follow-up as the app saves it for keeping, or the lines of an
 * opened backup, whose whole sum is checked. DAY is the calendar day up to which lives could have been
 * followed; else the one that the file says, in a backup the last day that is told of. Exit code 0, 1 when an
 * entry does not hold or is not known (what holds is still written), 2 when the file is none of these.
 */
import { JOURNALS_LENGTH_MAX } from '../base/caps.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { FOLLOW_UP_FORMS, type FollowUpForm, followUpFile } from '../export/follow-up-forms.ts';
import { readFollowUpFile } from '../export/follow-up-json.ts';
import { isDay } from '../outcomes/days.ts';
import { type ExitCode, type Io, refuse, writeAnswer } from './output.ts';
import { readText } from './read-text.ts';

interface Request {
  readonly file: string;
  readonly form: FollowUpForm;
  /** Null: every case. */
  readonly caseId: string | null;
  readonly today: string | null;
  readonly asJson: boolean;
}

const OPTIONS = ['--as', '--case', '--today'] as const;

type Options = Partial<Record<(typeof OPTIONS)[number], string>>;

/** Options with their values, and what is left. */
function sorted(
  args: readonly string[],
): Result<{ readonly options: Options; readonly rest: readonly string[] }, Problem> {
  const options: Options = {};
  const rest: string[] = [];
  for (let at = 0; at < args.length; at += 1) {
    const arg = args[at] ?? '';
    const name = OPTIONS.find((option) => option === arg);
    const value = args[at + 1];
    if (name === undefined) rest.push(arg);
    else if (value === undefined) return err(problem(`lives.${name}`, 'a value', undefined));
    else {
      options[name] = value;
      at += 1;
    }
  }
  return ok({ options, rest });
}

function parseArgs(args: readonly string[]): Result<Request, Problem> {
  const asJson = args.includes('--json');
  const given = sorted(
    args
      .filter((arg) => arg !== '--json')
      .flatMap((arg) => arg.split(/(?<=^--(?:as|case|today))=/)),
  );
  if (!given.ok) return given;
  const { options, rest } = given.value;
  const { '--as': as = 'csv', '--case': caseId = null, '--today': today = null } = options;
  const form = FOLLOW_UP_FORMS.find((name) => name === as);
  if (form === undefined) {
    const expected = `one of ${FOLLOW_UP_FORMS.join(', ')}`;
    return err(problem('lives.--as', expected, as, 'unknown-form'));
  }
  if (today !== null && !isDay(today)) {
    const expected = 'a calendar day such as 2026-11-30';
    return err(problem('lives.--today', expected, today, 'not-a-day'));
  }
  const [file, ...more] = rest;
  if (file === undefined || more.length > 0 || (file.startsWith('-') && file !== '-')) {
    const came = file === undefined ? file : [file, ...more].join(' ');
    return err(problem('lives', 'one file, or - for standard input', came));
  }
  return ok({ file, form, caseId, today, asJson });
}

/** Exports a follow-up. See the head of this file for the exit codes. */
export async function run(args: readonly string[], io: Io): Promise<ExitCode> {
  if (args[0] === '--help' || args[0] === '-h') {
    io.stdout('lives FILE [--as csv|fhir] [--case ID] [--today DAY] [--json]\n');
    return 0;
  }
  const request = parseArgs(args);
  if (!request.ok) return refuse(io, request.error);
  const { file, form, caseId, asJson } = request.value;
  const text = await readText(file, io, JOURNALS_LENGTH_MAX);
  if (!text.ok) return refuse(io, text.error);
  const read = readFollowUpFile(text.value);
  if (!read.ok) return refuse(io, read.error);
  const { followUps, roots, problems } = read.value;
  if (caseId !== null && !followUps.some((one) => one.caseId === caseId)) {
    return refuse(io, problem('lives.--case', 'a case of the file', caseId, 'which-case'));
  }
  const today = request.value.today ?? read.value.today;
  const only = caseId === null ? {} : { only: caseId };
  const made = followUpFile({ followUps, today, roots, ...only }, form);
  if (asJson) writeAnswer(io, { form, ...made, problems }, { asJson });
  else io.stdout(made.text);
  // Of what does not hold the first line is the most telling.
  for (const one of problems.slice(0, 1)) refuse(io, one);
  return problems.length === 0 ? 0 : 1;
}
