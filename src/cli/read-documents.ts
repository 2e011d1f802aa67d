/** The documents that a command is given, and the protocol of the project that a case names. */
import { readdir, readFile } from 'node:fs/promises';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import type { PlanTables } from '../plan/plan-tables.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import { checkProtocol } from '../protocol/check-protocol.ts';
import type { Finding } from '../protocol/finding.ts';
import { parseJsonText } from '../protocol/json-text.ts';
import { parseCase } from '../protocol/parse-case.ts';
import { parseProtocol } from '../protocol/parse-protocol.ts';
import type { Protocol } from '../protocol/types.ts';
import { loadPlanTables } from './load-tables.ts';
import type { Io } from './output.ts';
import { readText } from './read-text.ts';
import { findingWords } from './words.ts';

/** Reads and parses one file, or says what is wrong with it first of all, and how much else is; `name` is its place. */
export async function readDocument<T>(
  io: Io,
  file: string,
  parse: (value: unknown) => Result<T, readonly Problem[]>,
  name = 'file',
): Promise<Result<T, Problem>> {
  const text = await readText(file, io);
  if (!text.ok) return text;
  const json = parseJsonText(text.value, name);
  if (!json.ok) return json;
  const parsed = parse(json.value);
  if (parsed.ok) return parsed;
  const [first = problem('file', 'a document', undefined), ...others] = parsed.error;
  const more = others.length === 0 ? '' : ` (and ${others.length} more)`;
  return err({ ...first, came: `${first.came}${more}` });
}

const SHARED = new URL('../../shared/', import.meta.url);

/** The protocol of the project that a case names. */
async function ownProtocol(id: string): Promise<Result<Protocol, Problem>> {
  const folder = new URL('protocols/', SHARED);
  const files = (await readdir(folder)).filter((name) => name.endsWith('.json')).sort();
  for (const name of files) {
    const json = parseJsonText(await readFile(new URL(name, folder), 'utf8'), name);
    const parsed = json.ok ? parseProtocol(json.value) : null;
    if (parsed?.ok && parsed.value.id === id) return ok(parsed.value);
  }
  return err(problem('case.protocol', 'a protocol in shared/protocols, or --protocol FILE', id));
}

type Check = (protocol: Protocol) => readonly Finding[];

/**
 * The protocol that a case is done by, from a file or else the project's own, without faults.
 * @param file null where none was named.
 * @param check finds the faults that keep it from being used.
 */
export async function protocolFor(
  io: Io,
  spec: CaseFile,
  file: string | null,
  check: Check = checkProtocol,
): Promise<Result<Protocol, Problem>> {
  const found =
    file === null
      ? await ownProtocol(spec.protocol)
      : await readDocument(io, file, parseProtocol, 'protocol');
  if (!found.ok) return found;
  const wrong = check(found.value).find((f) => f.level === 'error');
  if (wrong === undefined) return found;
  const { code, place } = wrong;
  const came = findingWords(wrong);
  return err({ code, place, expected: 'a protocol without faults', came });
}

/** What a case is carried out with. */
export interface CaseDocuments {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly tables: PlanTables;
}

/**
 * @param o.protocolPath null: the protocol that the case names.
 * @param o.check as for {@link protocolFor}.
 */
export async function loadDocuments(
  io: Io,
  o: { readonly casePath: string; readonly protocolPath: string | null; readonly check?: Check },
): Promise<Result<CaseDocuments, Problem>> {
  const spec = await readDocument(io, o.casePath, parseCase, 'case');
  if (!spec.ok) return spec;
  const protocol = await protocolFor(io, spec.value, o.protocolPath, o.check);
  if (!protocol.ok) return protocol;
  const tables = await loadPlanTables();
  if (!tables.ok) return tables;
  return ok({ spec: spec.value, protocol: protocol.value, tables: tables.value });
}
