/** Lives of one tooth that are told of more than once: at two visits of a day, and under two cases. */
import { describe, expect, it } from 'vitest';
import { checkVisit } from '../../src/outcomes/check-visit.ts';
import type { BondedCase, FollowUp, Visit } from '../../src/outcomes/follow-up-types.ts';
import { livesOf } from '../../src/outcomes/lives.ts';
import { bonded, found, visit } from './clinic.ts';

const TODAY = '2028-01-01';

const followUp = (
  caseId: string,
  change: Partial<BondedCase>,
  visits: readonly Visit[] = [],
): FollowUp => ({
  caseId,
  bonded: bonded({ units: bonded().units.slice(0, 1), ...change }),
  visits: visits.map((one, n) => ({
    id: `${caseId}${n}`,
    visit: one,
    by: null,
    atWallMs: n,
    was: [],
  })),
  struck: [],
  recallsEnded: null,
  differing: [],
  unread: [],
  heads: [],
});

const again = found('11', 'lost-retention', { done: 'bonded-again' });

describe('two visits of one day', () => {
  it('that note one bonding again are one: it begins one life, and that life has no loss', () => {
    const twice = [visit('2027-01-01', again), visit('2027-01-01', again)];
    const lives = livesOf([followUp('a', {}, twice)], TODAY);
    expect(lives.map(({ id }) => id)).toEqual(['a/11', 'a/11#2']);
    expect(lives[1]?.ends.retention).toEqual({ event: 'none', afterDay: 0, byDay: null });
    expect(lives).toEqual(livesOf([followUp('a', {}, twice.slice(1))], TODAY));
  });

  it('add up what each found', () => {
    const of = [visit('2027-01-01', found('11', 'in-place')), visit('2027-01-01', again)];
    const once = livesOf([followUp('a', {}, of.slice(1))], TODAY);
    expect(livesOf([followUp('a', {}, of)], TODAY)).toEqual(once);
    expect(livesOf([followUp('a', {}, of.toReversed())], TODAY)).toEqual(once);
  });

  it('that look at the same unit are refused: the first is to be corrected', () => {
    const about = followUp('a', {}, [visit('2027-01-01', again)]);
    const codes = (of: Visit, replaces?: string) =>
      checkVisit(of, { followUp: about, today: TODAY, ...(replaces ? { replaces } : {}) }).map(
        ({ code }) => code,
      );
    expect(codes(visit('2027-01-01', again))).toEqual(['noted-that-day']);
    expect(codes(visit('2027-01-01', found('11', 'not-seen')))).toEqual([]);
    expect(codes(visit('2027-01-02', found('11', 'in-place')))).toEqual([]);
    expect(codes(visit('2027-01-01', again), 'a0')).toEqual([]);
  });
});

describe('a tooth that was bonded again as another case', () => {
  const lost = visit('2027-01-04', found('11', 'lost-retention', { done: 'left' }));
  const later = (more: Partial<BondedCase> = {}) =>
    followUp('b', { bondedOn: '2027-01-06', ...more }, [
      visit('2027-12-01', found('11', 'in-place')),
    ]);

  it('was not lost for good: lost on Monday, bonded again on Wednesday', () => {
    const [life] = livesOf([followUp('a', {}, [lost]), later()], TODAY);
    expect(life?.ends.retention).toMatchObject({ event: 'event', byDay: 368 });
    expect(life?.ends.survival).toMatchObject({ event: 'none', afterDay: 368 });
    expect(life?.possibleDays).toBe(370);
  });

  it('is the same patient in another writing, and shown as one', () => {
    const lives = livesOf(
      [followUp('a', { patient: 'P 3' }, [lost]), later({ patient: 'p-3.' })],
      TODAY,
    );
    expect(lives[0]?.ends.survival?.event).toBe('none');
    expect(new Set(lives.map(({ patient }) => patient))).toEqual(new Set(['P 3']));
    const other = livesOf(
      [followUp('a', { patient: 'P 3' }, [lost]), later({ patient: 'P 4' })],
      TODAY,
    );
    expect(other[0]?.ends.survival?.event).toBe('event');
    expect(new Set(other.map(({ patient }) => patient)).size).toBe(2);
  });

  it('no longer tells of what was there before', () => {
    const seen = visit('2027-12-01', found('11', 'in-place'));
    const [life] = livesOf([followUp('a', {}, [seen]), later()], TODAY);
    expect(life?.ends.survival).toEqual({ event: 'none', afterDay: 0, byDay: null });
    expect(livesOf([followUp('a', {}, [seen])], TODAY)[0]?.ends.survival?.afterDay).toBe(699);
  });

  it('keeps a loss for which something new was made', () => {
    const anew = visit('2027-01-04', found('11', 'lost-retention', { done: 'replaced' }));
    const [life] = livesOf([followUp('a', {}, [anew]), later()], TODAY);
    expect(life?.ends.survival?.event).toBe('event');
  });

  it('takes a visit that names that case as one up to its bonding', () => {
    const named = found('11', 'lost-retention', { done: 'bonded-again', bondedAgainIn: 'b' });
    const lives = livesOf([followUp('a', {}, [visit('2027-01-08', named)]), later()], TODAY);
    expect(lives.map(({ id }) => id)).toEqual(['a/11', 'b/11']);
    expect(lives[0]?.ends.retention).toMatchObject({ event: 'event', byDay: 370 });
  });

  it('is one life where the visit named no case', () => {
    const [at] = [visit('2027-01-06', again)];
    const lives = livesOf([followUp('a', {}, [at]), later()], TODAY);
    expect(lives.map(({ id }) => id)).toEqual(['a/11', 'b/11']);
  });
});

