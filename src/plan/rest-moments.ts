/**
 * When the patient may rest: moments of a plan at which no hands are at work, no uncured resin lies open and no
 * limit is open that a pause of five minutes would break. Where the field is not isolated the patient may rinse as well.
 * Pure; times in ms on the case axis, from the planned lengths.
 */
import type { SubjectId } from '../protocol/subjects.ts';
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
type EdgedBand = Band & {
  readonly fromStep: string;
  readonly toStep: string;
  /** Uncured resin lies open in it. */
  readonly amber: boolean;
};

function edgedOf(band: Band, { windows, steps }: Protocol): EdgedBand {
  const window = windows.find(({ id }) => band.what === 'window' && id === band.of);
  if (window) {
    const amber = window.amber ?? false;
    return { ...band, fromStep: window.from.step, toStep: window.to.step, amber };
  }
  const step = steps.find(({ id }) => id === band.of);
  return { ...band, fromStep: step?.beginsWith ?? band.of, toStep: band.of, amber: false };
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

interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

/** When something acts by the clock, from its first touch to its last, by step and round. */
function actingSpans(bars: readonly Bar[], protocol: Protocol): readonly Span[] {
  const dwells = protocol.steps.filter((s) => s.action.kind === 'dwell').map((s) => s.id);
  const spans = new Map<string, Span>();
  for (const bar of bars) {
    if (!dwells.includes(bar.step)) continue;
    const key = `${bar.step} ${bar.round}`;
    const { fromMs, toMs } = spans.get(key) ?? { fromMs: bar.startMs, toMs: bar.endMs };
    const span = { fromMs: Math.min(fromMs, bar.startMs), toMs: Math.max(toMs, bar.endMs) };
    spans.set(key, span);
  }
  return [...spans.values()];
}

/** The first bar of each moment at which some work begins, in time order. */
function startsOf(work: readonly Bar[]): readonly Bar[] {
  const starts = new Map<number, Bar>();
  for (const bar of work) if (!starts.has(bar.startMs)) starts.set(bar.startMs, bar);
  return [...starts.values()];
}

/**
 * Each moment at which some work begins, in time order: what a pause before it would do, or null where
 * it would break a limit, uncured resin lies open, or something acts.
 */
function judged({ bars, bands }: Drawn, protocol: Protocol, isClosed: boolean) {
  const fields = new Map(protocol.steps.flatMap(({ id, field }) => (field ? [[id, field]] : [])));
  // What begins with the press that ends another thing cannot be put off by itself.
  const joined = new Set(protocol.steps.filter((s) => s.beginsWith).map((s) => s.id));
  const work = bars.filter((bar) => bar.part !== 'wait').toSorted((a, b) => a.startMs - b.startMs);
  const edged = bands.map((band) => edgedOf(band, protocol));
  const acting = actingSpans(bars, protocol);
  return startsOf(work).map((bar): RestMoment | null => {
    const atMs = bar.startMs;
    const isBusy =
      work.some((other) => other.startMs < atMs && other.endMs > atMs) ||
      acting.some(({ fromMs, toMs }) => fromMs < atMs && toMs > atMs);
    const same = work.filter((other) => isSame(other.startMs, atMs));
    const start = { atMs, steps: new Set(same.map((other) => other.step)) };
    const isHeld =
      same.some((other) => joined.has(other.step)) ||
      edged.some((band) => isOpen(band, start) && (band.amber || band.slackMs < REST_MS));
    if (isBusy || isHeld) return null;
    const isTold = bars.some((each) => each.endMs <= atMs && fields.has(each.step));
    const closed = isTold ? isFieldClosed(bars, fields, atMs) : isClosed;
    return { atMs, step: bar.step, subjects: bar.subjects, mayRinse: !closed };
  });
}

/**
 * The moments before each piece of work at which a pause breaks nothing, in time order.
 * @param isClosed whether the field is isolated where the plan begins.
 */
export function restMoments(
  drawn: Drawn,
  protocol: Protocol,
  isClosed = false,
): readonly RestMoment[] {
  return judged(drawn, protocol, isClosed).flatMap((moment) => moment ?? []);
}

/** Moments that follow one another without one between at which no pause is possible. */
export interface RestStretch {
  readonly first: RestMoment;
  readonly last: RestMoment;
  readonly mayRinse: boolean;
}

/** The same moments, those in a row told together. */
export function restStretches(drawn: Drawn, protocol: Protocol): readonly RestStretch[] {
  const stretches: RestStretch[] = [];
  let before: RestMoment | null = null;
  for (const moment of judged(drawn, protocol, false)) {
    const open = stretches.at(-1);
    if (moment !== null) {
      const { mayRinse } = moment;
      const goesOn = before !== null && open?.mayRinse === mayRinse;
      const stretch = { first: goesOn ? open.first : moment, last: moment, mayRinse };
      if (goesOn) stretches.pop();
      stretches.push(stretch);
    }
    before = moment;
  }
  return stretches;
}
