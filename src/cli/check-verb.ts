/**
 * `check FILE [--protocol FILE] [--json]`: looks for faults in a protocol or case file. A case is held
 * against its protocol, from a file or else the project's own. Exit code 0 when nothing was found, 1
 * with findings, 2 when a file is no such document or asks for what no one can do (crossed bounds,
 * windows that cannot be kept).
 */
import { fieldsOf } from '../base/json.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { checkCase } from '../plan/check-light.ts';
import { checkDocument } from '../plan/check-windows.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { Finding, FindingCode } from '../protocol/finding.ts';
import { parseJsonText } from '../protocol/json-text.ts';
import { parseCase } from '../protocol/parse-case.ts';
import { parseProtocol } from '../protocol/parse-protocol.ts';
import { loadPlanTables } from './load-tables.ts';
import { type ExitCode, type Io, refuse, writeAnswer } from './output.ts';
import { protocolFor } from './read-documents.ts';
import { readText } from './read-text.ts';
import { findingLine, findingWords } from './words.ts';

const IMPOSSIBLE: ReadonlySet<FindingCode> = new Set(['bounds-crossed', 'window-cannot-be-kept']);

interface Checked {
  readonly kind: 'protocol' | 'case';
  readonly id: string;
  readonly findings: readonly Finding[];
}

async function checkSpec(
  io: Io,
  spec: CaseFile,
  protocolFile: string | null,
): Promise<Result<Checked, readonly Problem[]>> {
  const protocol = await protocolFor(io, spec, protocolFile);
  if (!protocol.ok) return err([protocol.error]);
  const tables = await loadPlanTables();
  if (!tables.ok) return err([tables.error]);
  const findings = checkCase({ spec, protocol: protocol.value, tables: tables.value });
  return ok({ kind: 'case', id: spec.id, findings });
}

async function checkText(
  io: Io,
  text: string,
  protocolFile: string | null,
): Promise<Result<Checked, readonly Problem[]>> {
  const json = parseJsonText(text, 'file');
  if (!json.ok) return err([json.error]);
  if (fieldsOf(json.value)['format'] === 'lutewatch-case') {
    const parsed = parseCase(json.value);
    return parsed.ok ? checkSpec(io, parsed.value, protocolFile) : parsed;
  }
  const parsed = parseProtocol(json.value);
  if (!parsed.ok) return parsed;
  return ok({ kind: 'protocol', id: parsed.value.id, findings: checkDocument(parsed.value) });
}

interface Request {
  readonly file: string;
  readonly protocolFile: string | null;
}

function requestOf(args: readonly string[]): Result<Request, Problem> {
  const given = args.filter((arg) => arg !== '--json');
  const at = given.indexOf('--protocol');
  const protocolFile = at < 0 ? null : (given[at + 1] ?? null);
  if (at >= 0 && protocolFile === null)
    return err(problem('check.--protocol', 'a file', undefined));
  const [file, ...more] = at < 0 ? given : given.toSpliced(at, 2);
  if (file !== undefined && more.length === 0) return ok({ file, protocolFile });
  return err(
    problem('check', 'one file, or - for standard input', file === undefined ? file : args),
  );
}

/** One line for all: the most telling problem, and how many more there are. */
function refuseAll(io: Io, problems: readonly Problem[], asJson: boolean): 2 {
  const [first = problem('file', 'a document', undefined), ...rest] = problems;
  if (asJson) writeAnswer(io, { problems }, { asJson });
  const more = rest.length === 0 ? '' : ` (and ${rest.length} more)`;
  return refuse(io, { ...first, came: `${first.came}${more}` });
}

function asProblem(finding: Finding): Problem {
  const expected =
    finding.code === 'bounds-crossed' ? 'bounds that rise' : 'a window that can be kept';
  const { code, place } = finding;
  return { code, place, expected, came: findingWords(finding) };
}

function report(io: Io, checked: Checked, asJson: boolean): void {
  const { kind, id, findings } = checked;
  if (asJson) {
    const told = findings.map((finding) => ({ ...finding, words: findingWords(finding) }));
    writeAnswer(io, { kind, id, findings: told }, { asJson });
    return;
  }
  const lines = findings.map((finding) => `${findingLine(finding)}\n`);
  io.stdout(lines.length === 0 ? `${kind} ${id}: nothing found\n` : lines.join(''));
}

/** Checks one file. See the head of this file for the exit codes. */
export async function run(args: readonly string[], io: Io): Promise<ExitCode> {
  const asJson = args.includes('--json');
  const request = requestOf(args);
  if (!request.ok) return refuse(io, request.error);
  const { file, protocolFile } = request.value;
  const text = await readText(file, io);
  if (!text.ok) return refuse(io, text.error);
  const checked = await checkText(io, text.value, protocolFile);
  if (!checked.ok) return refuseAll(io, checked.error, asJson);
  const { findings } = checked.value;
  report(io, checked.value, asJson);
  const impossible = findings.find(({ code }) => IMPOSSIBLE.has(code));
  if (impossible !== undefined) return refuse(io, asProblem(impossible));
  return findings.length === 0 ? 0 : 1;
}