describe('what was seen of it', () => {
  const lost = (statedDay: string) => found('11', 'lost-retention', { statedDay });
  const check = (of: Visit, ...before: readonly Visit[]) =>
    checkVisit(of, { followUp: followUp('a', {}, before), today: TODAY }).map(({ code }) => code);

  it('can be lost on the evening of the bonding, unless it was seen since', () => {
    const at = visit('2026-01-04', lost('2026-01-01'));
    expect(check(at)).toEqual([]);
    const [life] = livesOf([followUp('a', {}, [at])], TODAY);
    expect(life?.ends.retention).toEqual({ event: 'event', afterDay: 0, byDay: 0 });
    const seen = visit('2026-01-02', found('11', 'in-place'));
    expect(check(at, seen)).toEqual(['stated-day-before-last-seen']);
    const [kept] = livesOf([followUp('a', {}, [seen, at])], TODAY);
    expect(kept?.ends.retention).toEqual({ event: 'event', afterDay: 1, byDay: 3 });
  });

  it('cannot be in place where a visit before found it gone, unless it was bonded again', () => {
    const gone = (done: 'left' | 'bonded-again') =>
      visit('2026-06-01', found('11', 'lost-retention', { done }));
    const seen = visit('2026-07-01', found('11', 'in-place'));
    expect(check(seen, gone('left'))).toEqual(['seen-after-gone']);
    expect(check(seen, gone('bonded-again'))).toEqual([]);
    expect(check(visit('2026-07-01', again), gone('left'))).toEqual([]);
  });

  it('of a bridge with a retainer that was not seen, says nothing of the whole but a loss', () => {
    const bridge = (other: 'in-place' | 'lost-retention') =>
      followUp('a', { units: bonded().units.slice(2) }, [
        visit('2026-06-01', {
          unit: '13-15',
          findings: ['in-place'],
          retainers: [
            { tooth: '13', findings: [other] },
            { tooth: '15', findings: ['not-seen'] },
          ],
        }),
      ]);
    const ends = (of: FollowUp) => livesOf([of], TODAY)[0]?.ends.retention;
    expect(ends(bridge('in-place'))).toEqual({ event: 'none', afterDay: 0, byDay: null });
    expect(ends(bridge('lost-retention'))).toEqual({ event: 'event', afterDay: 0, byDay: 151 });
  });
});

it('of what was left of a deleted case the time in which it could have been seen does not grow', () => {
  const left = followUp('left-1', { patient: 'left-1' }, [
    visit('2026-07-01', found('11', 'in-place')),
  ]);
  const [then] = livesOf([left], TODAY);
  const [later] = livesOf([left], '2038-01-01');
  expect(then?.possibleDays).toBe(then?.ends.retention?.afterDay);
  expect(later).toEqual(then);
});

it('what was bonded again under its own case could be seen as the earlier bonding up to that day', () => {
  const visits = [visit('2027-01-01', again), visit('2027-12-01', found('11', 'in-place'))];
  const about = (caseId: string) => livesOf([followUp(caseId, {}, visits)], '2028-01-01');
  for (const caseId of ['a', 'left-1']) {
    const [first, second] = about(caseId);
    expect(first?.possibleDays).toBe(first?.ends.survival?.afterDay);
    expect(second?.possibleDays).toBe(caseId === 'a' ? 365 : 334);
  }
});
