/** Words of the form of one step: its sections, its evidence, its times, its place. */
import type { Edge, Evidence, ReadBack, Step } from '../../protocol/types.ts';
import { listIn } from '../grammar.ts';

const list = listIn('en-GB');

interface Titled {
  readonly title: string;
  readonly more: string;
}

export const stepForm = {
  // The sections of the sheet
  what: 'What it is',
  waits: 'What it waits for',
  asked: 'What is done and asked',
  pressed: 'Rounds and presses',
  uses: 'What it uses',
  bar: 'What the bar says',
  whatNote: (o: { readonly stage: string; readonly per: string; readonly by: string }): string =>
    `${o.stage}, ${o.per}, ${o.by}`,
  nothing: 'Nothing',
  light: 'curing light',
  materials: 'Materials',
  noMaterials: 'The protocol has no materials yet.',
  listed: (names: readonly string[]): string => list(names),
  /** Two steps with one title are told apart by what they are done for, or by their place. */
  apart: (o: Titled): string => `${o.title} (${o.more})`,
  place: (place: number): string => `step ${place}`,
  // What it waits for
  edge: { start: 'as soon as it has begun', end: 'once it is done' } satisfies Record<Edge, string>,
  edgeLabel: 'When',
  waitOnlyWhere: (step: string): string => `Wait for ${step} only where`,
  addWhere: 'Only where …',
  addWhereName: (step: string): string => `Wait for ${step} only where …`,
  doneOnlyWhere: 'Done only where',
  voided: 'Only where this was to be done again',
  voidedAny: 'Wherever the way back was taken',
  // What is done and asked
  evidence: 'What is asked with the press',
  evidenceKind: {
    none: 'Nothing',
    choice: 'One answer of several',
    reading: 'A reading',
    material: 'Lot and expiry of a material',
    note: 'A note',
    'read-back': 'Reading aloud',
  } satisfies Record<Evidence['kind'] | 'none', string>,
  readBack: {
    teeth: 'the teeth and units of the case',
    protocol: 'the protocol and its revision',
    materials: 'the materials with their lots',
    allergies: 'the allergies',
    people: 'the people and their roles',
    loading: 'shade and readiness of what is loaded',
    readiness: 'readiness of every unit',
  } satisfies Record<ReadBack, string>,
  against: {
    'light-baseline': 'The baseline of the light',
  },
  answers: 'Answers',
  answer: (place: number): string => `Answer ${place}`,
  addAnswer: 'Add an answer',
  again: (label: string): string => `“${label}”: to be done again`,
  walk: {
    'by-surface': 'One surface of all units, then the next surface',
    'by-unit': 'All surfaces of one unit, then the next unit',
  },
  surfaceOrder: (surfaces: readonly string[]): string => `In this order: ${surfaces.join(', ')}`,
  addPick: 'Step to add',
  choosePick: 'Choose a step',
  // Times that differ
  byMaterial: 'Times for a class of material',
  byMaterialLede: 'A unit of this class gets these times instead.',
  addMaterial: 'Class to add',
  chooseMaterial: 'Choose a class',
  timesOf: (what: string): string => `Times for ${what}`,
  variants: 'Times where more is known',
  variantsLede: 'The first whose conditions hold wins over all other times.',
  addVariant: 'Add times where more is known',
  variant: (place: number): string => `case ${place}`,
  variantWhere: (place: number): string => `Case ${place} holds where`,
  numbersElsewhere: 'The numbers are set under Numbers, with their basis.',
  removeTimes: (what: string): string => `Remove times for ${what}`,
  hands: 'The hands apply and rinse subject by subject, one after the other',
  handsLede: 'A step with such a rhythm leads rounds of its own. Its times are set under Numbers.',
  // Where it stands
  putAfter: 'Put after …',
  putAfterName: (title: string): string => `Put after … ${title}`,
  putAfterTitle: (title: string): string => `Put “${title}” after …`,
  first: 'At the beginning',
  standsAfter: 'Stands after',
  drag: (title: string): string => `Drag ${title} to its place`,
  earlier: {
    'last-exposure': 'With the last exposure to light of the case before',
  } satisfies Record<NonNullable<Step['earlier']>, string>,
  field: {
    closes: 'Isolated from the end of this step on',
    opens: 'No longer isolated from the end of this step on',
  } satisfies Record<NonNullable<Step['field']>, string>,
  /** Kinds of step, by the code that published ranges go by. */
  kinds: {
    'etch-enamel': 'Etch of enamel',
    'etch-dentine': 'Etch of dentine',
    'etch-enamel-first': 'Etch of enamel before the dentine',
    'acid-glass-ceramic': 'Acid in glass-ceramic',
    'acid-lithium-disilicate': 'Acid in lithium disilicate',
    'acid-feldspathic': 'Acid in feldspathic ceramic',
    'acid-leucite': 'Acid in leucite glass-ceramic',
    'rinse-after-acid': 'Rinse of a unit after acid',
    'rinse-after-etch': 'Rinse of a tooth after etching',
    'clean-after-try-in': 'Cleaning after the try-in',
    'air-abrasion': 'Air abrasion',
    'coats-adhesive': 'Coats of adhesive',
    'rub-adhesive': 'Rubbing adhesive in',
    'stand-adhesive': 'Adhesive left to stand',
    'air-solvent': 'Air for the solvent of an adhesive',
    'primer-ceramic': 'Primer on glass-ceramic or composite',
    'primer-zirconia': 'Primer on zirconia',
    'air-primer': 'Air for a primer',
    tack: 'Tack with light',
    expose: 'Light on surfaces',
    'sample-bead': 'Sample bead of cement',
  },
};
