/** Words of the plan: the picture, the alternatives, and how each number came about. */
import { unreachable } from '../base/assert.ts';
import type { HeatLevel } from '../calc/heat.ts';
import type { Alternative } from '../plan/alternatives.ts';
import type { DecidedBy, Explanation, FormulaCode } from '../plan/explanation.ts';
import type { Replan } from '../plan/replan.ts';
import type { Bar, Lane } from '../plan/timeline.ts';
import { formatWords } from './duration.ts';
import { formatPercent } from './number.ts';
import { type CaseNaming, stepOf } from './offer-words.ts';
import { subjectLabel, subjectsLabel } from './subject-words.ts';

const HEAT_SOURCE =
  'Marker 5.5 °C, conservative and disputed: Zach & Cohen 1965; Baldissara et al. 1997. Rises measured elsewhere, through what lay between; open the unit below for its figures.';

export const planWords = {
  title: 'Plan',
  working: 'Working out the plan',
  failed: 'The plan could not be worked out.',
  cancel: 'Cancel',
  again: 'Work it out again',
  cancelled: 'The plan was cancelled.',
  noCase: 'This case is not prepared on this tablet.',
  noProtocol: 'The protocol of this case is not on this tablet.',
  chairTime: 'Chair time, middle case',
  chairP90: 'One time in ten longer than',
  risk: 'Any window or dwell outside its bounds',
  lanes: 'Who does what, and the light',
  windows: 'Windows and dwells, the tightest of each',
  alternatives: 'Other ways to do it',
  alternativesLeft: (left: number) => `Comparing, ${left} to go`,
  use: 'Use this',
  planned: 'Planned',
  computedAgain: 'Back to what is computed',
  noOther: 'There is no other way to compare.',
  notKept: 'It could not be taken over.',
  alternativesDone: 'Same seed for all, so that differences come from the plan.',
  numbers: 'How the numbers came about',
  unitNumbers: (unit: string) => `Light on ${unit}: times, positions, dose`,
  heldBy: 'What holds it, in order',
  caution:
    'Expected durations and chances, computed from the paces of the protocol or, where there are records, of the people. Product instructions and local rules govern.',
  slack: (ms: number) => (ms < 0 ? `${formatWords(-ms)} too long` : `${formatWords(ms)} to spare`),
  chance: (share: number) => `outside in ${formatPercent(share)} of the draws`,
  notAsExpected: 'not kept even at the expected pace',
  cannotBeKept: 'Cannot be kept in any order of the work',
  source: 'Source',
  govern: 'Product instructions win over this figure.',
  drawn: 'How chair time and chances were drawn',
  compared: 'How these were compared',
  heat: 'Heat near the pulp',
  heatSource: HEAT_SOURCE,
  beginHere: 'Back to Today',
} as const;

export function laneWords(lane: Lane, scene: CaseNaming): string {
  switch (lane.kind) {
    case 'person': {
      const person = scene.spec.people.find((p) => p.role === lane.id);
      return person?.label ?? (lane.id === 'dentist' ? 'Dentist' : 'Assistant');
    }
    case 'light':
      return 'Light';
    case 'mix':
      return subjectLabel(lane.id, scene.spec);
    default:
      return unreachable(lane.kind);
  }
}

export function barWords(bar: Bar, { protocol, spec }: CaseNaming): string {
  const step = stepOf(protocol, bar.step);
  return `${step?.title ?? bar.step} ${subjectsLabel(bar.subjects, spec)}`.trim();
}

/** The title of what a band is about: a window, or the dwell of a step. */
export function bandTitle(of: string, { protocol }: CaseNaming): string {
  const window = protocol.windows.find((w) => w.id === of);
  return window?.title ?? stepOf(protocol, of)?.title ?? of;
}

function choiceWords(a: Alternative, scene: CaseNaming): string {
  const sizes = a.sizes.join(' + ');
  switch (a.kind) {
    case 'mixes':
      return a.sizes.length === 1 ? `One mix of ${sizes}` : `${a.sizes.length} mixes, ${sizes}`;
    case 'rounds': {
      const title = stepOf(scene.protocol, a.step ?? '')?.title ?? '';
      return a.sizes.length === 1
        ? `${title}: one round of ${sizes}`
        : `${title}: ${a.sizes.length} rounds, ${sizes}`;
    }
    case 'order':
      return `Seated ${a.order.map((u) => subjectLabel(`unit:${u}`, scene.spec)).join(', ')}`;
    default:
      return unreachable(a.kind);
  }
}

function deltaWords(ms: number): string {
  if (Math.abs(ms) < 30_000) return 'as long';
  return ms > 0 ? `${formatWords(ms)} longer` : `${formatWords(-ms)} shorter`;
}

/** "Two mixes, 4 + 4: outside in 3 % of the draws, 2 min longer". */
export function alternativeWords(a: Alternative, scene: CaseNaming): string {
  const words = `${choiceWords(a, scene)}: ${planWords.chance(a.pBroken)}, ${deltaWords(a.chairDeltaMs)}`;
  return a.canBeKept ? words : `${words}; ${planWords.notAsExpected}`;
}

