/**
 * What can go otherwise: the planned order is carried out many times with lengths drawn anew. Windows
 * do not steer the draws; each draw tells which of them it breaks. Times in ms.
 */
import { present } from '../base/assert.ts';
import { realAt } from '../temporal/typed-array.ts';
import type { Bound } from './activity.ts';
import { DrawnLengths, type RiskOptions } from './drawn-lengths.ts';
import { BLOCK_RUNS, DrawnRuns } from './drawn-runs.ts';
import type { Execution } from './execution.ts';
import type { Band, Timeline } from './timeline.ts';

/**
 * Share of the spread that a person's day accounts for. The operator accounted for 57 % in the
 * study named above: between dentists, not between days, so it stands in for a figure nobody has.
 */
const SHARED_SHARE = 0.57;

const DEFAULT_RISK: RiskOptions = { seed: 1, samples: 2000, sharedShare: SHARED_SHARE };

const optionsOf = (options: Partial<RiskOptions> = {}): RiskOptions => ({
  ...DEFAULT_RISK,
  ...options,
});

/** Whether these options give the same risk as none. */
export function isDefaultRisk(options?: Partial<RiskOptions>): boolean {
  const { seed, samples, sharedShare } = optionsOf(options);
  return (
    seed === DEFAULT_RISK.seed &&
    samples === DEFAULT_RISK.samples &&
    sharedShare === DEFAULT_RISK.sharedShare
  );
}

export interface BandRisk {
  /** Id of the band in the timeline. */
  readonly id: string;
  readonly of: string;
  readonly pBroken: number;
  /** Room left in the middle case, and in the worst tenth; negative is late. */
  readonly slackP50Ms: number;
  readonly slackP10Ms: number;
}

export interface Risk {
  readonly options: RiskOptions;
  readonly chair: { readonly meanMs: number; readonly p50Ms: number; readonly p90Ms: number };
  readonly bands: readonly BandRisk[];
  /** By window id (or step id for a dwell): the probability that any of its bands is broken. */
  readonly pBrokenByWindow: Readonly<Record<string, number>>;
  /** Probability that anything is broken at all. */
  readonly pAnyBroken: number;
}

/** The quantile of sorted samples, between neighbours in proportion (Hyndman & Fan 1996, type 7). */
export function quantile(sorted: Float64Array, share: number): number {
  const at = (sorted.length - 1) * share;
  const below = Math.floor(at);
  const low = realAt(sorted, below);
  const high = sorted[below + 1] ?? low;
  return low + (high - low) * (at - below);
}

/** Sums of many lengths carry rounding errors far below this; such a bit is no break. */
const ROUNDING_MS = 1e-3;

/** In how many of the first runs any of these flags is set. */
function countOf(flags: readonly Uint8Array[], runs: number): number {
  let count = 0;
  for (let r = 0; r < runs; r += 1) {
    let isAny = 0;
    for (let f = 0; f < flags.length; f += 1) isAny |= flags[f]?.[r] ?? 0;
    count += isAny;
  }
  return count;
}

/** Collects the outcome of each draw. */
class Tally {
  readonly chairMs: Float64Array;
  readonly slackMs: readonly Float64Array[];
  readonly #bands: readonly Band[];
  readonly #spans: readonly (readonly Bound[])[];
  readonly #windows: readonly string[];
  readonly #windowOf: readonly number[];
  readonly #brokenCount: number[];
  /** By window and run of the block. */
  readonly #isBroken: readonly Uint8Array[];
  readonly #roomMs = new Float64Array(BLOCK_RUNS);
  /** Windows by number of each set that is asked about. */
  readonly #sets: readonly (readonly number[])[];
  readonly brokenOf: number[];
  #anyBroken = 0;

  constructor(bands: readonly Band[], execution: Execution, o: DrawQuestion) {
    const { samples } = o.options;
    this.#bands = bands;
    this.chairMs = new Float64Array(samples);
    this.slackMs = bands.map(() => new Float64Array(samples));
    const { bounds } = execution.activities;
    this.#spans = bands.map((band) => band.bounds.map((index) => present(bounds[index], 'bound')));
    this.#windows = [...new Set(bands.map((b) => b.of))];
    this.#windowOf = bands.map((b) => this.#windows.indexOf(b.of));
    this.#brokenCount = this.#windows.map(() => 0);
    this.#isBroken = this.#windows.map(() => new Uint8Array(BLOCK_RUNS));
    this.#sets = o.sets.map((ids) => ids.map((id) => this.#windows.indexOf(id)));
    this.brokenOf = o.sets.map(() => 0);
  }

