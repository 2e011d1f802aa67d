/** What every part of a record page needs: the facts that all forms of the record share, and names. Pure. */
import type { CaseLog } from '../../../engine/log.ts';
import type { RecordSource } from '../../../export/export-source.ts';
import { recordFacts } from '../../../export/record-facts.ts';
import type { InstantFact, RecordFacts } from '../../../export/record-types.ts';
import { instantOf, type Times, timesIn } from '../../../words/date-words.ts';
import { formatWords } from '../../../words/duration.ts';
import { languageTag } from '../../../words/language.ts';
import { recordWords } from '../../../words/record-words.ts';
import type { CaseNaming } from '../../../words/step-texts.ts';

export interface RecordFrame {
  readonly facts: RecordFacts;
  readonly log: CaseLog;
  readonly scene: CaseNaming;
  /** Wall clock of the opening, in ms; the case axis counts from here. */
  readonly openedWallMs: number;
  /** Moments in the zone of the case. */
  readonly times: Times;
}

export function recordFrame(source: RecordSource): RecordFrame {
  const { log } = source;
  const { spec, protocol } = log.state.opened;
  const facts = recordFacts(source);
  const times = timesIn({ zone: facts.zone.name, language: languageTag() });
  const openedWallMs = wallOf(facts.openedUtc);
  return { facts, log, scene: { spec, protocol }, openedWallMs, times };
}

/** Wall clock in ms of an instant that a fact tells. */
export const wallOf = (utc: string): number => instantOf(utc) ?? 0;

/** "09:14:03" of an instant that a fact tells as UTC. */
export const clockWords = ({ times }: Pick<RecordFrame, 'times'>, utc: string): string =>
  times.second(wallOf(utc));

/** "09:14:03", or "09:14:03 to 09:14:51" when the clocks left it open. */
export function instantWords(
  frame: Pick<RecordFrame, 'times'>,
  { fromUtc, toUtc }: InstantFact,
): string {
  const lo = clockWords(frame, fromUtc);
  if (toUtc === null) return recordWords.orLater(lo);
  const hi = clockWords(frame, toUtc);
  return lo === hi ? lo : recordWords.fromTo({ from: lo, to: hi });
}

/** "+38 s" or "−12 s": how much was left of a limit. */
export function marginWords(marginMs: number): string {
  const words = formatWords(Math.abs(marginMs), marginMs < 0 ? 'up' : 'down');
  return `${marginMs < 0 ? '\u2212' : '+'}${words}`;
}
