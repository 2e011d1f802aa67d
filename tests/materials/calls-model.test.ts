/** Which cases stand on the list of whom to call, and of which it cannot be told. */
import { describe, expect, it } from 'vitest';
import { monoMs, wallMs } from '../../src/base/units.ts';
import type { CaseFacts } from '../../src/runtime/cases/cases-list-facts.ts';
import type { CaseSummary } from '../../src/storage/journal-types.ts';
import { callRows } from '../../src/ui/materials/calls/calls-model.ts';
import { caseNamed } from '../families/family-chair.ts';
import { HERE } from '../tools/here.ts';

const used = {
  slot: 's',
  slotLabel: 'Cement',
  materialClass: 'c',
  label: 'Cement',
  lot: 'AB-12',
  steps: ['Seat'],
};
const facts = (caseId: string, more: Partial<CaseFacts>): CaseFacts => ({
  caseId,
  head: 'h',
  title: `Case ${caseId}`,
  chartRef: `KB-${caseId}`,
  mode: 'patient',
  openedWallMs: new Date('2026-11-20T09:00:00').getTime(),
  isClosed: true,
  teeth: ['11'],
  people: [],
  protocol: 'p',
  lots: [],
  breaches: 0,
  perhaps: 0,
  ...more,
});
const summary = (caseId: string): CaseSummary => ({
  caseId,
  title: `Case ${caseId}`,
  chartRef: `KB-${caseId}`,
  mode: 'patient',
  openedWallMs: wallMs(new Date('2026-11-19T09:00:00').getTime()),
  lastStamp: { wallMs: wallMs(0), monoMs: monoMs(0), runId: 'r' },
  closedByPress: null,
  entries: 1,
  head: 'h',
  lastEpoch: 1,
});
const nothing = {
  lot: 'ab 12',
  facts: [],
  isRead: true,
  unreadable: [],
  summaries: [],
  damaged: [],
  prepared: [],
  read: new Map(),
  times: HERE,
};
const told = (o: Partial<Parameters<typeof callRows>[0]>) =>
  callRows({ ...nothing, lot: 'ab-12', ...o }).map(
    ({ chartRef, standing, isWhole, day }) => [chartRef, standing, isWhole, day] as const,
  );

describe('whom to call', () => {
  it('are the cases of the lot, running and closed, and none of another lot', () => {
    const all = [
      facts('1', { lots: [used] }),
      facts('2', { lots: [used], isClosed: false }),
      facts('3', { lots: [{ ...used, lot: 'AB-13' }] }),
    ];
    expect(told({ facts: all })).toEqual([
      ['KB-1', 'closed', true, '2026-11-20'],
      ['KB-2', 'running', true, '2026-11-20'],
    ]);
  });

  it('are no rehearsals: nobody had the lot on a tooth', () => {
    const mode = 'rehearsal';
    expect(told({ facts: [facts('1', { lots: [used], mode })] })).toEqual([]);
    expect(told({ unreadable: ['4'], summaries: [{ ...summary('4'), mode }] })).toEqual([]);
  });

  it('are the prepared cases too whose note names the lot', () => {
    const spec = caseNamed('four-veneers-universal');
    const at = { scheduledFor: '2026-12-02T09:00:00+00:00', chartRef: 'KB-9' };
    const prepared = [
      { ...spec, ...at, note: 'cement lot AB-12, as asked' },
      { ...spec, ...at, note: 'lot AB-123' },
    ];
    expect(told({ prepared })).toEqual([['KB-9', 'prepared', true, '2026-12-02']]);
  });

  it('name each case that cannot be read, or not whole, once all have been looked at', () => {
    const all = [
      facts('1', { lots: [used], breaches: null }),
      facts('2', { breaches: null }),
      facts('3', {}),
    ];
    const damaged = [
      { caseId: '5', title: 'Case 5', chartRef: 'KB-5', known: 9, head: 'h', left: 0, apart: 0 },
    ];
    const rest = { unreadable: ['4'], summaries: [summary('4')], damaged };
    expect(told({ facts: all, ...rest })).toEqual([
      ['KB-1', 'closed', false, '2026-11-20'],
      ['KB-5', 'cannot-tell', false, null],
      ['KB-2', 'cannot-tell', false, '2026-11-20'],
      ['KB-4', 'cannot-tell', false, '2026-11-19'],
    ]);
    // What could not be read just now may say more than is told here.
    const closed = [facts('1', { lots: [used] })];
    expect(told({ facts: closed, failed: ['1'] })).toEqual([
      ['KB-1', 'closed', false, '2026-11-20'],
    ]);
    // While they are being read it is no news that some are not.
    expect(told({ facts: [facts('2', { breaches: null })], isRead: false })).toEqual([]);
  });
});
