/**
 * The curve where it is only known between which two visits a unit failed (Turnbull, J R Stat Soc B
 * 1976;38:290; from memory; checked on Biometrics 1985;41:933). A check beside the main curve where more
 * than 20 % of the failures lie in gaps above 6 months: to date them at the visit flatters whoever is
 * seen less often (Stat Med 2015;34:3181). EM, run until the likelihood condition holds everywhere.
 */
import { present } from '../../base/assert.ts';

/** One life: in place on day `after`, failed by day `by`; equal when exact, null without a failure. */
export interface Between {
  readonly after: number;
  readonly by: number | null;
  /** Day from which it was looked after; 0 unless told. */
  readonly entry?: number;
}

/** A stretch (after, by] in which the curve falls; inside it the curve is not defined. */
export interface Fall {
  readonly after: number;
  /** Null: somewhere after `after`, never seen to fail. */
  readonly by: number | null;
  readonly mass: number;
  /** Share in place after it. */
  readonly survivalAfter: number;
}

export interface Turnbull {
  readonly falls: readonly Fall[];
  readonly rounds: number;
  readonly isConverged: boolean;
}

/** First and last fall, both counted, that a life can have had; `from` is the first since its entry. */
interface Span {
  readonly first: number;
  readonly last: number;
  readonly from: number;
}

/** At the same day a fall ends before the next begins, and an exact day is a fall of no length. */
const EXACT = 0;
const END = 1;
const BEGIN = 2;

interface End {
  readonly day: number;
  readonly rank: number;
}

const beginOf = ({ after, by }: Between): End =>
  after === by ? { day: after, rank: EXACT } : { day: after, rank: BEGIN };
const endOf = ({ by }: Between): End => ({ day: by ?? Number.POSITIVE_INFINITY, rank: END });
const order = (a: End, b: End): number =>
  a.day === b.day ? a.rank - b.rank : a.day < b.day ? -1 : 1;

/** The stretches that can hold mass: a beginning that is followed at once by an end. */
function supports(
  lives: readonly Between[],
): readonly { readonly begin: End; readonly end: End }[] {
  const ends = lives
    .flatMap((life) => [beginOf(life), endOf(life)])
    .sort(order)
    .filter((end, at, all) => at === 0 || order(present(all[at - 1], 'an end'), end) !== 0);
  return ends.flatMap((end, at) => {
    const begin = ends[at - 1];
    return end.rank === END && begin !== undefined && begin.rank !== END ? [{ begin, end }] : [];
  });
}

const MOST_ROUNDS = 200_000;
const CLOSE = 1e-7;
const NO_MASS = 1e-12;

/** Time of a round grows with lives + stretches. */
export function turnbull(lives: readonly Between[]): Turnbull {
  const at = supports(lives);
  const spans = lives.map((life): Span => {
    const [begin, end] = [beginOf(life), endOf(life)];
    const entry = { day: life.entry ?? 0, rank: (life.entry ?? 0) === 0 ? -1 : BEGIN };
    return {
      first: at.findIndex((support) => order(support.begin, begin) >= 0),
      last: at.findLastIndex((support) => order(support.end, end) <= 0),
      from: Math.max(
        0,
        at.findIndex((support) => order(support.begin, entry) >= 0),
      ),
    };
  });
  let mass = new Float64Array(at.length).fill(1 / at.length);
  let rounds = 0;
  let isConverged = at.length < 2;
  for (; !isConverged && rounds < MOST_ROUNDS; rounds += 1) {
    const next = round(mass, spans);
    isConverged = next.farthest < CLOSE;
    mass = next.mass;
  }
  let left = 1;
  const falls = at.flatMap(({ begin, end }, place): readonly Fall[] => {
    const of = mass[place] ?? 0;
    left = Math.max(0, left - of);
    if (of < NO_MASS) return [];
    const by = end.day === Number.POSITIVE_INFINITY ? null : end.day;
    return [{ after: begin.day, by, mass: of, survivalAfter: left }];
  });
  return { falls, rounds, isConverged };
}

/** One round of EM. `farthest` is how far any stretch still is from the likelihood condition. */
function round(
  mass: Float64Array,
  spans: readonly Span[],
): { readonly mass: Float64Array<ArrayBuffer>; readonly farthest: number } {
  const count = mass.length;
  const until = new Float64Array(count + 1);
  mass.forEach((each, at) => {
    until[at + 1] = (until[at] ?? 0) + each;
  });
  // Differences of what every stretch gains; summed up below.
  const gains = new Float64Array(count + 1);
  let missing = 0;
  for (const { first, last, from } of spans) {
    const share = 1 / ((until[last + 1] ?? 0) - (until[first] ?? 0));
    gains[first] = (gains[first] ?? 0) + share;
    gains[last + 1] = (gains[last + 1] ?? 0) - share;
    if (from === 0) continue;
    // Lives that would have failed before this one came under observation (left truncation).
    const unseen = 1 / ((until[count] ?? 1) - (until[from] ?? 0));
    gains[0] = (gains[0] ?? 0) + unseen;
    gains[from] = (gains[from] ?? 0) - unseen;
    missing += unseen - 1;
  }
  const total = spans.length + missing;
  let gain = 0;
  let farthest = 0;
  const next = mass.map((each, at) => {
    gain += gains[at] ?? 0;
    const excess = gain / total - 1;
    // Without mass a stretch may gain less than the others, never more.
    farthest = Math.max(farthest, each < NO_MASS ? excess : Math.abs(excess));
    return (each * gain) / total;
  });
  return { mass: next, farthest };
}
