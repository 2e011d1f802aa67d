/** Another end of a case that comes in several messages, as its tablet pressed on: it is one end. */
import { expect, it } from 'vitest';
import { otherEnds, type Piece } from '../../src/runtime/sharing/join-entries.ts';
import { entriesOf, finished } from '../export/journals.ts';

const records = finished().log.records;
const here = entriesOf(records, 'case-1');
const there = entriesOf(
  records.map((r, n) => (n === 4 ? { ...r, by: 'somebody-else' } : r)),
  'case-1',
);

const piece = (from: number, to: number): Piece => ({
  subject: `j.s.d.case-1.${from}.${to}`,
  device: 'other',
  at: from,
  entries: there.slice(from, to),
});

it.each([
  ['in order', [piece(3, 6), piece(6, 7), piece(7, 9), piece(9, 14)]],
  ['in any order', [piece(9, 14), piece(7, 9), piece(3, 6), piece(6, 7)]],
  ['with one that comes twice, and longer', [piece(3, 6), piece(4, 9), piece(4, 6), piece(9, 14)]],
])('is one end, %s', (_, pieces) => {
  // This tablet has less of the case, as much, and more than the other.
  for (const length of [8, 14, here.length]) {
    const ends = otherEnds(here.slice(0, length), pieces);
    expect(ends).toHaveLength(1);
    expect(ends[0]).toMatchObject({ at: 4, device: 'other' });
    expect(ends[0]?.entries).toEqual(there.slice(4, 14));
  }
});

it('is shown as far as it is known where a piece in the middle is missing', () => {
  const [first] = otherEnds(here, [piece(3, 6), piece(9, 14)]);
  expect(first?.entries).toEqual(there.slice(4, 6));
});
