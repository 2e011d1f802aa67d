/** Recalled lots at the lead's desk, and whom to call. */
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

export const recall = {
  title: 'Recalled lots',
  lede: 'A mark warns at the chair and in the list. The log keeps each mark and each removal.',
  none: 'No lot is marked.',
  mark: 'Mark a lot',
  lot: 'Lot',
  lotHint: 'As printed on the box.',
  noLot: 'No box of this lot is on the list. A box that comes later is marked.',
  reason: 'Why, and on whose word',
  markDo: 'Mark as recalled',
  boxes: (count: number): string => plural(count, { one: '1 box', other: `${count} boxes` }),
  lift: 'Remove the mark',
  liftName: (lot: string): string => `Remove the mark of lot ${lot}`,
  liftNote: 'The mark is removed from every box of this lot, with your name and reason in the log.',
  liftReason: 'Why it is removed',
  since: (o: { readonly on: string; readonly reason: string }): string =>
    o.reason === '' ? `${o.on}: no reason was given` : `${o.on}: ${o.reason}`,
  toDesk: 'Remove the mark, at the lead’s desk',
  shelfNote:
    'Every box of this lot is marked at once. The mark is removed only at the lead’s desk, with a reason.',
  shelfReason: 'Why, and on whose word (may be added later)',
  calls: 'Cases to call',
  callsOf: (lot: string): string => `Cases to call, lot ${lot}`,
  callsName: (lot: string): string => `Cases to call for lot ${lot}`,
  callsLede: 'Every patient case on this tablet whose record or preparation names the lot.',
  callsNone: 'No case that can be read names this lot.',
  callsReading: (o: { readonly done: number; readonly of: number }): string =>
    `Reading the cases: ${o.done} of ${o.of}. The list is not complete yet.`,
  cannotTell: (count: number): string =>
    plural(count, {
      one: '1 case cannot be read. The lot may have been used in it.',
      other: `${count} cases cannot be read. The lot may have been used in them.`,
    }),
  cannotTellWhole: 'Part of this case cannot be read. The lot may have been used there too.',
  print: 'Print',
  save: 'Save as CSV',
  chart: 'Chart reference',
  case: 'Case',
  day: 'Day',
  standing: 'Status',
  standings: {
    prepared: 'Prepared',
    running: 'Not closed',
    closed: 'Closed',
    'cannot-tell': 'Cannot tell',
  },
  teeth: 'Teeth',
  bonded: 'What was bonded',
  used: 'Used for',
  /** One place of the protocol with the steps that used it, and where the lot is not from the list. */
  withSlot: (o: {
    readonly slot: string;
    readonly steps: readonly string[];
    readonly isTyped: boolean;
  }): string => {
    const used =
      o.steps.length === 0 ? `${o.slot}: named, not used yet` : `${o.slot}: ${list(o.steps)}`;
    return o.isTyped ? `${used} (lot typed by hand)` : used;
  },
  noted: 'In the note of the preparation',
  bondedUnit: (o: {
    readonly teeth: readonly string[];
    readonly restoration: string;
    readonly material: string;
  }): string => `${list(o.teeth)}: ${o.restoration}, ${o.material}`,
  problems: {
    'no-such-lot': 'Enter the lot.',
    empty: 'Give a reason.',
    'desk-closed': 'The desk has closed. Open it again.',
  },
};
