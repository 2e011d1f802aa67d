/** A window of a unit that was through before its cement was mixed anew for the others: measured from its own cement. */
import { expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { edgeInstant } from '../../src/engine/edge-instant.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { waysBackNow } from '../../src/engine/ways-back.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { FamilyChair } from '../families/family-chair.ts';

/** Plays until one unit of the portion is through and another is not, slowly enough for cement to be late. */
function lateForOne(family: 'veneers, universal' | 'zirconia'): FamilyChair {
  const chair = FamilyChair.of(family, undefined, 'as-shipped');
  let isLate = false;
  for (;;) {
    const { state } = chair.log;
    const { subjects, byKey } = layoutOf(state);
    const units = subjects.linked('mix:1', 'unit');
    const through = units.filter((unit) =>
      subjects
        .linked(unit, 'tooth')
        .every((tooth) =>
          byKey.has(`tack@${tooth}`)
            ? edgeInstant(state.runs[`tack@${tooth}`], 'end') !== null
            : edgeInstant(state.runs[`seat@${unit}`], 'end') !== null,
        ),
    );
    if (through.length > 0 && through.length < units.length) return chair;
    if (!isLate && chair.view.offers[0]?.step === 'tack') {
      isLate = true;
      chair.atMs += 25 * 60_000;
    }
    if (chair.next() === null) throw new Error('no such moment');
  }
}

test.each(['veneers, universal', 'zirconia'] as const)('%s', (family) => {
  const chair = lateForOne(family);
  const offers = waysBackNow(chair.log.state, layoutOf(chair.log.state));
  const { wayBack } = present(
    offers.find((o) => o.wayBack.id === 'cement-late' && o.subjects.includes('mix:1')),
    'cement that is late',
  );
  const { id, mishap } = wayBack;
  const command = { do: 'take-way-back', mishap, subjects: ['mix:1'], reason: 'late' } as const;
  expect(chair.do({ ...command, wayBack: id })).toBeNull();
  chair.atMs += 120_000;
  chair.toTheEnd();
  const { log } = chair;
  const facts = recordFacts({
    log,
    entries: [],
    verification: { goodCount: 0, firstBad: null },
  } as never);
  const late = log.state.breaches.filter(({ of, kind }) => of === 'cement-open' && kind === 'late');
  expect(late.length).toBeGreaterThan(0);
  for (const { subject, by } of late) {
    const window = present(
      facts.windows.find((w) => w.window === 'cement-open' && w.subject === subject),
      subject,
    );
    // By as much as the engine told when it was closed.
    expect([window.state, window.marginToMaxMs]).toEqual(['broken', -by]);
  }
  expect(
    facts.windows.filter((w) => w.window === 'cement-open' && w.state === 'kept').length,
  ).toBeGreaterThan(0);
});
