/** A recall always lies ahead while somebody is to be seen again. The intervals are common practice, no source. */
import { expect, it } from 'vitest';
import type { FollowUp } from '../../src/outcomes/follow-up-types.ts';
import { recallsOf } from '../../src/outcomes/recalls.ts';
import { bonded, found, visit } from '../follow-up/clinic.ts';

it('a visit long before its recall opens holds it, and the one after it lies ahead', () => {
  const visits = ['2026-12-01', '2027-06-10'].map((onDay) => ({
    id: onDay,
    // All of them were looked at, outside the window of any recall.
    visit: visit(onDay, ...bonded().units.map(({ unit }) => found(unit, 'in-place'))),
    by: null,
    atWallMs: 0,
    was: [],
  }));
  const followUp: FollowUp = {
    caseId: 'case-1',
    bonded: bonded({ bondedOn: '2024-10-01', seenFrom: '2025-10-01' }),
    visits,
    struck: [],
    recallsEnded: null,
    differing: [],
    unread: [],
    heads: [],
  };
  const { all, next } = recallsOf(followUp, { today: '2027-06-10', everyMonths: 12 });
  expect(all.map(({ dueOn, state }) => [dueOn, state])).toEqual([
    ['2026-10-01', 'held'],
    ['2027-10-01', 'held'],
    ['2028-10-01', 'ahead'],
  ]);
  expect(next?.dueOn).toBe('2028-10-01');
});