const FORMULAS: Readonly<Record<FormulaCode, string>> = {
  'working-time-in-this-room': 'working time × Q10 ^ −((room − reference) / 10), never longer',
  'lamp-light-allowance': 'allowed light (klx·s) / room light (klx)',
  'shortest-working-time': 'the shortest of product, room and lamp',
  'units-per-mix': '(working time − reserve − lead) / time per unit',
  'subjects-per-round': 'dwell of tooth i = T + i × (rinse − apply), all inside the bounds',
  'transmittance-at-this-thickness': 'measured transmittance, scaled by thickness',
  'time-for-the-dose': 'dose / (irradiance × transmittance)',
  'longest-exposure-time': 'the longer of the product’s time and the time for the dose',
  'tip-positions': 'discs of the tip’s diameter that cover the surface',
  'median-of-own-records': 'the median of the times in the people’s own records',
  'light-on-one-tooth':
    'sum of irradiance × time on one tooth; the rise is a measured slope × light, falling between exposures',
  'quantile-of-draws': 'the whole plan drawn many times; so many draws are shorter',
  'share-of-draws': 'draws in which it is outside / all draws',
  'room-at-the-close': 'bound − time planned between its two moments',
};

export function formulaWords(e: Explanation): string {
  return FORMULAS[e.formula];
}

const DECIDED: Readonly<Record<DecidedBy, string>> = {
  product: 'the product’s own time',
  dose: 'the dose through the ceramic',
  'room-temperature': 'the room’s temperature',
  'lamp-light': 'the light in the room',
  hands: 'the pace of the hands',
  'tip-size': 'the size of the tip',
  people: 'people’s choice',
  table: 'the lowest published share, since the case names none',
  measured: 'what was measured for this unit',
  'published-row': 'the published row that was chosen for this unit',
  'own-records': 'the people’s own records',
  draws: 'draws with a fixed seed',
  arithmetic: 'arithmetic',
};

export function decidedWords(e: Explanation): string {
  if (e.formula === 'longest-exposure-time') {
    if (e.inputs['doseSeconds'] === undefined) return 'The product’s own time; none is computed.';
    return e.decidedBy === 'dose'
      ? 'The computed time is longer.'
      : 'The product’s time is longer.';
  }
  return `Decided by ${DECIDED[e.decidedBy]}.`;
}

/**
 * What the caution about heat says of a level; null where nothing reaches the marker. It names
 * where the figures were measured, never what happens to a tooth.
 */
export function heatWords(level: HeatLevel, units: string): string | null {
  switch (level) {
    case 'below-marker':
      return null;
    case 'within-uncertainty':
      return `${units}: the higher rises measured in the laboratory reach the marker of 5.5 °C, those in living teeth do not. Rest, or air, between exposures lowers it.`;
    case 'above-marker':
      return `${units}: rises measured in living teeth reach the marker of 5.5 °C. Take other units in between, rest longer, or cool with air.`;
    default:
      return unreachable(level);
  }
}

/** "42 s", "4 + 4", "3 positions". */
export function explainedValue(e: Explanation): string {
  const text = Array.isArray(e.value)
    ? e.value.join(' + ')
    : String(Math.round(Number(e.value) * 100) / 100);
  if (e.unit === 'share') return formatPercent(Number(e.value));
  const isLong = e.unit === 's' && Math.abs(Number(e.value)) >= 120;
  return isLong ? formatWords(Number(e.value) * 1000) : `${text} ${e.unit}`;
}

/** "Exposure, Expose 11, facial": what an explanation is about. */
export function explainedWhat(e: Explanation, scene: CaseNaming): string {
  const [kind = '', of = '', unit = '', surface = ''] = e.id.split('/');
  if (kind === 'chair') return CHAIR[of] ?? planWords.chairTime;
  const unitName = unit === '' ? '' : subjectLabel(`unit:${unit}`, scene.spec);
  const words = [KINDS[kind] ?? kind, of === '' ? '' : bandTitle(of, scene), unitName, surface];
  return words.filter((w) => w !== '').join(', ');
}

const CHAIR: Readonly<Record<string, string>> = {
  p50: planWords.chairTime,
  p90: planWords.chairP90,
  any: planWords.risk,
};

const KINDS: Readonly<Record<string, string>> = {
  exposure: 'Exposure',
  rounds: 'Rounds',
  mixes: 'Mixes',
  window: 'Window',
  heat: 'Light on a tooth',
  pace: 'Pace',
  chair: 'Chair time',
  room: 'Room',
  chance: 'Chance',
  transmittance: 'Share of the light that passes',
};

/** "2 min behind; mix 2 still fits": where the chair stands against its plan. */
export function replanWords(found: Pick<Replan, 'behindMs' | 'mixes'>, scene: CaseNaming): string {
  const lateMs = Math.round(found.behindMs / 60_000) * 60_000;
  const away = formatWords(Math.abs(lateMs));
  const pace = lateMs === 0 ? 'on plan' : `${away} ${lateMs > 0 ? 'behind' : 'ahead'}`;
  const waiting = found.mixes.find((m) => m.state !== 'done' && m.slackMs !== null);
  if (!waiting) return pace;
  const mix = subjectLabel(waiting.mix, scene.spec);
  return waiting.fits ? `${pace}; ${mix} still fits` : `${pace}; ${mix} no longer fits`;
}
