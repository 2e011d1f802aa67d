/** What the checks of a protocol say, a sentence for each code. */
import type { FindingCode } from '../../protocol/finding.ts';
import type { PracticeFinding } from '../../protocol/ranges-practice.ts';
import { listIn } from '../grammar.ts';

const list = listIn('en-GB');

interface Id {
  readonly id: string;
}

interface Title {
  readonly title: string;
}

interface Thick {
  readonly id: string;
  /** Empty where nobody named a thickness. */
  readonly mm: string;
  readonly most: string;
}

interface Held {
  readonly id: string;
  readonly title: string;
  readonly reached: string;
  readonly cause: string;
  readonly wayOut: string;
}

interface Joined {
  readonly link: string;
  readonly from: string;
  readonly to: string;
}

interface Time {
  readonly title: string;
  readonly time: string;
}

/** A window that the steps between its moments do not leave enough time for. */
export interface TightWindow {
  readonly title: string;
  readonly limit: string;
  readonly missing: string;
  readonly steps: readonly Time[];
  readonly others: readonly string[];
}

function tight(o: TightWindow, when: string): string {
  if (o.steps.length === 0) {
    return `“${o.title}” allows ${o.limit}, which collides with ${list(o.others)}: ${o.missing} too little.`;
  }
  const steps = list(o.steps.map(({ title, time }) => `${title} (${time})`));
  const head = `“${o.title}” allows ${o.limit}. Between its moments lie, ${when}, ${steps}: ${o.missing} too little.`;
  return o.others.length === 0 ? head : `${head} It also collides with ${list(o.others)}.`;
}

