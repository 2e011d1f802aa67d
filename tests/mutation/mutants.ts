/**
 * Which mutants there are, which of them a sample takes, and what share of them the tests kill. A
 * mutant is one small change of the code, such as `<` made `<=`.
 */
import { createHash } from 'node:crypto';
import type { MutantStatus } from '@stryker-mutator/api/core';

/** A place in a file; lines and columns count from 0. */
interface Position {
  readonly line: number;
  readonly column: number;
}

export interface MutantPlace {
  /** From the top of the project, with slashes. */
  readonly fileName: string;
  readonly location: { readonly start: Position; readonly end: Position };
  readonly mutatorName: string;
  readonly replacement?: string | undefined;
}

/** Texts are left out: they are told to people, or to developers by assertions, and are not decisions. */
export const LEFT_OUT = 'StringLiteral';

/** What tells one mutant from all others of a folder; `sample-checker.mjs` makes the same text. */
export function mutantKey(mutant: MutantPlace): string {
  const { start, end } = mutant.location;
  const where = [start.line, start.column, end.line, end.column].join(':');
  return [mutant.fileName, where, mutant.mutatorName, mutant.replacement ?? ''].join('|');
}

/**
 * Chooses `size` of the mutants. Each is drawn by the hash of the seed and of its own place, so that
 * the choice is the same on every machine and does not depend on the order of the list.
 */
export function sampleOf<M extends MutantPlace>(
  mutants: readonly M[],
  { size, seed }: { readonly size: number; readonly seed: number },
): readonly M[] {
  const drawn = mutants.map((mutant) => ({
    mutant,
    draw: createHash('sha256')
      .update(`${seed}|${mutantKey(mutant)}`)
      .digest('hex'),
  }));
  drawn.sort((a, b) => (a.draw < b.draw ? -1 : a.draw > b.draw ? 1 : 0));
  return drawn.slice(0, size).map(({ mutant }) => mutant);
}

/** How the tool is told a part of a file: lines from 1, columns from 0. */
export function rangeOf({ fileName, location: { start, end } }: MutantPlace): string {
  return `${fileName}:${start.line + 1}:${start.column}-${end.line + 1}:${end.column}`;
}

export interface Score {
  readonly mutants: number;
  readonly killed: number;
  readonly timeout: number;
  readonly survived: number;
  readonly noCoverage: number;
  /** Switched off by a comment in the code. */
  readonly ignored: number;
  /** No test failed, but a file of tests could not be loaded, or an error came from outside a test. */
  readonly broken: number;
  /** Killed, timed out and broken, in percent of all; everything else counts as alive. */
  readonly score: number;
}

/** Counts the outcomes. Nothing is taken out of the whole: what was not shown to be noticed is alive. */
export function scoreOf(statuses: readonly MutantStatus[]): Score {
  const count = (wanted: MutantStatus): number =>
    statuses.filter((status) => status === wanted).length;
  const killed = count('Killed');
  const timeout = count('Timeout');
  const broken = count('RuntimeError');
  const mutants = statuses.length;
  return {
    mutants,
    killed,
    timeout,
    survived: count('Survived'),
    noCoverage: count('NoCoverage'),
    ignored: count('Ignored'),
    broken,
    score: mutants === 0 ? 0 : Math.round((1000 * (killed + timeout + broken)) / mutants) / 10,
  };
}
