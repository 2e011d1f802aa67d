/** Words of the set-up page. */
import type { Finding } from '../protocol/finding.ts';
import type { CaseFile } from '../protocol/types.ts';
import { materialWord, restorationWord } from './material-words.ts';
import { subjectLabel } from './subject-words.ts';

export const setUpWords = {
  titleNew: 'Set up a case',
  titleEdit: 'Change a prepared case',
  lede: 'No name is needed. The case carries a chart reference.',
  gone: 'This case is not prepared on this tablet',
  goneTodo: 'It may have been deleted. Set up a new one.',
  keep: 'Keep this case',
  dropChanges: 'Leave without keeping',
  remove: 'Delete this prepared case',
  notKept: 'Not kept yet.',
  notKeptTodo: 'See what is marked. Nothing you typed was lost.',
  notWriter: 'This window only reads along.',
  notWriterTodo: 'Press "Write here" above, then keep the case. Nothing you typed was lost.',
  theCase: 'Case',
  chartRef: 'Chart reference',
  chartRefHint: 'The number on the chart. Never a patient’s name.',
  caseTitle: 'Title',
  caseTitleHint: 'Such as "Eight upper veneers"',
  date: 'Date',
  time: 'Time',
  whenRead: (o: { readonly day: string; readonly time: string }): string => `${o.day}, ${o.time}`,
  whenReadNone: 'No date yet',
  wholeMoment: 'Expected a date and a time, or neither',
  notation: 'How teeth are named',
  namedAs: 'Teeth named as',
  asCase: 'As the case',
  notations: { fdi: 'FDI', universal: 'Universal', palmer: 'Palmer' },
  protocol: 'Protocol',
  protocolHint: 'Unconfirmed ones can be rehearsed, not used on a patient.',
  protocolOption: (o: { readonly title: string; readonly confirmed: boolean }): string =>
    o.confirmed ? o.title : `${o.title} (unconfirmed)`,
  protocolGone: (id: string): string => `${id} (not on this tablet)`,
  teeth: 'Teeth',
  teethLede: 'Press the teeth that receive a restoration.',
  teethPicture: 'Teeth of this case',
  units: 'Units, in seating order',
  unitsLede: 'Centrals first unless you move them.',
  noUnits: 'Press a tooth above. Its unit appears here.',
  unit: (label: string): string => `Unit ${label}`,
  restoration: 'Restoration',
  material: 'Material',
  thickness: 'Thickness',
  shade: 'Shade',
  up: 'Up',
  down: 'Down',
  upName: (label: string): string => `Seat ${label} earlier`,
  downName: (label: string): string => `Seat ${label} later`,
  sameForAll: 'As the first, for all units',
  defaultOrder: 'Back to centrals first',
  people: 'People',
  peopleLede: 'Initials or a short label. The first one presses until another takes over.',
  person: (n: number): string => `Person ${n}`,
  label: 'Label',
  role: 'Role',
  roles: { dentist: 'Dentist', assistant: 'Assistant' },
  addPerson: 'Add a person',
  removePerson: 'Remove',
  removePersonName: (n: number): string => `Remove person ${n}`,
  unitLabel: (teeth: readonly string[]): string => teeth.join('–'),
  ponticLabel: (tooth: string): string => `(${tooth})`,
  more: (o: { readonly unit: string; readonly passes: string }): string =>
    o.passes === 'unknown'
      ? `More for ${o.unit}: light through it, bridge`
      : `More for ${o.unit}: light through it (${o.passes}), bridge`,
  passes: 'Share of the light that passes',
  passesHint:
    'A share of light only: colour meters give another one. The product’s own time stands when it is longer.',
  passesUnknown: 'Not known: plan with the lowest published share',
  passesMeasured: 'Measured here',
  passesRow: (o: {
    readonly material: string;
    readonly shade: string;
    readonly at: string;
    readonly share: string;
  }): string => {
    const shade = o.shade === '' ? '' : `, ${o.shade}`;
    return `Published: ${o.material}${shade}, ${o.at} mm: ${o.share} %`;
  },
  passesOther: (o: { readonly share: string; readonly at: string }): string =>
    `Published, as in the file: ${o.share} % at ${o.at} mm`,
  passesShare: 'Passes',
  passesAt: 'At',
  passesBasis: 'How it was measured',
  passesBasisHint: 'With which meter, on which day',
  joinWith: 'In one piece with',
  joinWithHint: 'Makes a bridge of the two. Its teeth can then be bonded or replaced.',
  joinNothing: 'Nothing else',
  toothOfBridge: (tooth: string): string => `Tooth ${tooth}`,
  bonded: 'Bonded',
  pontic: 'Pontic',
  part: 'Part into single units',
  partName: (label: string): string => `Part ${label} into single units`,
  unfit: 'Not kept yet: this case does not fit its protocol.',
  unfitTodo: 'Choose another protocol or another material above, or keep it all the same.',
  keepAllTheSame: 'Keep it all the same',
  room: 'Room and light',
  temperature: 'Room temperature',
  lux: 'Light in the room',
  luxHint: 'At the chair, with the lamp turned away. May stay empty.',
  light: 'Curing light',
  lightHint: 'Which one it is',
  irradiance: 'Output as read',
  baseline: 'Its own baseline',
  baselineHint: 'What it read when it was new or serviced. May stay empty.',
  tip: 'Tip diameter',
  readOn: 'Read on',
  remarks: 'Asked and noted',
  allergies: 'Allergies',
  allergiesHint: 'What was answered, to resins above all: "None known, asked on the day".',
  note: 'Note',
  ofBaseline: (percent: string): string => `${percent} of its baseline`,
  required: 'Needed before the case can be kept',
  range: (o: { readonly expected: string }): string => `Expected ${o.expected}`,
  noTeeth: 'Choose at least one tooth',
  noPeople: 'Name at least one person',
} as const;

const REASONS = {
  'acid-on-zirconia':
    'Its acid finds no glass in zirconia to dissolve: it gives no hold and leaves the risk of the acid. Zirconia is air-abraded and primed with phosphate.',
  'no-acid-for-glass':
    'This ceramic holds by the glass that hydrofluoric acid dissolves, and the protocol has no such acid.',
  'other-material': 'Its conditioning was chosen for other materials.',
} as const;

const listed = (value: unknown, wordOf: (id: string) => string): string =>
  Array.isArray(value) ? value.map((each) => wordOf(String(each)).toLowerCase()).join(', ') : '';

function unfitWords({ code, values }: Finding): string {
  switch (code) {
    case 'material-not-in-protocol': {
      const reason = Object.entries(REASONS).find(([key]) => key === values['reason'])?.[1];
      const is = materialWord(String(values['material'])).toLowerCase();
      const written = listed(values['materials'], materialWord);
      return `${is}; the protocol is written for ${written}. ${reason ?? ''}`.trim();
    }
    case 'restoration-not-in-protocol': {
      const is = restorationWord(String(values['restoration'])).toLowerCase();
      const written = listed(values['restorations'], restorationWord);
      return `${is}; the protocol is written for ${written}.`;
    }
    default:
      // The other findings are about a protocol, not about a case.
      return code;
  }
}

/** Why units of a case are not what its protocol is written for: what is said alike, said once. */
export function fitLines(findings: readonly Finding[], spec: CaseFile): readonly string[] {
  const units = new Map<string, string[]>();
  for (const finding of findings) {
    const words = unfitWords(finding);
    const unit = subjectLabel(`unit:${finding.values['id']}`, spec);
    units.set(words, [...(units.get(words) ?? []), unit]);
  }
  return [...units].map(([words, list]) => `${list.join(', ')}: ${words}`);
}
