/** Units from before the app as they stand in the form, and what is wrong with them. Pure. */
import { isDay } from '../../outcomes/days.ts';
import type { BondedUnit } from '../../outcomes/follow-up-types.ts';
import type { EarlierBonding } from '../../runtime/follow-up/follow-up-state.ts';
import { bondedBeforeWords } from '../../words/follow-up-words.ts';

export interface BeforeDraft {
  readonly chartRef: string;
  readonly title: string;
  /** ISO 3950 numbers, in the order in which they were chosen. */
  readonly teeth: readonly string[];
  readonly restoration: string;
  readonly material: string;
  readonly bondedOn: string;
  /** Null: today. */
  readonly seenFrom: string | null;
  readonly dentist: string;
}

export const NEW_BEFORE: BeforeDraft = {
  chartRef: '',
  title: '',
  teeth: [],
  restoration: 'veneer',
  material: 'lithium-disilicate',
  bondedOn: '',
  seenFrom: null,
  dentist: '',
};

const isBridge = ({ restoration }: BeforeDraft): boolean => restoration === 'bridge';

/** Marks that turn the direction of text would turn the sentence around it as well. */
const TURNS = /[\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;
const plain = (typed: string): string => typed.replace(TURNS, '').trim();

/** Enamel was first etched for bonding in 1955 (J Dent Res 1955;34:849): an earlier year was typed by half. */
const FIRST_DAY = '1955-01-01';

type Field = 'chartRef' | 'teeth' | 'bondedOn' | 'seenFrom';

/** Words by field; none when nothing is wrong. */
export function beforeProblems(draft: BeforeDraft, today: string): ReadonlyMap<Field, string> {
  const { faults } = bondedBeforeWords;
  const told = new Map<Field, string>();
  const { chartRef, teeth, bondedOn } = draft;
  const seenFrom = draft.seenFrom ?? today;
  if (plain(chartRef) === '') told.set('chartRef', faults.chartRef);
  if (teeth.length === 0) told.set('teeth', isBridge(draft) ? faults.bridge : faults.teeth);
  if (!isDay(bondedOn) || bondedOn < FIRST_DAY) told.set('bondedOn', faults.day);
  else if (bondedOn > today) told.set('bondedOn', faults.future);
  if (!isDay(seenFrom)) told.set('seenFrom', faults.day);
  else if (seenFrom > today) told.set('seenFrom', faults.future);
  else if (!told.has('bondedOn') && seenFrom < bondedOn) told.set('seenFrom', faults.seenBefore);
  return told;
}

/** Each tooth is a unit of its own; a bridge is one unit on all of its retainers. */
function unitsOf(draft: BeforeDraft): readonly BondedUnit[] {
  const { restoration, material } = draft;
  const teeth = draft.teeth.toSorted();
  const about = { restoration, material, limits: [] };
  if (isBridge(draft)) return [{ ...about, unit: teeth.join('-'), teeth, isBridge: true }];
  return teeth.map((tooth) => ({ ...about, unit: tooth, teeth: [tooth], isBridge: false }));
}

/** What is noted; `title` stands where none was typed. */
export function bondingOf(
  draft: BeforeDraft,
  o: { readonly today: string; readonly title: string },
): EarlierBonding {
  const dentist = plain(draft.dentist);
  const title = plain(draft.title);
  return {
    patient: plain(draft.chartRef),
    title: title === '' ? o.title : title,
    bondedOn: draft.bondedOn,
    seenFrom: draft.seenFrom ?? o.today,
    people: dentist === '' ? [] : [{ role: 'dentist', label: dentist }],
    lots: [],
    units: unitsOf(draft),
  };
}
