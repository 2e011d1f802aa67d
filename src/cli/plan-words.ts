/** Plain English for the terminal: a plan, its windows, its other ways and its explanations. */
import type { Alternative } from '../plan/alternatives.ts';
import type { Explanation } from '../plan/explanation.ts';
import type { FullPlan } from '../plan/make-plan.ts';
import type { Band } from '../plan/timeline.ts';
import type { Protocol } from '../protocol/types.ts';

const NUMBER_WORDS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

const numberWord = (n: number): string => NUMBER_WORDS[n] ?? String(n);

/** `93 min`, `4 min 30 s`, `45 s`. */
export function lengthWords(ms: number): string {
  const seconds = Math.round(ms / 1000);
  if (seconds === 0 && ms !== 0) return 'under 1 s';
  if (Math.abs(seconds) < 60) return `${seconds} s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes >= 10) return `${Math.round(seconds / 60)} min`;
  return seconds % 60 === 0 ? `${minutes} min` : `${minutes} min ${seconds % 60} s`;
}

/** Whole percent; what is rare, or was not drawn, is not told as never, nor what is likely as sure. */
export function percentWords(share: number): string {
  const percent = Math.round(share * 100);
  if (percent === 100 && share < 1) return 'over 99 %';
  return percent < 1 ? 'under 1 %' : `${percent} %`;
}

/** `two mixes of 4`, `three mixes of 3, 3 and 2`. */
function groupWords(sizes: readonly number[], noun: string): string {
  const many = sizes.length === 1 ? noun : `${noun}${noun.endsWith('x') ? 'es' : 's'}`;
  const isEven = sizes.every((size) => size === sizes[0]);
  const listed = isEven ? [sizes[0]] : sizes;
  const shown =
    listed.length === 1
      ? String(listed[0])
      : `${listed.slice(0, -1).join(', ')} and ${listed.at(-1)}`;
  return `${numberWord(sizes.length)} ${many} of ${shown}`;
}

function differenceWords(deltaMs: number): string {
  if (Math.abs(deltaMs) < 30_000) return '';
  const minutes = Math.max(1, Math.round(Math.abs(deltaMs) / 60_000));
  return `, ${minutes} min ${deltaMs > 0 ? 'longer' : 'shorter'}`;
}

function alternativeWords(alternative: Alternative, titles: ReadonlyMap<string, string>): string {
  const { kind, sizes, step, order } = alternative;
  const risk = alternative.canBeKept
    ? `${percentWords(alternative.pBroken)} risk`
    : `${percentWords(alternative.pBroken)} risk, cannot be kept as expected`;
  const planned = alternative.isPlanned ? ' (planned)' : differenceWords(alternative.chairDeltaMs);
  if (kind === 'mixes') return `${groupWords(sizes, 'mix')}: ${risk}${planned}`;
  if (kind === 'order') return `seated ${order.join(' ')}: ${risk}${planned}`;
  const title = titles.get(step ?? '') ?? step ?? '';
  return `"${title}" in ${groupWords(sizes, 'round')}: ${risk}${planned}`;
}

/** One line for each way to do the case. */
export function alternativeLines(list: readonly Alternative[], protocol: Protocol): string[] {
  const titles = new Map(protocol.steps.map((s) => [s.id, s.title]));
  return list.map((each) => alternativeWords(each, titles));
}

function bandWords(bands: readonly Band[], title: string, pBroken: number): string {
  const slackMs = Math.min(...bands.map((b) => b.slackMs));
  const room =
    slackMs < 0 ? `${lengthWords(-slackMs)} too long` : `${lengthWords(slackMs)} to spare`;
  const isKept = bands.every((b) => b.canBeKept);
  const kept = isKept ? '' : '; cannot be kept';
  return `"${title}": ${room}, ${percentWords(pBroken)} risk${kept}`;
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
      return bandWords(bands, titles.get(id) ?? id, full.risk.pBrokenByWindow[id] ?? 0);
    });
}

/** What each surface of each unit receives: `11: facial 3 x 42 s (dose), ...`. */
export function exposureLines(full: FullPlan, protocol: Protocol): string[] {
  return protocol.steps.flatMap((step) => {
    const byUnit = full.plan.exposures[step.id];
    if (byUnit === undefined) return [];
    return full.plan.order.map((unit) => {
      const surfaces = (byUnit[unit] ?? []).map((s) => {
        const seconds = `${Math.round(s.setMs / 100) / 10} s`;
        const times = s.positions === 1 ? seconds : `${s.positions} x ${seconds}`;
        return `${s.surface} ${times} (${s.decidedBy})`;
      });
      return `"${step.title}", unit ${unit}: ${surfaces.join(', ')}`;
    });
  });
}

const shownValue = (value: number): string => String(Math.round(value * 1000) / 1000);

/** On whose word a number stands; of an exposure, which of its two times is the longer. */
function decidedWords(why: Explanation): string {
  if (why.formula !== 'longest-exposure-time') return `decided by ${why.decidedBy}`;
  if (why.inputs['doseSeconds'] === undefined) return "the product's own time, nothing computed";
  return why.decidedBy === 'dose' ? 'the computed time is longer' : 'the product time is longer';
}

/** How one number came about, in one line. */
export function explanationLine(why: Explanation): string {
  const value = typeof why.value === 'number' ? shownValue(why.value) : why.value.join(' + ');
  const repeat =
    why.calc === null ? '' : `; calc ${why.calc.name} '${JSON.stringify(why.calc.input)}'`;
  return `${why.id} = ${value} ${why.unit}, ${decidedWords(why)}; ${why.source}${repeat}`;
}
