/**
 * What a seed draws: mishaps, foils and interruptions, each at a moment that no press tells. Pure: the same case,
 * protocol, plan and seed give the same drill on every machine. Numbers are of this project, no source.
 */
import { edgeInstant } from '../engine/edge-instant.ts';
import { layoutOf } from '../engine/layout.ts';
import { type Dice, diceOf, uniform } from '../plan/random.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { Mishap } from '../protocol/types.ts';
import type { DrillCard, DrillMoment, DrillPlan } from './drill-types.ts';
import type { DrillCase } from './hands.ts';
import { canHappen, canHappenFrom } from './quiet.ts';
import { FOILS, sightOf } from './sights.ts';
import { type IdealCourse, idealCourse, type Span } from './spans.ts';

/** In one drill of so many nothing goes wrong. */
const NOTHING_IN = 6;
/** Two cards are at least so far apart. */
export const APART_MS = 20_000;
/** The drill begins between so long before the first card … */
const LEAD_MS = { least: 45_000, most: 150_000 };
/** … and goes on so long after it. */
const TAIL_MS = 240_000;
/** A span that is shorter leaves no room for a moment that no press tells. */
const SPAN_LEAST_MS = 2000;
/** Kinds that are asked for are drawn so much more often. */
const TOWARD = 6;
const AWAY_MS = { least: 20_000, most: 60_000 };

export interface DrawInput extends DrillCase {
  readonly seed: number;
  /** Kinds that are due; none where everything is drawn alike. */
  readonly toward?: readonly Mishap[];
}

const between = (dice: Dice, { least, most }: { least: number; most: number }): number =>
  Math.round(least + uniform(dice) * (most - least));

/** Spans of what can be seen at one instant and can happen here, long enough for a moment between two presses. */
function drawable({ spans, presses }: IdealCourse, spec: CaseFile): readonly Span[] {
  const beganMs = (step: string): number =>
    presses.find(({ log: { state } }) =>
      (layoutOf(state).byStep.get(step) ?? []).some(
        ({ key }) => edgeInstant(state.runs[key], 'start') !== null,
      ),
    )?.atMs ?? Number.POSITIVE_INFINITY;
  return spans.flatMap((span) => {
    const { mishap } = span.wayBack;
    if (sightOf(span.wayBack) === null || !canHappen(spec, mishap, span.subject)) return [];
    const step = canHappenFrom(mishap);
    const leastMs = step === null ? span.fromMs : Math.max(span.fromMs, beganMs(step));
    return span.untilMs - leastMs < SPAN_LEAST_MS ? [] : [{ ...span, leastMs }];
  });
}

/**
 * One of each kind of way back first, by what is asked for and by what it voids; then one of its subjects. Else a
 * step done for eight units would be drawn eight times as often as one for the case.
 */
function drawSpan(dice: Dice, spans: readonly Span[], toward: readonly Mishap[]): Span | null {
  const byWay = new Map<string, Span[]>();
  for (const span of spans) {
    byWay.set(span.wayBack.id, [...(byWay.get(span.wayBack.id) ?? []), span]);
  }
  const ways = [...byWay.values()].map((own) => {
    const [first] = own;
    const asked = first !== undefined && toward.includes(first.wayBack.mishap) ? TOWARD : 1;
    return { own, weight: asked * Math.sqrt(1 + Math.max(...own.map(({ voids }) => voids))) };
  });
  let left = uniform(dice) * ways.reduce((sum, { weight }) => sum + weight, 0);
  const drawn = ways.find(({ weight }) => {
    left -= weight;
    return left < 0;
  });
  const own = drawn?.own ?? ways.at(-1)?.own ?? [];
  return own[Math.floor(uniform(dice) * own.length)] ?? null;
}

interface Placed {
  readonly atMs: number;
  readonly card: DrillCard;
}

/** What happens to the patient happens to everything at that stage; all else to one subject. */
const touched = (spans: readonly Span[], { wayBack, subject }: Span, atMs: number) =>
  wayBack.mishap !== 'patient-must-rinse'
    ? [subject]
    : spans.flatMap((s) =>
        s.wayBack.mishap === wayBack.mishap && s.fromMs <= atMs && s.untilMs > atMs
          ? [s.subject]
          : [],
      );

function mishapIn(
  dice: Dice,
  { spans, span, ...part }: { spans: readonly Span[]; span: Span; fromMs: number; untilMs: number },
  id: string,
): Placed | null {
  const fromMs = Math.max(span.leastMs ?? span.fromMs, part.fromMs);
  const untilMs = Math.min(span.untilMs, part.untilMs);
  const atMs = Math.round(fromMs + uniform(dice) * (untilMs - fromMs));
  const sight = sightOf(span.wayBack);
  if (sight === null || untilMs - fromMs < SPAN_LEAST_MS) return null;
  const card: DrillCard = {
    id,
    kind: 'mishap',
    mishap: span.wayBack.mishap,
    wayBack: span.wayBack.id,
    sight,
    subjects: touched(spans, span, atMs),
    from: span.from,
    afterMs: atMs - span.fromMs,
  };
  return { atMs, card };
}

