import { createReadStream } from 'node:fs';
import type { Readable } from 'node:stream';
import { TEXT_LENGTH_MAX } from '../base/caps.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import type { Io } from './output.ts';

/** More was there than is read of any such file. */
class TooLarge extends Error {
  readonly code = 'too-large';
}

const MILLION = 1_000_000;
/** Characters of a path that a refusal shows. */
const PATH_SHOWN_MAX = 200;

/**
 * The text of a file, "-" for standard input. What is longer, or never ends, is not read to its end.
 * @throws TooLarge, and what the system says of a file that cannot be read.
 */
export async function readFileUpTo(path: string, lengthMax: number): Promise<string> {
  const source: Readable = path === '-' ? process.stdin : createReadStream(path);
  const decoder = new TextDecoder('utf-8', { ignoreBOM: true });
  const parts: string[] = [];
  let length = 0;
  for await (const piece of source) {
    const chunk: Uint8Array = piece;
    const part = decoder.decode(chunk, { stream: true });
    length += part.length;
    if (length > lengthMax) throw new TooLarge();
    parts.push(part);
  }
  return parts.join('') + decoder.decode();
}

/** The text of a file, or why it could not be read. `lengthMax` in UTF-16 code units. */
export async function readText(
  file: string,
  io: Io,
  lengthMax: number = TEXT_LENGTH_MAX,
): Promise<Result<string, Problem>> {
  try {
    return ok(await io.readFile(file, lengthMax));
  } catch (thrown) {
    if (thrown instanceof TooLarge) {
      const expected = `a file of at most ${lengthMax / MILLION} MB`;
      return err({ code: 'too-large', place: 'file', expected, came: 'more' });
    }
    const at = file.length <= PATH_SHOWN_MAX ? file : `${file.slice(0, PATH_SHOWN_MAX)}…`;
    const came = thrown instanceof Error && 'code' in thrown ? thrown.code : thrown;
    return err(problem('file', `a file that can be read at ${at}`, came, 'unreadable'));
  }
}
