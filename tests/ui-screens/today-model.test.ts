/** The first screen and the far view as models: order, due dates, standing. */

import { describe, expect, it } from 'vitest';
import { durationMs, monoMs, wallMs } from '../../src/base/units.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { caseToFollow, openCases, todayModel } from '../../src/ui/shared/today-model.ts';
import { instantOf } from '../../src/words/date-words.ts';
import { caseOf, ETCH_ROUND } from '../engine/fixture.ts';
import { protocolNamed } from '../families/family-chair.ts';
import { HERE } from '../tools/here.ts';

const NOW_MS = new Date(2026, 10, 25, 8, 0).getTime();
const HOUR_MS = durationMs(3_600_000);

const summary = (
  caseId: string,
  o: { mode?: 'patient' | 'rehearsal'; hoursAgo: number; closed?: boolean },
) => {
  const at = wallMs(NOW_MS - o.hoursAgo * HOUR_MS);
  return {
    caseId,
    title: caseId,
    chartRef: 'SB-1',
    mode: o.mode ?? ('patient' as const),
    openedWallMs: at,
    lastStamp: { wallMs: at, monoMs: monoMs(0), runId: 'r' },
    closedByPress: o.closed ? 3 : null,
    entries: 3,
    head: '',
    lastEpoch: 1,
  };
};

const at = (id: string, scheduledFor?: string) => ({
  ...caseOf(['11']),
  id,
  ...(scheduledFor ? { scheduledFor } : {}),
});
const local = (day: number, hour: number): string =>
  new Date(2026, 10, day, hour).toISOString().replace('.000Z', 'Z');

const model = (o: Partial<Parameters<typeof todayModel>[0]>) =>
  todayModel({
    cases: [],
    prepared: [],
    protocols: [],
    runningId: null,
    nowMs: NOW_MS,
    times: HERE,
    ...o,
  });

describe('the first screen', () => {
  it('groups prepared cases by day, each group by time', () => {
    const prepared = [
      at('later', local(29, 9)),
      at('noon', local(25, 12)),
      at('unset'),
      at('morning', local(25, 9)),
      at('tomorrow', local(26, 9)),
      at('past', local(24, 9)),
      at('long past', local(20, 9)),
    ];
    const { groups, dueCount } = model({ prepared });
    const shown = groups.map((g) => [
      g.title,
      g.kind,
      ...g.cards.map((c) => `${c.spec.id} ${c.when}`),
    ]);
    // 25 November 2026 is a Wednesday (ISO 8601 calendar).
    expect(shown).toEqual([
      ['Overdue', 'overdue', 'long past Fri 20 Nov, 09:00', 'past Tue 24 Nov, 09:00'],
      ['Wed 25 Nov 2026', 'near', 'morning 09:00', 'noon 12:00'],
      ['Thu 26 Nov 2026', 'near', 'tomorrow 09:00'],
      ['Sun 29 Nov 2026', 'far', 'later 09:00'],
      ['No date', 'unset', 'unset '],
    ]);
    expect(dueCount).toBe(3);
  });

  it('puts the running case first, then patients before rehearsals, newest first', () => {
    const cases = [
      summary('old-patient', { hoursAgo: 9 }),
      summary('rehearsal', { hoursAgo: 1, mode: 'rehearsal' }),
      summary('patient', { hoursAgo: 2 }),
      summary('running', { hoursAgo: 5, mode: 'rehearsal' }),
      summary('done', { hoursAgo: 1, closed: true }),
    ];
    const { open, finished } = model({ cases, runningId: 'running' });
    expect(open.map((c) => c.caseId)).toEqual(['running', 'patient', 'old-patient', 'rehearsal']);
    expect(finished.map((c) => c.caseId)).toEqual(['done']);
  });

  it.each([
    ['missing', []],
    ['unconfirmed', [{ protocol: ETCH_ROUND, hash: 'h', approval: null, origin: 'own' as const }]],
    [
      'confirmed',
      [
        {
          protocol: ETCH_ROUND,
          hash: 'h',
          approval: { hash: 'h', by: 'Lead', onWallMs: 1 },
          origin: 'own' as const,
        },
      ],
    ],
  ])('tells a protocol that is %s', (standing, protocols) => {
    const { groups } = model({ prepared: [at('a')], protocols });
    expect(groups[0]?.cards[0]?.standing).toBe(standing);
  });
});