/** The last press at or before an instant, and the edge of a step that it made. */
function edgeBefore(
  course: IdealCourse,
  atMs: number,
): { moment: DrillMoment; atMs: number } | null {
  for (let i = course.presses.length - 1; i > 0; i -= 1) {
    const press = course.presses[i];
    if (press === undefined || press.atMs > atMs) continue;
    const { state } = press.log;
    const layout = layoutOf(state);
    const before = course.presses[i - 1]?.log.state.runs ?? {};
    for (const { key } of layout.instances) {
      for (const edge of ['end', 'start'] as const) {
        const now = edgeInstant(state.runs[key], edge);
        if (now === null || edgeInstant(before[key], edge) !== null) continue;
        return { moment: { key, edge }, atMs: press.atMs };
      }
    }
  }
  return null;
}

/** A foil or an interruption at an instant of the ideal run. */
function asideAt(dice: Dice, course: IdealCourse, atMs: number, id: string): Placed | null {
  const before = edgeBefore(course, atMs);
  const state = course.presses.findLast((p) => p.atMs <= atMs)?.log.state;
  if (before === null || state === undefined) return null;
  const from = { id, from: before.moment, afterMs: Math.round(atMs - before.atMs) };
  if (uniform(dice) < 1 / 3) {
    const sight = uniform(dice) < 0.5 ? 'telephone' : 'someone-enters';
    const awayMs = between(dice, AWAY_MS);
    return { atMs, card: { ...from, kind: 'interruption', sight, awayMs, subjects: ['case'] } };
  }
  const sight = FOILS[Math.floor(uniform(dice) * FOILS.length)] ?? 'lip-wet';
  const units = layoutOf(state).subjects.order.unit;
  const unit = units[Math.floor(uniform(dice) * units.length)] ?? 'case';
  const subjects = [sight === 'outer-face-touched' || sight === 'gum-red-dry' ? unit : 'case'];
  return { atMs, card: { ...from, kind: 'foil', sight, subjects } };
}

const isApart = (placed: readonly Placed[], atMs: number): boolean =>
  placed.every((other) => Math.abs(other.atMs - atMs) >= APART_MS);

/** How many mishaps: none in one drill of six, else mostly one. */
function mishapsIn(dice: Dice): number {
  if (uniform(dice) < 1 / NOTHING_IN) return 0;
  const share = uniform(dice);
  if (share < 0.55) return 1;
  return share < 0.85 ? 2 : 3;
}

/** Draws a drill. A case in which no way back can be drawn gives one without mishaps. */
export function drillPlan(input: DrawInput): DrillPlan {
  const { seed, toward = [] } = input;
  const course = idealCourse(input);
  const dice = diceOf(seed);
  const spans = drawable(course, input.spec);
  const wanted = mishapsIn(dice);
  const first = drawSpan(dice, spans, toward);
  const whole = { fromMs: 0, untilMs: course.endedAtMs };
  const lead = first === null ? null : mishapIn(dice, { spans, span: first, ...whole }, 'card-1');
  const aroundMs = lead?.atMs ?? course.endedAtMs / 2;
  const beginsMs = Math.max(0, aroundMs - between(dice, LEAD_MS));
  const endsMs = Math.min(course.endedAtMs, aroundMs + TAIL_MS);
  const placed: Placed[] = wanted > 0 && lead !== null ? [lead] : [];
  const part = { fromMs: beginsMs + APART_MS, untilMs: endsMs - APART_MS };
  // Some draws find no room: the drill then has fewer.
  for (let n = 2; n <= wanted; n += 1) {
    const inside = spans.filter((s) => s.fromMs < part.untilMs && s.untilMs > part.fromMs);
    const span = drawSpan(dice, inside, toward);
    const next = span === null ? null : mishapIn(dice, { spans, span, ...part }, `card-${n}`);
    if (next !== null && isApart(placed, next.atMs)) placed.push(next);
  }
  const asides = Math.floor(uniform(dice) * 3);
  for (let n = 1; n <= asides; n += 1) {
    const atMs = Math.round(part.fromMs + uniform(dice) * Math.max(0, part.untilMs - part.fromMs));
    const next = asideAt(dice, course, atMs, `aside-${n}`);
    if (next !== null && isApart(placed, atMs)) placed.push(next);
  }
  const pressesBefore = Math.max(1, course.presses.filter((p) => p.atMs <= beginsMs).length);
  return {
    seed,
    toward,
    beginsAtMs: Math.round(beginsMs),
    pressesBefore,
    lastsMs: Math.round(endsMs - beginsMs),
    cards: placed.toSorted((a, b) => a.atMs - b.atMs).map(({ card }) => card),
  };
}
