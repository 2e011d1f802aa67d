/** A plan for the terminal, by code: its windows, its other ways and its explanations. */
import { unreachable } from '../base/assert.ts';
import type { SurfacePlan } from '../engine/run-plan-types.ts';
import type { Alternative } from '../plan/alternatives.ts';
import type { Explanation } from '../plan/explanation.ts';
import type { FullPlan } from '../plan/make-plan.ts';
import { PUBLISHED_VISITS } from '../plan/published-visits.ts';
import type { Band } from '../plan/timeline.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { Protocol } from '../protocol/types.ts';
import { terminalPlanWords as words } from '../words/terminal-words.ts';

/** `93 min`, `4 min 30 s`, `45 s`. */
export function lengthWords(ms: number): string {
  const seconds = Math.round(ms / 1000);
  if (seconds === 0 && ms !== 0) return words.underASecond;
  if (Math.abs(seconds) < 60) return `${seconds} s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes >= 10) return `${Math.round(seconds / 60)} min`;
  return seconds % 60 === 0 ? `${minutes} min` : `${minutes} min ${seconds % 60} s`;
}

/** Whole percent; what is rare, or was not drawn, is not told as never, nor what is likely as sure. */
export function percentWords(share: number): string {
  const percent = Math.round(share * 100);
  if (percent === 100 && share < 1) return words.over99Percent;
  return percent < 1 ? words.underAPercent : `${percent} %`;
}

/** "in 3 % of simulated runs"; what came up in no run is told as no more than that. */
export function runsWords(share: number, runs: number): string {
  return share === 0 ? words.inNoRun(runs) : words.inRuns(percentWords(share));
}

/** How many groups there are, and the size of each; one size when all are alike. */
function groupsOf(sizes: readonly number[]): { count: number; sizes: readonly string[] } {
  const isEven = sizes.every((size) => size === sizes[0]);
  return { count: sizes.length, sizes: (isEven ? sizes.slice(0, 1) : sizes).map(String) };
}

function differenceWords(deltaMs: number): string | null {
  if (Math.abs(deltaMs) < 30_000) return null;
  const minutes = Math.max(1, Math.round(Math.abs(deltaMs) / 60_000));
  return deltaMs > 0 ? words.longer(minutes) : words.shorter(minutes);
}

type Titles = ReadonlyMap<string, string>;

function sizesWords(
  kind: 'mixes' | 'rounds',
  o: { readonly sizes: readonly number[]; readonly step: string | null; readonly titles: Titles },
): string {
  const { sizes, step, titles } = o;
  if (kind === 'mixes') return words.mixes(groupsOf(sizes));
  return words.rounds({ step: titles.get(step ?? '') ?? step ?? '', ...groupsOf(sizes) });
}

function whatWords({ kind, sizes, step, order }: Alternative, titles: Titles): string {
  switch (kind) {
    case 'mixes':
    case 'rounds':
      return sizesWords(kind, { sizes, step, titles });
    case 'order':
      return words.seated(order);
    default:
      return unreachable(kind);
  }
}

function alternativeWords(
  alternative: Alternative,
  o: { readonly titles: Titles; readonly runs: number },
): string {
  const { titles, runs } = o;
  const { isPlanned, canBeKept, pBroken, chairDeltaMs } = alternative;
  const way = {
    what: whatWords(alternative, titles),
    risk: runsWords(pBroken, runs),
    difference: differenceWords(chairDeltaMs),
  };
  if (isPlanned) return canBeKept ? words.wayPlanned(way) : words.wayPlannedNotKept(way);
  return canBeKept ? words.way(way) : words.wayNotKept(way);
}

/** One line for each way to do the case. */
export function alternativeLines(
  list: readonly Alternative[],
  protocol: Protocol,
  runs: number,
): string[] {
  const titles = titlesOf(protocol);
  return list.map((each) => alternativeWords(each, { titles, runs }));
}

const titlesOf = (protocol: Protocol): Titles =>
  new Map(protocol.steps.map((s) => [s.id, s.title]));

/** How rounds and mixes were decided, and what that costs; nothing where people chose all. */
export function carefulLines({ careful }: FullPlan, protocol: Protocol): string[] {
  const { groups, priceMs, samples } = careful;
  if (groups.length === 0) return [];
  const titles = titlesOf(protocol);
  const told = groups.map(({ kind, step, sizes, fewest, pBroken, isUnder }) => {
    const isFewest = sizes.length === fewest.length;
    return words.careful({
      what: sizesWords(kind, { sizes, step, titles }),
      risk: runsWords(pBroken, samples),
      insteadOf: isFewest ? null : fewest.join(' + '),
      isUnder,
    });
  });
  const isFewest = groups.every(({ sizes, fewest }) => sizes.length === fewest.length);
  return [...told, isFewest ? words.noPrice : priceWords(priceMs)];
}

function priceWords(priceMs: number): string {
  if (Math.round(priceMs / 1000) === 0) return words.samePrice;
  return words.price({ more: lengthWords(Math.abs(priceMs)), isLonger: priceMs > 0 });
}

/** What such visits took elsewhere, with its sources. */
export function visitLines(): string[] {
  return PUBLISHED_VISITS.map(({ what, meanMinutes, sdMinutes, source }) =>
    words.visit({ what: words.visits[what], mean: meanMinutes, sd: sdMinutes, source }),
  );
}

function bandWords(bands: readonly Band[], title: string, risk: string): string {
  const slackMs = Math.min(...bands.map((b) => b.slackMs));
  const room =
    slackMs < 0 ? words.tooLong(lengthWords(-slackMs)) : words.toSpare(lengthWords(slackMs));
  const told = { title, room, risk };
  return bands.every((b) => b.canBeKept) ? words.window(told) : words.windowNotKept(told);
}

/** Windows and dwells with their room and risk, least room first. */
export function windowLines(full: FullPlan, protocol: Protocol): string[] {
  const titles = new Map([
    ...protocol.steps.map((s) => [s.id, s.title] as const),
    ...protocol.windows.map((w) => [w.id, w.title] as const),
  ]);
  const ids = [...new Set(full.timeline.bands.map((b) => b.of))];
  const room = (id: string): number =>
    Math.min(...full.timeline.bands.filter((b) => b.of === id).map((b) => b.slackMs));
  return ids
    .toSorted((a, b) => room(a) - room(b))
    .map((id) => {
      const bands = full.timeline.bands.filter((b) => b.of === id);
      const runs = full.risk.options.samples;
      const risk = runsWords(full.risk.pBrokenByWindow[id] ?? 0, runs);
      return bandWords(bands, titles.get(id) ?? id, risk);
    });
}

/** What each surface receives, those that receive the same in one line: `unit 11 21: facial 3 x 42 s (dose)`. */
export function exposureLines(full: FullPlan, protocol: Protocol, spec: CaseFile): string[] {
  const units = full.plan.order;
  const teeth = units.flatMap((id) => spec.units.find((unit) => unit.id === id)?.teeth ?? []);
  return protocol.steps.flatMap((step) => {
    const plans = full.plan.exposures[step.id];
    if (plans === undefined) return [];
    const alike = new Map<string, { subjects: string[]; surfaces: readonly string[] }>();
    for (const subject of step.per === 'tooth' ? teeth : units) {
      const told = (plans[subject] ?? []).map(surfaceWords);
      const known = alike.get(told.join());
      if (known === undefined) alike.set(told.join(), { subjects: [subject], surfaces: told });
      else known.subjects.push(subject);
    }
    const { title, per } = step;
    return [...alike.values()].map((each) => words.exposure({ step: title, per, ...each }));
  });
}

function surfaceWords(plan: SurfacePlan): string {
  const { surface, setMs, positions: count, decidedBy } = plan;
  const presses = (plan.presses ?? [setMs]).map((ms) => Math.round(ms / 100) / 10);
  const seconds = `${presses.join(' + ')} s`;
  const times = count === 1 ? seconds : words.places({ count, seconds });
  return words.surface({ surface, seconds: times, decidedBy });
}

const shownValue = (value: number): string => String(Math.round(value * 1000) / 1000);

/** On whose word a number stands; of an exposure, which of its two times is the longer. */
function decidedWords(why: Explanation): string {
  if (why.formula !== 'longest-exposure-time') return words.decidedBy(why.decidedBy);
  if (why.inputs['doseSeconds'] === undefined) return words.ownTime;
  return why.decidedBy === 'dose' ? words.computedLonger : words.productLonger;
}

/** How one number came about, in one line. */
export function explanationLine(why: Explanation): string {
  const value = typeof why.value === 'number' ? shownValue(why.value) : why.value.join(' + ');
  const calc = why.calc === null ? null : `${why.calc.name} '${JSON.stringify(why.calc.input)}'`;
  const { id, unit, source, limit } = why;
  const held = limit === undefined ? '' : ` ${words.held(limit)}`;
  const decided = `${decidedWords(why)}${held}`;
  const told = { id, value: `${value} ${unit}`, decided, source, calc };
  return words.explained(told);
}
