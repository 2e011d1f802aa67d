/**
 * What every verb of the command line shares: the way to the outside, and how answers and
 * problems are written. Exit codes: 0 done, 1 findings, 2 bad input.
 */
import { type Problem, problemLine } from '../base/problem.ts';
import { escapeLine, escapeUnseen } from '../base/unseen.ts';

export type ExitCode = 0 | 1 | 2;

/** The outside as a verb sees it; tests hand in their own. */
export interface Io {
  /**
   * Reads a text file; "-" reads standard input. Rejects when the file cannot be read, and may when
   * it is longer than `lengthMax` UTF-16 code units.
   */
  readonly readFile: (path: string, lengthMax: number) => Promise<string>;
  readonly stdout: (text: string) => void;
  readonly stderr: (text: string) => void;
}

/** A verb module: `src/cli/<verb>-verb.ts`. */
export interface Verb {
  readonly run: (args: readonly string[], io: Io) => Promise<ExitCode>;
}

/**
 * The same outside, which gets no character that moves the cursor of a terminal or turns the
 * direction of text: those are written as JSON escapes, so that JSON stays the JSON it was.
 */
export function escapingIo(io: Io): Io {
  return {
    readFile: io.readFile,
    stdout: (text) => io.stdout(escapeUnseen(text)),
    stderr: (text) => io.stderr(escapeUnseen(text)),
  };
}

/** Writes exactly one line to standard error and gives exit code 2. */
export function refuse(io: Io, fault: Problem): 2 {
  io.stderr(`${escapeLine(problemLine(fault))}\n`);
  return 2;
}

function shown(value: unknown): string {
  return typeof value === 'string' ? value : JSON.stringify(value);
}

/** Lines `key: value`, lists of objects one entry a line. */
function readable(answer: Readonly<Record<string, unknown>>): string {
  return Object.entries(answer)
    .map(([key, value]) =>
      Array.isArray(value) && value.some((each) => typeof each === 'object')
        ? [`${key}:`, ...value.map((each) => `  ${shown(each)}`)].join('\n')
        : `${key}: ${shown(value)}`,
    )
    .join('\n');
}

/** Writes an answer as one JSON document, or as lines for people. */
export function writeAnswer(
  io: Io,
  answer: Readonly<Record<string, unknown>>,
  options: { readonly asJson: boolean },
): void {
  io.stdout(`${options.asJson ? JSON.stringify(answer, null, 2) : readable(answer)}\n`);
}
