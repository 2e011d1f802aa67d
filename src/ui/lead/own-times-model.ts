/** Own paces as figures of a protocol, with what stands behind them: how many, on which days, how far apart. */
import { OWN_PACE_COUNT_MIN, OWN_SPREAD_COUNT_MIN } from '../../plan/own-paces.ts';
import { replayEdits } from '../../protocol/edit.ts';
import type { Edit } from '../../protocol/edit-types.ts';
import type { Basis, Protocol, Step } from '../../protocol/types.ts';
import type { OwnPace, StepTimes } from '../../runtime/lead/lead-own-times.ts';
import { formatWords } from '../../words/duration.ts';
import { ownTimesWords } from '../../words/own-times-words.ts';
import { dayIn, type ZoneName } from '../../words/zone.ts';

/** A length for a text that is kept in the document: plain blanks. */
const written = (ms: number): string => formatWords(ms).replaceAll('\u00a0', ' ');

/** Those that enough presses stand behind. */
export const paced = (steps: readonly StepTimes[]): readonly StepTimes[] =>
  steps.filter(({ pace }) => pace !== null && pace.count >= OWN_PACE_COUNT_MIN);

interface Noted {
  readonly zone: ZoneName;
  /** The day it is taken over, `2026-11-27`. */
  readonly on: string;
}

/** Their own 90th percentile where they are many enough, else the spread that the step has already. */
function slowMs({ pace }: Step, own: OwnPace): number {
  if (own.count >= OWN_SPREAD_COUNT_MIN) return own.p90Ms;
  return Math.round(own.medianMs * Math.max(1, pace.p90Ms.value / pace.medianMs.value));
}

function basisOf(own: OwnPace, { zone, on }: Noted): Basis {
  const days = [...new Set(own.openedAtMs.map((ms) => dayIn(ms, zone)))];
  const note = ownTimesWords.note({
    count: own.count,
    cases: own.openedAtMs.length,
    days: days.length,
    first: days[0] ?? on,
    last: days.at(-1) ?? on,
    median: written(own.medianMs),
    p90: written(own.p90Ms),
    least: written(own.leastMs),
    most: written(own.mostMs),
    on,
  });
  const isSpread = own.count >= OWN_SPREAD_COUNT_MIN;
  return { kind: 'practice', note: isSpread ? note : ownTimesWords.noteSpreadKept(note) };
}

function editsOf({ step, pace }: StepTimes, noted: Noted): readonly Edit[] {
  if (pace === null) return [];
  const spot = (key: 'pace.perSubjectMs' | 'pace.medianMs' | 'pace.p90Ms') =>
    ({ part: 'steps', id: step.id, key }) as const;
  const basis = basisOf(pace, noted);
  const set = (key: 'pace.medianMs' | 'pace.p90Ms', value: number): Edit => ({
    do: 'set-figure',
    spot: spot(key),
    figure: { value, basis },
  });
  // What was recorded is the whole press: no part per subject is added to it.
  const cleared: Edit[] =
    step.pace.perSubjectMs === undefined ? [] : [{ do: 'clear', spot: spot('pace.perSubjectMs') }];
  return [...cleared, set('pace.medianMs', pace.medianMs), set('pace.p90Ms', slowMs(step, pace))];
}

/** The protocol with these paces; null where one of them does not fit it. */
export function withPaces(
  protocol: Protocol,
  steps: readonly StepTimes[],
  noted: Noted,
): Protocol | null {
  const own = steps.flatMap((times) => {
    const step = protocol.steps.find(({ id }) => id === times.step.id);
    return step === undefined ? [] : editsOf({ ...times, step }, noted);
  });
  const done = replayEdits(protocol, own);
  return done.ok ? done.value : null;
}
