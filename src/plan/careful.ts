/**
 * The careful plan: of every grouping that is open, the fewest groups whose chance of breaking the
 * limits they decide is under a share, on the same draws; where no way is under it, the least risky.
 * Larger groups break their limits more often, so that the ways are not all tried: the search leaps
 * from the fewest groups upwards and halves what lies between. What breaks too often is drawn only
 * until that is certain. Times in ms.
 */
import { present } from '../base/assert.ts';
import type { RunPlan } from '../engine/run-plan-types.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { Protocol } from '../protocol/types.ts';
import type { OpenGrouping } from './open-groupings.ts';
import { openingState } from './opening-state.ts';
import { type Projected, projectCase } from './project-case.ts';
import { drawSets, type Risk } from './risk.ts';

/** Chance that a grouping may have of breaking its limits, where nobody says otherwise. A design choice. */
const RISK_MAX = 0.05;

export interface CarefulGroups {
  readonly kind: OpenGrouping['kind'];
  readonly step: string | null;
  readonly limits: readonly string[];
  readonly sizes: readonly number[];
  /** The fewest groups that keep the limits at the usual pace. */
  readonly fewest: readonly number[];
  /** Share of the draws in which any of the limits is broken. */
  readonly pBroken: number;
  /** False where no way of grouping is under the share that is asked for. */
  readonly isUnder: boolean;
}

export interface Careful {
  readonly riskMax: number;
  /** Draws that it was decided on, and their seed. */
  readonly samples: number;
  readonly seed: number;
  /** Expected chair time beyond that of the fewest groups. */
  readonly priceMs: number;
  /** Nothing for what people chose themselves. */
  readonly groups: readonly CarefulGroups[];
}

/** Always the same draws, whatever seed a risk is asked for with: a case opens on one plan. */
const DRAWS = { seed: 1, samples: 2000 };

/** What a plan was found to risk; the risk itself is null when the drawing was stopped. */
interface Probe {
  readonly plan: RunPlan;
  readonly projected: Projected;
  readonly brokenOf: readonly number[];
  readonly risk: Risk | null;
}

/** One grouping in the search, by the place of its ways. */
interface Place {
  readonly last: number;
  /** The furthest way that is known to be too risky, and the nearest beyond it that is not. */
  tooRisky: number;
  under: number | null;
  leap: number;
  at: number;
}

/** Takes in whether the way at which a grouping stands is too risky, and goes to the next to try. */
function step(place: Place, isTooRisky: boolean): void {
  if (isTooRisky) {
    place.tooRisky = Math.max(place.tooRisky, place.at);
    if (place.under !== null && place.under <= place.tooRisky) place.under = null;
  } else place.under = place.at;
  const { tooRisky, under, last, leap } = place;
  if (under !== null) {
    place.at = under - tooRisky <= 1 ? under : (tooRisky + under) >> 1;
    return;
  }
  place.at = Math.min(last, tooRisky + leap);
  place.leap = leap * 2;
}

interface CarefulInput {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  /** With the fewest groups everywhere. */
  readonly fewest: RunPlan;
  readonly open: readonly OpenGrouping[];
}

class CarefulSearch {
  readonly #o: CarefulInput;
  readonly #places: readonly Place[];
  readonly #probes = new Map<string, Probe>();
  readonly #tooOften: number;
  readonly #riskMax: number;

  constructor(o: CarefulInput) {
    this.#o = o;
    this.#riskMax = o.spec.riskMax ?? RISK_MAX;
    this.#tooOften = this.#riskMax * DRAWS.samples;
    this.#places = o.open.map(({ ways }) => ({
      last: ways.length - 1,
      tooRisky: -1,
      under: null,
      leap: 1,
      at: 0,
    }));
  }

  #planAt(at: readonly number[]): RunPlan {
    const { fewest, open } = this.#o;
    const ways = open.flatMap(({ ways }, i) => ways[at[i] ?? 0] ?? []);
    const rounds = ways.flatMap((way) => Object.entries(way.rounds ?? {}));
    return {
      ...fewest,
      mixes: ways.find(({ mixes }) => mixes !== undefined)?.mixes ?? fewest.mixes,
      rounds: { ...fewest.rounds, ...Object.fromEntries(rounds) },
    };
  }

  /** Plans and draws the ways at these places; `stopAt`: see the question to the draws. */
  #probe(at: readonly number[], stopAt?: number): Probe {
    const key = at.join(' ');
    const known = this.#probes.get(key);
    if (known !== undefined && (known.risk !== null || stopAt !== undefined)) return known;
    const { spec, protocol, open } = this.#o;
    const plan = this.#planAt(at);
    const projected =
      known?.projected ?? projectCase({ state: openingState({ spec, protocol, plan }), nowMs: 0 });
    const sets = open.map(({ limits }) => limits);
    const more = stopAt === undefined ? {} : { stopAt };
    const found = { plan, projected, ...drawSets(projected, { sets, options: DRAWS, ...more }) };
    this.#probes.set(key, found);
    return found;
  }

  run(): { readonly careful: Careful; readonly probe: Probe } {
    const fewest = this.#probe(
      this.#places.map(() => 0),
      this.#tooOften,
    );
    for (let hasMoved = true; hasMoved; ) {
      const at = this.#places.map((place) => place.at);
      const { brokenOf } = this.#probe(at, this.#tooOften);
      this.#places.forEach((place, i) => {
        step(place, (brokenOf[i] ?? 0) >= this.#tooOften);
      });
      hasMoved = this.#places.some((place, i) => place.at !== at[i]);
    }
    this.#places.forEach((place, i) => {
      if (place.under === null) place.at = this.#leastRisky(i);
    });
    const probe = this.#probe(this.#places.map((place) => place.at));
    return { probe, careful: this.#told(fewest, probe) };
  }

  /** From each alone towards fewer groups, until twice in a row it only gets worse. */
  #leastRisky(grouping: number): number {
    const at = this.#places.map((place) => place.at);
    const last = present(this.#places[grouping], 'grouping').last;
    let best = { at: last, broken: Number.POSITIVE_INFINITY };
    for (let way = last, worse = 0; way >= 0 && worse < 2; way -= 1) {
      at[grouping] = way;
      const broken = this.#probe(at).brokenOf[grouping] ?? 0;
      worse = broken > best.broken ? worse + 1 : 0;
      if (broken <= best.broken) best = { at: way, broken };
    }
    return best.at;
  }

  #told(fewest: Probe, { brokenOf, projected }: Probe): Careful {
    const groups = this.#o.open.map((each, i): CarefulGroups => {
      const { kind, step: leader, limits, ways } = each;
      const broken = brokenOf[i] ?? 0;
      return {
        kind,
        step: leader,
        limits,
        sizes: ways[this.#places[i]?.at ?? 0]?.sizes ?? [],
        fewest: ways[0]?.sizes ?? [],
        pBroken: broken / DRAWS.samples,
        isUnder: broken < this.#tooOften,
      };
    });
    const priceMs = projected.timeline.chairMs - fewest.projected.timeline.chairMs;
    return { riskMax: this.#riskMax, ...DRAWS, priceMs, groups };
  }
}

/** The careful plan, what it risks, and how it was decided. */
export function carefulPlan(o: CarefulInput): {
  readonly careful: Careful;
  readonly drawn: Probe | null;
} {
  if (o.open.length === 0) {
    const riskMax = o.spec.riskMax ?? RISK_MAX;
    return { careful: { riskMax, ...DRAWS, priceMs: 0, groups: [] }, drawn: null };
  }
  const { careful, probe } = new CarefulSearch(o).run();
  return { careful, drawn: probe };
}