describe('dates', () => {
  it('an instant with an offset is the instant of ISO 8601, whatever the zone of the tablet', () => {
    expect(instantOf('2026-11-26T09:00:00+01:00')).toBe(Date.UTC(2026, 10, 26, 8));
    expect(instantOf('tomorrow')).toBeNull();
  });
});

describe('the case a second window follows', () => {
  const cases = [
    summary('a', { hoursAgo: 3 }),
    summary('b', { hoursAgo: 1 }),
    summary('c', { hoursAgo: 0, closed: true }),
  ];
  // At 60 times the speed its entries are stamped hours ahead of the clock.
  const ahead = summary('fast', { mode: 'rehearsal', hoursAgo: -5 });

  it('is the open one with the newest entry', () => {
    expect(caseToFollow(cases, null)).toBe('b');
    expect(caseToFollow([], null)).toBeNull();
  });

  it("is a patient's case before a rehearsal, however far ahead its entries are stamped", () => {
    expect(caseToFollow([ahead, ...cases], null)).toBe('b');
    expect(caseToFollow([ahead], null)).toBe('fast');
  });

  it('is the one that runs on this tablet, once that was heard of and while it is open', () => {
    expect(caseToFollow([ahead, ...cases], 'a')).toBe('a');
    expect(caseToFollow([ahead, ...cases], 'c')).toBe('b');
  });

  it('of two rehearsals is the one begun last', () => {
    const opened = (hoursAgo: number) => summary('x', { hoursAgo }).openedWallMs;
    const old = { ...ahead, openedWallMs: opened(9) };
    const late = {
      ...summary('late', { mode: 'rehearsal', hoursAgo: 1 }),
      openedWallMs: opened(2),
    };
    expect(caseToFollow([old, late], null)).toBe('late');
  });
});

describe('a prepared case that was begun', () => {
  const prepared = [at('p', local(25, 12))];
  const cards = (cases: Parameters<typeof todayModel>[0]['cases']) =>
    model({ prepared, cases }).groups.flatMap((g) => g.cards);

  it('stands once, among the open cases, and nowhere to be begun again once it is closed', () => {
    const begun = { ...summary('c', { hoursAgo: 1 }), specId: 'p' };
    const open = (cases: Parameters<typeof todayModel>[0]['cases']) =>
      openCases(cases, null).map((c) => c.caseId);
    expect(cards([]).map((c) => c.spec.id)).toEqual(['p']);
    expect([cards([begun]), open([begun])]).toEqual([[], ['c']]);
    const closed = { ...begun, closedByPress: 3 };
    expect([cards([closed]), open([closed])]).toEqual([[], []]);
  });

  it('was not begun by a rehearsal', () => {
    const rehearsed = { ...summary('r', { mode: 'rehearsal', hoursAgo: 1, closed: true }) };
    expect(cards([{ ...rehearsed, specId: 'p' }]).map((c) => c.spec.id)).toEqual(['p']);
  });

  it('is followed by its finishing visit with the end of its hold', () => {
    const lastExposureWallMs = NOW_MS - HOUR_MS;
    const protocol = protocolNamed('finishing-visit');
    const visit = {
      ...at('v'),
      protocol: protocol.id,
      follows: { caseId: 'p', lastExposureWallMs },
    };
    const protocols = [{ protocol, hash: 'h', approval: null, origin: 'template' as const }];
    const [card] = model({ prepared: [visit], protocols }).groups.flatMap((g) => g.cards);
    // 24 h: the hold of the shipped finishing visit.
    expect(card?.holdEndsMs).toBe(NOW_MS + 23 * HOUR_MS);
    expect(card?.when).toMatch(/^The hold ends/);
  });
});

describe('the numbering of prepared cases', () => {
  const numberings = (...notations: readonly CaseFile['notation'][]) =>
    model({ prepared: notations.map((notation, n) => ({ ...at(`c${n}`), notation })) })
      .groups.flatMap((g) => g.cards)
      .map((c) => c.numbering);

  it('is named at each where cases in several stand in the list', () => {
    expect(numberings('fdi', 'universal')).toEqual(['FDI', 'Universal']);
  });

  it('is not named where all are in one', () => {
    expect(numberings('palmer', 'palmer')).toEqual(['', '']);
  });
});