  /** Takes in the runs of a block, as far as they are asked for. */
  note(first: number, count: number, runs: DrawnRuns): void {
    for (const flags of this.#isBroken) flags.fill(0);
    const roomMs = this.#roomMs;
    for (const [b, bounds] of this.#spans.entries()) {
      roomMs.fill(Number.POSITIVE_INFINITY);
      for (const bound of bounds) runs.lowerToRoom(bound, roomMs);
      this.slackMs[b]?.set(roomMs.subarray(0, count), first);
      const flags = present(this.#isBroken[this.#windowOf[b] ?? 0], 'window');
      for (let r = 0; r < count; r += 1) if (realAt(roomMs, r) < -ROUNDING_MS) flags[r] = 1;
    }
    this.#isBroken.forEach((flags, w) => {
      this.#brokenCount[w] = (this.#brokenCount[w] ?? 0) + countOf([flags], count);
    });
    this.#anyBroken += countOf(this.#isBroken, count);
    this.#sets.forEach((set, i) => {
      const flags = set.flatMap((w) => this.#isBroken[w] ?? []);
      this.brokenOf[i] = (this.brokenOf[i] ?? 0) + countOf(flags, count);
    });
  }

  risk(options: RiskOptions): Risk {
    const sorted = this.chairMs.toSorted();
    const mean = sorted.reduce((sum, ms) => sum + ms, 0) / Math.max(1, sorted.length);
    const share = (count: number): number => count / Math.max(1, options.samples);
    const bands = this.#bands.map((band, b): BandRisk => {
      const slack = present(this.slackMs[b], 'band').toSorted();
      const late = slack.findIndex((ms) => ms >= -ROUNDING_MS);
      const pBroken = share(late < 0 ? slack.length : late);
      const slackP50Ms = quantile(slack, 0.5);
      return { id: band.id, of: band.of, pBroken, slackP50Ms, slackP10Ms: quantile(slack, 0.1) };
    });
    const byWindow = this.#windows.map((of, w) => [of, share(this.#brokenCount[w] ?? 0)] as const);
    return {
      options,
      chair: { meanMs: mean, p50Ms: quantile(sorted, 0.5), p90Ms: quantile(sorted, 0.9) },
      bands,
      pBrokenByWindow: Object.fromEntries(byWindow),
      pAnyBroken: share(this.#anyBroken),
    };
  }
}

type Drawable = {
  readonly execution: Execution;
  readonly timeline: Pick<Timeline, 'bands' | 'startMs'>;
};

/** What is asked of the draws beside the risk itself. */
interface DrawQuestion {
  readonly options: RiskOptions;
  /** Ids of limits; of each set, in how many draws any of its limits is broken. */
  readonly sets: readonly (readonly string[])[];
  /** No more is drawn once every set was broken so often. */
  readonly stopAt?: number;
}

export interface Drawn {
  /** By set: how many of the draws broke any of its limits. */
  readonly brokenOf: readonly number[];
  /** Null when the drawing was stopped. */
  readonly risk: Risk | null;
}

function draw(plan: Drawable, o: DrawQuestion): Drawn {
  const { execution, timeline } = plan;
  const { options, stopAt } = o;
  const runs = new DrawnRuns(execution);
  const lengths = new DrawnLengths(execution, runs, options);
  const tally = new Tally(timeline.bands, execution, o);
  const { brokenOf } = tally;
  for (let first = 0; first < options.samples; first += BLOCK_RUNS) {
    const count = Math.min(BLOCK_RUNS, options.samples - first);
    lengths.draw(first);
    runs.run();
    for (let r = 0; r < count; r += 1) {
      tally.chairMs[first + r] = realAt(runs.endMs, r) - timeline.startMs;
    }
    tally.note(first, count, runs);
    if (stopAt !== undefined && brokenOf.every((broken) => broken >= stopAt)) {
      return { brokenOf, risk: null };
    }
  }
  return { brokenOf, risk: tally.risk(options) };
}

/** The risk of a plan: the same for the same seed, wherever it is computed. */
export function riskOf(plan: Drawable, options: Partial<RiskOptions> = {}): Risk {
  const { risk } = draw(plan, { options: optionsOf(options), sets: [] });
  return present(risk, 'risk');
}

/** The risk, and how often any limit of each set is broken; see {@link DrawQuestion}. */
export function drawSets(
  plan: Drawable,
  o: Omit<DrawQuestion, 'options'> & { readonly options?: Partial<RiskOptions> },
): Drawn {
  return draw(plan, { ...o, options: optionsOf(o.options) });
}
