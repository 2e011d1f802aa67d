/**
 * When the patient may rest: moments of a plan at which no hands are at work and no limit is open that
 * a pause of five minutes would break. Where the field is not isolated the patient may rinse as well.
 * Pure; times in ms on the case axis, from the planned lengths.
 */
import type { SubjectId } from '../engine/types.ts';
import type { Protocol } from '../protocol/types.ts';
import type { Band, Bar, Timeline } from './timeline.ts';

/** How long a pause is meant. Common practice, no source. */
export const REST_MS = 300_000;

export interface RestMoment {
  readonly atMs: number;
  /** What comes after the pause. */
  readonly step: string;
  readonly subjects: readonly SubjectId[];
  /** The field is open, so that the mouth can be rinsed. */
  readonly mayRinse: boolean;
}

type Drawn = Pick<Timeline, 'bars' | 'bands'>;

/** A band with the steps that open and close it. */
type EdgedBand = Band & { readonly fromStep: string; readonly toStep: string };

function edgedOf(band: Band, { windows, steps }: Protocol): EdgedBand {
  const window = windows.find(({ id }) => band.what === 'window' && id === band.of);
  if (window) return { ...band, fromStep: window.from.step, toStep: window.to.step };
  const step = steps.find(({ id }) => id === band.of);
  return { ...band, fromStep: step?.beginsWith ?? band.of, toStep: band.of };
}

/** Whether the last step before this moment that says something of the field closed it. */
function isFieldClosed(bars: readonly Bar[], fields: ReadonlyMap<string, string>, atMs: number) {
  const told = bars.filter((bar) => bar.endMs <= atMs && fields.has(bar.step));
  const last = told.reduce<Bar | null>((a, b) => (a === null || b.endMs >= a.endMs ? b : a), null);
  return last !== null && fields.get(last.step) === 'closes';
}

/** Two moments of one plan that are the same but for rounding. */
const isSame = (a: number, b: number): boolean => Math.abs(a - b) < 1;

/**
 * Whether a limit is open in the pause before what starts at a moment. One that this work itself opens
 * is not yet; one that it closes by beginning still is.
 */
function isOpen(
  band: EdgedBand,
  start: { readonly atMs: number; readonly steps: ReadonlySet<string> },
) {
  const { atMs, steps } = start;
  const isBegun = isSame(band.fromMs, atMs) ? !steps.has(band.fromStep) : band.fromMs < atMs;
  return isBegun && (isSame(band.toMs, atMs) ? steps.has(band.toStep) : band.toMs > atMs);
}

/**
 * The moments before each piece of work at which a pause breaks nothing, in time order.
 * @param isClosed whether the field is isolated where the plan begins.
 */
export function restMoments(
  { bars, bands }: Drawn,
  protocol: Protocol,
  isClosed = false,
): readonly RestMoment[] {
  const fields = new Map(protocol.steps.flatMap(({ id, field }) => (field ? [[id, field]] : [])));
  const work = bars.filter((bar) => bar.part !== 'wait').toSorted((a, b) => a.startMs - b.startMs);
  const edged = bands.map((band) => edgedOf(band, protocol));
  const starts = new Map<number, Bar>();
  for (const bar of work) if (!starts.has(bar.startMs)) starts.set(bar.startMs, bar);
  return [...starts.values()].flatMap((bar): RestMoment[] => {
    const atMs = bar.startMs;
    const isBusy = work.some((other) => other.startMs < atMs && other.endMs > atMs);
    const same = work.filter((other) => isSame(other.startMs, atMs));
    const start = { atMs, steps: new Set(same.map((other) => other.step)) };
    const isHeld = edged.some((band) => isOpen(band, start) && band.slackMs < REST_MS);
    if (isBusy || isHeld) return [];
    const isTold = bars.some((each) => each.endMs <= atMs && fields.has(each.step));
    const closed = isTold ? isFieldClosed(bars, fields, atMs) : isClosed;
    return [{ atMs, step: bar.step, subjects: bar.subjects, mayRinse: !closed }];
  });
}
