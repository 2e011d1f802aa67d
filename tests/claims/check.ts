/** One claim of the chair, judged by the log. */
import type { CaseInstant } from '../../src/engine/types.ts';
import type { Cue } from '../../src/engine/view-types.ts';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import type { Drawn } from './drawn-chair.tsx';
import type { Limit, PlainLog } from './plain-log.ts';

export interface Scene {
  readonly running: RunningCase;
  readonly plain: PlainLog;
  readonly now: CaseInstant;
  readonly limits: readonly Limit[];
  readonly drawn: Drawn;
  readonly far: Drawn;
  readonly line: Drawn;
  /** What the voice would say of each cue. */
  readonly spoken: readonly { readonly cue: Cue; readonly words: string | null }[];
  /** Entries of the words whose text stands or is heard in any of these. */
  readonly read: ReadonlySet<string>;
}

export interface Check {
  readonly name: string;
  /** Entries that it judges; one that ends in a full stop means all below it. */
  readonly entries: readonly string[];
  /** What is drawn and not borne out; empty where all is true. */
  readonly complaints: (scene: Scene) => readonly string[];
}

export const isOf = ({ entries }: Check, entry: string): boolean =>
  entries.some((each) => (each.endsWith('.') ? entry.startsWith(each) : each === entry));

/** Whether a pass of light is in hand. */
export const isPass = ({ view: { pass, attention } }: RunningCase): boolean =>
  pass !== null || attention.inHand?.kind.startsWith('pass-') === true;

/**
 * The same, but for the pictures of a pass of light: the place that tones lead through now is not read from
 * the raw log yet. Single cases: tests/ui-screens/chair-pass.test.tsx.
 */
export const butPasses = (check: Check): Check => ({
  ...check,
  complaints: (scene) => (isPass(scene.running) ? [] : check.complaints(scene)),
});
