/** Words of the set-up page. */

import type { Notation } from '../../protocol/case-types.ts';
import type { CaseRange } from '../../protocol/schema-case.ts';
import type { Role } from '../../protocol/types.ts';
import { listIn, pluralIn } from '../grammar.ts';

const list = listIn('en-GB');
const plural = pluralIn('en');

interface Range {
  readonly min: number;
  readonly max: number;
}

/** Units of one material, and the materials that the protocol is written for, as in a sentence. */
interface OtherMaterial {
  readonly units: readonly string[];
  readonly material: string;
  readonly written: readonly string[];
}

const otherMaterial = ({ units, material, written }: OtherMaterial): string =>
  plural(units.length, {
    one: `${list(units)} is ${material}. The protocol is written for ${list(written)}.`,
    other: `${list(units)} are ${material}. The protocol is written for ${list(written)}.`,
  });

export const setUp = {
  titleNew: 'Set up a case',
  titleEdit: 'Change a prepared case',
  lede: 'No name is needed. The case carries a chart reference.',
  gone: 'This case is not prepared on this tablet',
  goneTodo: 'It may have been deleted. Set up a new one.',
  save: 'Save this case',
  leave: 'Leave without saving',
  remove: 'Delete this prepared case',
  notSaved: 'Not saved yet.',
  notSavedTodo: 'See what is marked. Nothing you typed was lost.',
  notWriter: 'This window is view only.',
  notWriterTodo: 'Press "Take over here" above, then save the case. Nothing you typed was lost.',
  theCase: 'Case',
  chartRef: 'Chart reference',
  chartRefHint: 'The number on the chart. Never a patient’s name.',
  caseTitle: 'Title',
  caseTitleHint: 'Such as "Eight upper veneers"',
  date: 'Date',
  time: 'Time',
  whenRead: (o: { readonly day: string; readonly time: string }): string => `${o.day}, ${o.time}`,
  whenReadNone: 'No date',
  wholeMoment: 'Enter a date and a time, or neither',
  whenPast: 'This time is over. Enter one that is to come.',
  readOnAhead: 'This day is to come. Enter the day of the reading.',
  sameName: 'Somebody has this name already. Name them apart.',
  tooThick: (o: { readonly kind: string; readonly mm: number; readonly most: number }): string =>
    `${o.mm} mm is too thick for ${o.kind}. Enter at most ${o.most} mm.`,
  protocolToChoose: 'Choose a protocol',
  notation: 'Tooth numbering',
  notations: {
    fdi: 'FDI',
    universal: 'Universal',
    palmer: 'Palmer',
  } satisfies Record<Notation, string>,
  protocol: 'Protocol',
  protocolHint: 'An unconfirmed one can be rehearsed, but not used on a patient.',
  protocolUnconfirmed: (title: string): string => `${title} (unconfirmed)`,
  protocolGone: (id: string): string => `${id} (not on this tablet)`,
  teeth: 'Teeth',
  teethLede: 'Press the teeth to be restored.',
  teethPicture: 'Teeth of this case',
  units: 'Units, in seating order',
  unitsLede: 'Centrals first unless you move them.',
  noUnits: 'Press a tooth above. Its unit appears here.',
  unit: (label: string): string => `Unit ${label}`,
  restoration: 'Restoration',
  material: 'Material',
  thickness: 'Thickness',
  shade: 'Shade',
  earlier: 'Earlier',
  later: 'Later',
  earlierName: (label: string): string => `Seat ${label} earlier`,
  laterName: (label: string): string => `Seat ${label} later`,
  allLikeFirst: 'Make all units like the first',
  defaultOrder: 'Back to centrals first',
  opacity: 'Translucency',
  conditioned: 'Inner face before',
  notAskedYet: 'Not asked yet',
  shows: 'What the teeth show',
  showsLede: 'Press all that apply. Times and steps follow it, tooth by tooth.',
  tooth: (label: string): string => `Tooth ${label}`,
  showsOf: (label: string): string => `What ${label} shows`,
  provisional: 'Provisional held by',
  allTeethLikeFirst: 'Make all teeth like the first',
  choices: 'How this clinic works',
  choicesLede: 'The instructions of the products in hand decide.',
  unfitNotAsked: (o: { readonly units: readonly string[]; readonly fact: string }): string =>
    `Not asked yet for ${list(o.units)}: ${o.fact}.`,
  people: 'People',
  peopleLede: 'Initials or a short label. The first person presses until another takes over.',
  person: (n: number): string => `Person ${n}`,
  label: 'Label',
  role: 'Role',
  roles: { dentist: 'Dentist', assistant: 'Assistant' } satisfies Record<Role, string>,
  addPerson: 'Add a person',
  removePerson: 'Remove',
  removePersonName: (n: number): string => `Remove person ${n}`,
  /** Teeth of a unit, pontics among them. */
  unitLabel: (teeth: readonly string[]): string => teeth.join('–'),
  ponticLabel: (tooth: string): string => `(${tooth})`,
  more: {
    unknown: (unit: string): string => `More for ${unit}: light through it, bridge`,
    measured: (unit: string): string => `More for ${unit}: light through it (measured), bridge`,
    published: (unit: string): string => `More for ${unit}: light through it (published), bridge`,
  },
  passes: 'Share of the light that passes through',
  passesHint:
    'Of curing light only: a colour meter gives another figure. The product’s own time applies where it is longer.',
  passesUnknown: 'Not known: plan with the published shares of its class',
  passesMeasured: 'Measured here',
  passesRow: (o: {
    readonly material: string;
    readonly shade: string;
    readonly at: string;
    readonly share: string;
  }): string =>
    o.shade === ''
      ? `Published for ${o.material}, ${o.at} mm: ${o.share} %`
      : `Published for ${o.material}, ${o.shade}, ${o.at} mm: ${o.share} %`,
  passesOther: (o: { readonly share: string; readonly at: string }): string =>
    `Published, as in the file: ${o.share} % at ${o.at} mm`,
  passesShare: 'Passes through',
  passesAt: 'At a thickness of',
  passesBasis: 'How it was measured',
  passesBasisHint: 'With which meter, on which day',
  joinWith: 'In one piece with',
  joinWithHint: 'Makes one bridge of the two. Each tooth is then bonded or a pontic.',
  joinNothing: 'Nothing else',
  toothOfBridge: (tooth: string): string => `Tooth ${tooth}`,
  bonded: 'Bonded',
  pontic: 'Pontic',
  split: 'Split',
  splitName: (label: string): string => `Split ${label} into single units`,
  unfit: 'Not saved yet: this case does not fit its protocol.',
  unfitTodo: 'Choose another protocol or another material above, or save it anyway.',
  saveAnyway: 'Save anyway',
  unfitMaterial: {
    'acid-on-zirconia': (o: OtherMaterial): string =>
      `${otherMaterial(o)} Its acid finds no glass in zirconia to dissolve: it gives no hold and leaves the risk of the acid. Zirconia is air-abraded and primed with phosphate.`,
    'no-acid-for-glass': (o: OtherMaterial): string =>
      `${otherMaterial(o)} This ceramic holds by the glass that hydrofluoric acid dissolves, and the protocol has no such acid.`,
    'other-material': (o: OtherMaterial): string =>
      `${otherMaterial(o)} Its conditioning was chosen for those.`,
  },
  lightThick: (o: {
    readonly units: readonly string[];
    readonly mm: string;
    readonly most: string;
  }): string =>
    o.mm === ''
      ? `${list(o.units)}: this material lets little light through. A cement that sets by light alone is cautioned here.`
      : `${list(o.units)}: ${o.mm} mm is thick for a cement that sets by light alone. Above ${o.most} mm take a dual-cured one.`,
  lightTooThick: (o: {
    readonly units: readonly string[];
    readonly mm: string;
    readonly most: string;
  }): string =>
    `${list(o.units)}: ${o.mm} mm, more than the ${o.most} mm for a cement that sets by light alone. Take a dual-cured cement.`,
  lightHeld: (o: {
    readonly units: readonly string[];
    readonly step: string;
    readonly reached: string;
    readonly cause: string;
    readonly wayOut: string;
  }): string =>
    `${list(o.units)}: “${o.step}” brings ${o.reached} J/cm² to the cement within the ceilings of light. ${o.cause} ${o.wayOut}`,
  lightNoProgramme: (o: { readonly units: readonly string[]; readonly step: string }): string =>
    `${list(o.units)}: the lamp has no programme for “${o.step}” within 40 J/cm². Take another lamp.`,
  lightProductOver: (o: { readonly units: readonly string[]; readonly step: string }): string =>
    `${list(o.units)}: the product’s own time for “${o.step}” is over 40 s a place or 60 s a surface.`,
  unfitRestoration: (o: {
    readonly units: readonly string[];
    readonly kind: { readonly one: string; readonly all: string };
    readonly written: readonly string[];
  }): string =>
    plural(o.units.length, {
      one: `${list(o.units)} is ${o.kind.one}. The protocol is written for ${list(o.written)}.`,
      other: `${list(o.units)} are ${o.kind.all}. The protocol is written for ${list(o.written)}.`,
    }),
  room: 'Room and light',
  temperature: 'Room temperature',
  lux: 'Light in the room',
  luxHint: 'At the chair, with the lamp turned away. May stay empty.',
  light: 'Curing light',
  lightHint: 'Which one it is',
  irradiance: 'Output, as measured',
  baseline: 'Its own baseline',
  baselineHint: 'What it read when it was new or serviced. May stay empty.',
  tip: 'Tip diameter',
  readOn: 'Measured on',
  programmes: 'Times it can be set to',
  programmesHint: 'As 3, 5, 10, 20. Where it stays empty, times go up in steps of 5 s.',
  programmesAs: 'Enter at most 20 times from 1 to 120 s, with commas between them',
  remarks: 'Allergies and notes',
  allergies: 'Allergies',
  allergiesHint: 'What the patient said, about resins above all: "None known, asked on the day".',
  note: 'Note',
  ofBaseline: (percent: string): string => `${percent} of its baseline`,
  required: 'Needed before the case can be saved',
  wholeDate: 'Enter a date that exists',
  tooLong: 'Too long: shorten it',
  ranges: {
    share: (o) => `Enter a share from ${o.min} to ${o.max}`,
    atThicknessMm: (o) => `Enter a thickness from ${o.min} to ${o.max} mm`,
    thicknessMm: (o) => `Enter a thickness from ${o.min} to ${o.max} mm`,
    irradianceMwPerCm2: (o) => `Enter a number from ${o.min} to ${o.max} mW/cm²`,
    baselineMwPerCm2: (o) => `Enter a number from ${o.min} to ${o.max} mW/cm²`,
    tipDiameterMm: (o) => `Enter a diameter from ${o.min} to ${o.max} mm`,
    temperatureC: (o) => `Enter a temperature from ${o.min} to ${o.max} °C`,
    lux: (o) => `Enter a number from ${o.min} to ${o.max} lux`,
  } satisfies Record<CaseRange, (o: Range) => string>,
  noTeeth: 'Choose at least one tooth',
  noPeople: 'Name at least one person',
};
