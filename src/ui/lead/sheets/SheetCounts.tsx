import type { ProductSheet } from '../../../protocol/sheet-types.ts';
import { sheetWords } from '../../../words/product-sheet-words.ts';
import { StateMark } from '../../parts/StateMark.tsx';

/** How many numbers a sheet has, where they stand, and how many nobody has read in this revision. */
export function SheetCounts({ sheet }: { readonly sheet: ProductSheet }) {
  const unread = sheet.lines.filter(({ read }) => read === undefined).length;
  const spots = sheet.lines.flatMap((line) => line.spots);
  const protocols = new Set(spots.map(({ protocol }) => protocol)).size;
  return (
    <p className="standing">
      <StateMark shape={unread > 0 ? 'part' : 'full'} />
      <span>{sheetWords.count(sheet.lines.length)}</span>
      <span>{sheetWords.places({ places: spots.length, protocols })}</span>
      {unread > 0 && <strong>{sheetWords.unread(unread)}</strong>}
    </p>
  );
}