export const finding = {
  told: {
    'duplicate-id': (o: Id): string => `The id “${o.id}” is used twice.`,
    'unknown-stage': (o: Id): string => `There is no stage “${o.id}”.`,
    'unknown-step': (o: Id): string => `There is no step “${o.id}”.`,
    'unknown-slot': (o: Id): string => `There is no material “${o.id}”.`,
    'unknown-caution': (o: Id): string => `There is no caution “${o.id}”.`,
    'caution-not-short': (o: { readonly length: number; readonly max: number }): string =>
      o.length === 0
        ? `It has no short form to show beside a clock, at most ${o.max} characters.`
        : `Its short form has ${o.length} characters; beside a clock there is room for ${o.max}.`,
    'unknown-source': (o: Id): string => `There is no source “${o.id}”.`,
    'unknown-way-back': (o: Id): string => `There is no way back “${o.id}”.`,
    'unknown-option': (o: Id): string => `That step has no option “${o.id}”.`,
    'link-needs-same-scope': (o: Joined): string =>
      `“${o.link}” does not fit: one step is done to ${o.from}, the other to ${o.to}.`,
    'link-needs-other-scope': (o: Joined): string =>
      `“${o.link}” joins different kinds of subjects, but both steps are done to ${o.from}. Choose “the same subject”.`,
    'link-has-no-order': (o: Joined): string =>
      `“${o.link}” does not fit: a step that is done once has none before it.`,
    'waits-in-a-circle': (o: { readonly steps: readonly string[] }): string =>
      `Steps wait for each other in a circle: ${o.steps.join(' → ')}.`,
    'bounds-crossed': (o: {
      readonly low: string;
      readonly lowValue: string;
      readonly high: string;
      readonly highValue: string;
    }): string => `${o.low}, ${o.lowValue}, is above ${o.high}, ${o.highValue}.`,
    'window-without-bound': (o: Title): string => `“${o.title}” has neither a minimum nor a limit.`,
    'window-of-one-moment': (o: Title): string =>
      `“${o.title}” begins and ends with the same moment.`,
    'window-cannot-be-kept': (o: TightWindow): string => tight(o, 'at the usual pace'),
    'window-tight-on-a-slow-day': (o: TightWindow): string => tight(o, 'on a slow day'),
    'expose-without-time': 'Light needs a time for each surface, a radiant exposure, or both.',
    'expose-without-surface': 'Light needs at least one surface.',
    'surface-twice': (o: { readonly surface: string }): string =>
      `The ${o.surface} surface is listed twice.`,
    'choice-without-options': 'A choice needs at least one option.',
    'hands-without-dwell': 'The rhythm of the hands counts only for a time that runs.',
    'clock-without-dwell': 'Only a time that runs can begin with the end of another step.',
    'clock-not-after': (o: Id): string =>
      `The clock begins with “${o.id}”, but the step does not wait for it.`,
    'no-steps': 'A protocol needs at least one step.',
    'unknown-choice': (o: Id): string => `There is no choice “${o.id}”.`,
    'condition-without-value':
      'A condition without a value never holds. Choose at least one value.',
    'unknown-value': (o: Id & { readonly of: string }): string =>
      `“${o.id}” is not a value of ${o.of}.`,
    'not-asked': (o: Id & { readonly fact: string }): string =>
      `Not asked yet of ${o.id}: ${o.fact}.`,
    'light-cured-thick': (o: Thick): string =>
      o.mm === ''
        ? `Unit ${o.id}: light-cured cement behind this material is cautioned at any thickness.`
        : `Unit ${o.id}: ${o.mm} mm is thick for a cement that sets by light alone; from ${o.most} mm on take a dual-cured one.`,
    'light-cured-too-thick': (o: Thick): string =>
      `Unit ${o.id}: ${o.mm} mm is more than the ${o.most} mm for a cement that sets by light alone. Take a dual-cured cement.`,
    'light-dose-not-reached': (o: Held): string =>
      `Unit ${o.id}: “${o.title}” gives ${o.reached} J/cm² at the cement within the ceilings of light. ${o.cause} ${o.wayOut}`,
    'light-target-not-reached': (o: Held): string =>
      `Unit ${o.id}: “${o.title}” gives ${o.reached} J/cm² at the cement within the ceilings of light, less than is aimed at. ${o.cause} ${o.wayOut}`,
    'light-product-over': (o: Id & Title): string =>
      `Unit ${o.id}: the product’s own time for “${o.title}” is over 40 s a place or 60 s a surface.`,
    'light-no-programme': (o: Id & Title): string =>
      `Unit ${o.id}: the lamp has no programme for “${o.title}” within 40 J/cm². Take another lamp.`,
    'product-light-over': (o: { readonly seconds: string; readonly most: string }): string =>
      `The time of ${o.seconds} s on one place is over the ceiling of ${o.most} s; keep it only where the product asks for it.`,
    'dose-beyond-credit': (o: { readonly dose: string; readonly most: string }): string =>
      `The dose asked for is ${o.dose} J/cm²; more than ${o.most} is not credited at a thin film.`,
    unused: (o: Id): string => `No step uses “${o.id}”.`,
    'unknown-list': (o: Id): string => `There is no list “${o.id}”.`,
    'press-does-not-fit': {
      list: 'Only a step that is ticked or a choice can stand on a list.',
      sweep: 'Only a time that runs over a round can be pressed as a sweep.',
      implied: 'Only a step that is ticked can be said by a later press.',
      paced: 'Only light can be paced.',
    },
    'list-waits-outside': (o: Title & { readonly steps: readonly string[] }): string =>
      `“${o.title}” cannot be taken by one press, because a step outside it lies between two of its lines: ${o.steps.join(' ← ')}.`,
    'list-spans-minimum': (o: Title): string =>
      `“${o.title}” has a minimum between two lines of one list, which one press takes together.`,
    'sweep-without-edge': 'A sweep needs the time of one subject at its start, its end or both.',
    'sweep-start-not-pressed': (o: Title): string =>
      `The clock begins with “${o.title}”, so nobody presses its start.`,
    'start-not-pressed': (o: Title & { readonly limit: string }): string =>
      `${o.title}: the limit of ${o.limit} is under a minute, so the start is pressed for each.`,
    'implied-by-nothing': 'Name the later step whose press says that this one is done.',
    'implied-not-later': (o: Title): string =>
      `“${o.title}” does not wait for this step, so its press cannot say that it is done.`,
    'implied-past-press': (o: Title): string =>
      `Between this step and “${o.title}” lies one with a press of its own, so the press of “${o.title}” says nothing of this one.`,
    'implied-answer': (o: Title): string =>
      `${o.title}: an answer that a person gives cannot be said by a later press.`,
    'implied-minimum': (o: Title): string =>
      `The minimum of “${o.title}” begins or ends with this step, so it is pressed for itself.`,
    'paced-not-later': (o: Title): string =>
      `“${o.title}” is not the next thing after this light, so its press cannot confirm it.`,
    'quote-differs': (o: { readonly value: string; readonly said: readonly string[] }): string =>
      `The number is ${o.value}; the words quoted for it say ${list(o.said)}. Read it again, or quote the words that give it.`,
    'hardly-meant': (o: {
      readonly value: string;
      readonly least: string;
      readonly most: string;
    }): string =>
      `Hardly meant: ${o.value}. Nobody gives less than ${o.least} or more than ${o.most} (common practice, no source).`,
    'hazard-without-caution': (o: Title & { readonly hazard: string }): string =>
      `${o.title}: none of its cautions speaks of ${o.hazard}. Tick one at the step, or write one under “Cautions and more”.`,
    'title-too-long': (o: { readonly length: number; readonly max: number }): string =>
      `The title has ${o.length} characters. At most ${o.max} can be read from two metres.`,
    'after-signature': (o: Title & { readonly signature: string }): string =>
      `“${o.title}” stands behind “${o.signature}”, which ends the case. Move it in front.`,
    'outside-range': (
      o: Title & {
        readonly value: string;
        readonly range: string;
        readonly isPublished: boolean;
        readonly source: string;
      },
    ): string =>
      o.isPublished
        ? `${o.title}: ${o.value} is outside the published ${o.range} (${o.source}).`
        : `${o.title}: ${o.value} is outside the usual ${o.range} (${o.source}).`,
    'acid-on-zirconia': (o: Title & { readonly on: string }): string =>
      o.on === ''
        ? `${o.title}: hydrofluoric acid does not etch zirconia.`
        : `${o.title}: hydrofluoric acid does not etch zirconia (${o.on}).`,
    'phosphate-on-zirconia': (o: Title): string =>
      `${o.title}: phosphoric acid leaves phosphate on zirconia, in the place of the primer.`,
    'material-not-in-protocol': (
      o: Id & {
        readonly material: string;
        readonly materials: readonly string[];
      },
    ): string =>
      `Unit ${o.id} is ${o.material}. This protocol is written for ${list(o.materials)}.`,
    'restoration-not-in-protocol': (
      o: Id & {
        readonly restoration: string;
        readonly restorations: readonly string[];
      },
    ): string =>
      `Unit ${o.id} is a ${o.restoration}. This protocol is written for ${list(o.restorations)}.`,
    'primed-unshielded': (o: Title): string =>
      `${o.title}: no window shields the primed units from light until they are seated.`,
    'working-without-bead': (o: Title): string =>
      `“${o.title}” runs without a sample bead to warn that it is ending.`,
    'surface-missing': (o: Title & { readonly surfaces: readonly string[] }): string =>
      `${o.title} leaves out: ${list(o.surfaces)}.`,
    'nobody-does-it': (o: Title & { readonly role: string; readonly on: string }): string =>
      o.role === ''
        ? `${o.title} can never be opened: nobody will do it.`
        : `${o.title} is for the ${o.role}, and “${o.on}” has none.`,
  } satisfies Record<FindingCode | PracticeFinding['code'], unknown>,
  /** What can hurt at a step. */
  hazards: {
    hydrofluoric: 'hydrofluoric acid',
    etching: 'etching gel',
    light: 'the light, which harms eyes',
    resin: 'uncured resin and its solvent',
    dust: 'the dust of air abrasion',
    alkaline: 'the alkaline cleaner',
  },
  /** What keeps a dose from being reached, and what helps. */
  held: {
    cause: {
      ceramic: 'The ceramic lets too little through.',
      lamp: 'The lamp gives too little.',
      tip: 'The tip is too small for this surface.',
    },
    wayOut: {
      'dual-cured-cement': 'Take a dual-cured cement.',
      'another-lamp': 'Take another lamp.',
      'wider-tip': 'Take a lamp with a wider tip.',
    },
  },
  /** What can be crossed, as the beginning of a sentence and inside of one. */
  crossed: {
    minMs: { low: 'The minimum', high: 'the minimum' },
    targetMs: { low: 'The target', high: 'the target' },
    maxMs: { low: 'The limit', high: 'the limit' },
    shortestMs: { low: 'The shortest time', high: 'the shortest time' },
    longestMs: { low: 'The longest time', high: 'the longest time' },
    medianMs: { low: 'The usual pace', high: 'the usual pace' },
    p90Ms: { low: 'The pace on a slow day', high: 'the pace on a slow day' },
    min: { low: 'The lowest reading', high: 'the lowest reading' },
    max: { low: 'The highest reading', high: 'the highest reading' },
  },
  range: {
    atMost: (max: string): string => `at most ${max}`,
    atLeast: (min: string): string => `at least ${min}`,
    between: (o: { readonly min: number; readonly max: string }): string => `${o.min} to ${o.max}`,
  },
  amount: {
    s: (seconds: number | string): string => `${seconds}\u00a0s`,
    coats: (count: number | string): string => `${count}\u00a0coats`,
  },
};
