/** The documents that a command is given, and the protocol of the project that a case names. */
import { readdir, readFile } from 'node:fs/promises';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import { checkProtocol } from '../protocol/check-protocol.ts';
import { parseJsonText } from '../protocol/json-text.ts';
import { parseProtocol } from '../protocol/parse-protocol.ts';
import type { Protocol } from '../protocol/types.ts';
import type { Io } from './output.ts';
import { readText } from './read-text.ts';
import { findingWords } from './words.ts';

/** Reads and parses one file, or says what is wrong with it first of all. */
export async function readDocument<T>(
  io: Io,
  file: string,
  parse: (value: unknown) => Result<T, readonly Problem[]>,
): Promise<Result<T, Problem>> {
  const text = await readText(file, io);
  if (!text.ok) return text;
  const json = parseJsonText(text.value, 'file');
  if (!json.ok) return json;
  const parsed = parse(json.value);
  if (parsed.ok) return parsed;
  return err(parsed.error[0] ?? problem('file', 'a document', undefined));
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
  return err(problem('case.protocol', 'a protocol of this project, or --protocol FILE', id));
}

/**
 * The protocol that a case is done by, from a file or else the project's own, without faults.
 * @param file null where none was named.
 */
export async function protocolFor(
  io: Io,
  spec: CaseFile,
  file: string | null,
): Promise<Result<Protocol, Problem>> {
  const found =
    file === null ? await ownProtocol(spec.protocol) : await readDocument(io, file, parseProtocol);
  if (!found.ok) return found;
  const wrong = checkProtocol(found.value).find((f) => f.level === 'error');
  if (wrong === undefined) return found;
  const { code, place } = wrong;
  const came = findingWords(wrong);
  return err({ code, place, expected: 'a protocol without faults', came });
}
