/** When a case is to be seen again, and its recalls in a calendar that another program reads. */
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { recallCalendar } from '../../src/export/recall-calendar.ts';
import { addMonths } from '../../src/outcomes/days.ts';
import type { FollowUp, UnitFound } from '../../src/outcomes/follow-up-types.ts';
import { type CaseRecalls, recallsOf } from '../../src/outcomes/recalls.ts';
import { bonded, found, visit } from './clinic.ts';

const seenOn = (onDay: string, of: UnitFound['findings'][number] = 'in-place') =>
  visit(onDay, ...bonded().units.map(({ unit }) => found(unit, of)));

function followUp(days: readonly string[], more: Partial<FollowUp> = {}): FollowUp {
  return {
    caseId: 'c',
    bonded: bonded(),
    visits: days.map((onDay) => ({
      id: onDay,
      visit: seenOn(onDay),
      by: null,
      atWallMs: 0,
      was: [],
    })),
    struck: [],
    recallsEnded: null,
    differing: [],
    unread: [],
    heads: [],
    ...more,
  };
}

/** Bonded on 1 January 2026. */
const on = (today: string, of: FollowUp = followUp([]), everyMonths = 12): CaseRecalls =>
  recallsOf(of, { today, everyMonths });

const states = ({ all }: CaseRecalls) => all.map(({ id, state }) => `${id} ${state}`);

describe('recalls of a case', () => {
  it('stand at 2 weeks, 6 and 12 months, then at the interval of the clinic', () => {
    const { all } = on('2027-12-15');
    expect(all.map(({ id, dueOn }) => [id, dueOn])).toEqual([
      ['weeks', '2026-01-15'],
      ['months-6', '2026-07-01'],
      ['months-12', '2027-01-01'],
      ['later-1', '2028-01-01'],
      ['later-2', '2029-01-01'],
    ]);
    expect(on('2027-06-01', followUp([]), 4).all.at(-1)?.dueOn).toBe('2027-09-01');
    // An interval outside 3 to 24 months is brought inside.
    expect(on('2027-12-15', followUp([]), 99).all.at(-1)?.dueOn).toBe('2029-01-01');
    expect(on('2027-03-01', followUp([]), 1).all[3]?.dueOn).toBe('2027-04-01');
  });

  it('are due in their window, overdue behind it, and missed once the next window is open', () => {
    expect(states(on('2026-01-05'))).toEqual(['weeks ahead', 'months-6 ahead', 'months-12 ahead']);
    expect(on('2026-01-05')).toMatchObject({ due: null, next: { id: 'weeks' } });
    expect(on('2026-01-08').due).toMatchObject({ id: 'weeks', state: 'due' });
    expect(on('2026-01-23').due).toMatchObject({ id: 'weeks', state: 'overdue' });
    expect(states(on('2026-06-10'))).toEqual(['weeks missed', 'months-6 due', 'months-12 ahead']);
  });

  it('count a visit for the one that it is nearest to', () => {
    const seen = on('2026-04-20', followUp(['2026-04-20']));
    expect(states(seen)).toEqual(['weeks missed', 'months-6 held', 'months-12 ahead']);
    expect(seen).toMatchObject({ due: null, next: { id: 'months-12' } });
    expect(states(on('2026-03-20', followUp(['2026-03-20'])))[0]).toBe('weeks held');
  });

  it('end on the day on which another case takes the place of every unit, not the day before', () => {
    const endedOn = (today: string) =>
      recallsOf(followUp([]), { today, everyMonths: 12, takenOn: () => '2026-06-10' }).ended;
    expect(['2026-06-09', '2026-06-10'].map(endedOn)).toEqual([null, 'nothing-left']);
  });

  it('end by a word of people, and where nothing is left to be seen', () => {
    const ended = followUp([], { recallsEnded: { reason: 'moved away', onDay: '2026-02-01' } });
    expect(on('2026-06-10', ended)).toMatchObject({ due: null, next: null, ended: 'by-people' });
    const lost = followUp([]);
    const gone = { ...seenOn('2026-01-15', 'lost-retention') };
    const all = { ...lost, visits: [{ id: 'v', visit: gone, by: null, atWallMs: 0, was: [] }] };
    expect(on('2026-06-10', all)).toMatchObject({ due: null, ended: 'nothing-left' });
    const back = {
      ...gone,
      units: gone.units.map((u) => ({ ...u, done: 'bonded-again' as const })),
    };
    const again = { ...lost, visits: [{ id: 'v', visit: back, by: null, atWallMs: 0, was: [] }] };
    expect(on('2026-06-10', again)).toMatchObject({ due: { id: 'months-6' }, ended: null });
  });

  it('of units from before the app, count from the day on which they were first looked at', () => {
    const late = followUp([], {
      bonded: bonded({ bondedOn: '2019-05-31', seenFrom: '2026-08-31' }),
    });
    expect(on('2026-12-01', late, 6).all[0]).toMatchObject({ id: 'later-1', dueOn: '2027-02-28' });
  });

  it('know how long a month is', () => {
    expect(addMonths('2026-08-31', 6)).toBe('2027-02-28');
    expect(addMonths('2023-08-31', 6)).toBe('2024-02-29');
    expect(addMonths('2026-12-15', 1)).toBe('2027-01-15');
  });
});

