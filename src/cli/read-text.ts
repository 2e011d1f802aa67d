import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import type { Io } from './output.ts';

/** The text of a file, or why it could not be read. */
export async function readText(file: string, io: Io): Promise<Result<string, Problem>> {
  try {
    return ok(await io.readFile(file));
  } catch (thrown) {
    const came = thrown instanceof Error && 'code' in thrown ? thrown.code : thrown;
    return err(problem('file', `a file that can be read at ${file}`, came, 'unreadable'));
  }
}