// Outside reference: RFC 5545, read back by the ical.js parser.
describe('recalls in the calendar', () => {
  const options = {
    stampedAtMs: Date.UTC(2026, 0, 2, 10),
    today: '2026-01-02',
    zone: 'Europe/Lisbon',
  } as const;
  const eventsOf = (recalls: CaseRecalls) => {
    const of = { caseId: 'c', patient: 'C-101', teeth: ['11', '21'], recalls };
    const text = recallCalendar([of], options);
    if (text === null) return [];
    const calendar = new ICAL.Component(ICAL.parse(text));
    return calendar.getAllSubcomponents('vevent').map((each) => new ICAL.Event(each));
  };

  it('are those to come, each on its day by the clock of the clinic, with the same id every time', () => {
    const events = eventsOf(on('2026-01-02'));
    expect(events.map(({ summary, startDate }) => [summary, startDate.toString()])).toEqual([
      ['Recall: C-101', '2026-01-15T09:00:00'],
      ['Recall: C-101', '2026-07-01T09:00:00'],
      ['Recall: C-101', '2027-01-01T09:00:00'],
    ]);
    expect(events[0]?.description).toBe('Teeth 11 21 (FDI).');
    expect(new Set(events.map(({ uid }) => uid)).size).toBe(3);
    expect(eventsOf(on('2026-01-02')).map(({ uid }) => uid)).toEqual(events.map(({ uid }) => uid));
  });

  it('leave out what was held, and are none once recalls were ended', () => {
    const held = on('2026-02-01', followUp(['2026-01-14']));
    expect(eventsOf(held).map(({ startDate }) => startDate.month)).toEqual([7, 1]);
    expect(eventsOf({ ...held, ended: 'by-people' })).toEqual([]);
  });
});

describe('a visit that holds no recall', () => {
  const of = (onDay: string, ...units: readonly UnitFound[]): FollowUp =>
    followUp([], {
      visits: [{ id: 'v', visit: visit(onDay, ...units), by: null, atWallMs: 0, was: [] }],
    });
  const [first, ...others] = bonded().units.map(({ unit }) => unit);

  it('saw nothing', () => {
    const none = bonded().units.map(({ unit }) => found(unit, 'not-seen'));
    expect(on('2026-07-01', of('2026-07-01', ...none)).due).toMatchObject({ id: 'months-6' });
  });

  it('looked at one unit of several between two recalls', () => {
    expect(others.length).toBeGreaterThan(0);
    const one = found(first ?? '', 'sensitive');
    expect(on('2026-07-01', of('2026-05-10', one)).due).toMatchObject({ id: 'months-6' });
    // In its window a look at one unit is enough, and a look at all of them at any time.
    expect(on('2026-07-01', of('2026-06-20', one)).due).toBeNull();
    const all = bonded().units.map(({ unit }) => found(unit, 'in-place'));
    expect(on('2026-07-01', of('2026-05-10', ...all)).due).toBeNull();
  });

  it('left out a unit that was bonded again since', () => {
    const visits = [
      visit('2026-01-24', found('11', 'lost-retention')),
      visit('2026-01-26', found('11', 'lost-retention', { done: 'bonded-again' })),
      visit('2026-05-10', ...others.map((unit) => found(unit, 'in-place'))),
    ].map((one, n) => ({ id: String(n), visit: one, by: null, atWallMs: n, was: [] }));
    expect(first).toBe('11');
    expect(on('2026-07-01', followUp([], { visits })).due).toMatchObject({ id: 'months-6' });
    // Without that the unit is gone, and all that is left was looked at.
    const gone = followUp([], { visits: visits.toSpliced(1, 1) });
    expect(on('2026-07-01', gone).due).toBeNull();
  });
});
