/** Visits as they are noted, corrected and struck, on one tablet and on two. */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { checkVisit } from '../../src/outcomes/check-visit.ts';
import { rateInForce } from '../../src/outcomes/model/accepted.ts';
import { asFact, keepFact } from '../../src/runtime/facts/fact.ts';
import { readConflicts } from '../../src/runtime/sharing/read-conflicts.ts';
import { must } from '../backup/filled-journal.ts';
import { factsOf } from '../facts/tablets.ts';
import { bonded, found, keepBonded, meet, visit, withFollowUps } from './clinic.ts';

const allIn = (onDay: string) =>
  visit(onDay, found('11', 'in-place'), found('21', 'in-place'), found('13-15', 'in-place'));

async function oneCase() {
  const a = await withFollowUps('a');
  await keepBonded(a, { caseId: 'case-1' });
  must(await a.followUps.open());
  const row = () => a.followUps.state.getState().list[0];
  return { a, row };
}

describe('a visit', () => {
  it('stands on its case once it was noted, and in every window that reads anew', async () => {
    const { a, row } = await oneCase();
    expect(row()).toMatchObject({ caseId: 'case-1', patient: 'C-101', lastSeen: null });
    const id = must(
      await a.followUps.noteVisit({ caseId: 'case-1', visit: allIn('2026-01-14'), by: 'TK' }),
    );
    expect(row()).toMatchObject({
      lastSeen: '2026-01-14',
      followUp: { visits: [{ id, by: 'TK' }] },
    });
    const anew = a.anew();
    must(await anew.open());
    expect(anew.state.getState().list).toEqual(a.followUps.state.getState().list);
  });

  it('is corrected by entries that follow one another, and what it was stays told', async () => {
    const { a, row } = await oneCase();
    const by = 'TK';
    const caseId = 'case-1';
    const first = must(await a.followUps.noteVisit({ caseId, visit: allIn('2026-01-14'), by }));
    const second = must(
      await a.followUps.correctVisit({
        caseId,
        of: first,
        visit: allIn('2026-01-15'),
        reason: 'wrong day',
        by,
      }),
    );
    const third = must(
      await a.followUps.correctVisit({
        caseId,
        of: second,
        visit: allIn('2026-01-16'),
        reason: 'wrong again',
        by,
      }),
    );
    expect(row()?.followUp.visits).toMatchObject([
      {
        id: third,
        visit: { onDay: '2026-01-16' },
        was: [
          { id: first, visit: { onDay: '2026-01-14' }, reason: 'wrong day' },
          { id: second, visit: { onDay: '2026-01-15' }, reason: 'wrong again' },
        ],
      },
    ]);
    const stale = { caseId, of: first, visit: allIn('2026-01-17'), reason: '', by };
    expect(await a.followUps.correctVisit(stale)).toMatchObject({
      error: { code: 'no-such-visit' },
    });
    must(await a.followUps.strikeVisit({ caseId, of: third, reason: 'another patient', by }));
    expect(row()?.followUp.visits).toEqual([]);
    expect(row()?.followUp.struck).toMatchObject([
      { visit: { onDay: '2026-01-16' }, reason: 'another patient' },
    ]);
    expect(await factsOf(a)).toHaveLength(5);
  });

  it('without a right day is told once, at its day, and not again at each stated day', async () => {
    const { row } = await oneCase();
    const followUp = present(row(), 'a case').followUp;
    const lost = found('11', 'lost-retention', { statedDay: '2026-06-01' });
    for (const day of ['', '2025-01-01', '2027-01-01']) {
      const faults = checkVisit(visit(day, lost), { followUp, today: '2026-12-01' });
      expect(
        faults.map(({ place }) => place),
        day,
      ).toEqual(['visit.onDay']);
    }
  });
});

describe('a visit that two tablets correct without knowing of each other', () => {
  async function two() {
    const [a, b] = [await withFollowUps('a'), await withFollowUps('b')];
    const caseId = 'case-1';
    await keepBonded(a, { caseId });
    const of = must(await a.followUps.noteVisit({ caseId, visit: allIn('2026-01-14'), by: null }));
    await meet(a, b);
    const change = (onDay: string) => ({
      caseId,
      of,
      visit: allIn(onDay),
      reason: onDay,
      by: null,
    });
    return { a, b, caseId, of, change };
  }

  it('is shown with both until a third entry names both', async () => {
    const { a, b, caseId, of, change } = await two();
    must(await a.followUps.correctVisit(change('2026-01-15')));
    must(await b.followUps.correctVisit(change('2026-01-16')));
    await meet(a, b);
    const shown = async (of: typeof a) => {
      const anew = of.anew();
      must(await anew.open());
      const [row] = anew.state.getState().list;
      return { anew, row };
    };
    const [here, there] = [await shown(a), await shown(b)];
    expect(here.row).toEqual(there.row);
    expect(here.row?.differing).toMatchObject([{ visit: of }]);
    const sides = here.row?.differing[0]?.sides ?? [];
    expect(sides.map(({ tablet, visit }) => `${tablet} ${visit?.onDay}`).toSorted()).toEqual([
      'a 2026-01-15',
      'b 2026-01-16',
    ]);
    expect(must(await readConflicts(a.journal))).toMatchObject([
      { kind: 'visit', id: caseId, visit: of, title: 'Two veneers and a bridge' },
    ]);
    expect(must(await readConflicts(b.journal))).toEqual(must(await readConflicts(a.journal)));
    // One of them stands meanwhile, the same on both.
    expect(here.row?.followUp.visits).toHaveLength(1);
    const id = sides[1]?.id ?? '';
    const settled = { caseId, of: id, visit: allIn('2026-01-16'), reason: 'asked', by: null };
    must(await here.anew.correctVisit(settled));
    await meet(a, b);
    const after = await shown(b);
    expect(after.row?.differing).toEqual([]);
    expect(must(await readConflicts(b.journal))).toEqual([]);
    expect(after.row?.followUp.visits).toMatchObject([{ visit: { onDay: '2026-01-16' } }]);
  });

  it('is no conflict where both say the same, and where one only knew more', async () => {
    const { a, b, change } = await two();
    must(await a.followUps.correctVisit(change('2026-01-15')));
    must(await b.followUps.correctVisit(change('2026-01-15')));
    await meet(a, b);
    const anew = a.anew();
    must(await anew.open());
    expect(anew.state.getState().list[0]?.differing).toEqual([]);
  });

  it('keeps what one corrected where the other struck it, and shows both', async () => {
    const { a, b, caseId, of, change } = await two();
    must(await a.followUps.strikeVisit({ caseId, of, reason: 'twice', by: null }));
    must(await b.followUps.correctVisit(change('2026-01-16')));
    await meet(a, b);
    const anew = b.anew();
    must(await anew.open());
    const [row] = anew.state.getState().list;
    expect(row?.followUp.visits).toMatchObject([{ visit: { onDay: '2026-01-16' } }]);
    expect(
      row?.differing[0]?.sides.map((side) => side.visit?.onDay ?? 'struck').toSorted(),
    ).toEqual(['2026-01-16', 'struck']);
  });

  it('stays beside what came while its form was open', async () => {
    const { a, b, of, change } = await two();
    must(await a.followUps.open());
    const seen = a.followUps.state.getState().list[0]?.followUp.heads ?? [];
    must(await b.followUps.correctVisit(change('2026-01-16')));
    await meet(a, b);
    // The form was opened on the entry that was last then.
    const late = { ...change('2026-01-15'), seen, of };
    expect(must(await a.followUps.correctVisit(late))).not.toBe('');
    const both = a.anew();
    must(await both.open());
    expect(both.state.getState().list[0]?.differing).toHaveLength(1);
  });
});

describe('what is not understood', () => {
  it('is kept and counted, and hides nothing else of the case', async () => {
    const { a } = await oneCase();
    const strange = {
      kind: 'follow-up',
      item: 'case-1',
      after: [],
      tablet: 'b',
      by: null,
    } as const;
    for (const said of [
      { what: 'of-later-versions' },
      { ...bonded(), bondedOn: '2026-02-30' },
      7,
    ]) {
      must(await keepFact(a.journal, asFact({ ...strange, said, atWallMs: 2 }), a.epoch));
    }
    await a.journal.documents.put({
      kind: 'fact-follow-up',
      id: 'f'.repeat(64),
      value: {},
      epoch: a.epoch,
    });
    const anew = a.anew();
    must(await anew.open());
    expect(anew.state.getState()).toMatchObject({ unread: 4, list: [{ caseId: 'case-1' }] });
    expect(anew.state.getState().list[0]?.followUp.unread).toHaveLength(3);
  });
});

describe('what is asked of the outcomes', () => {
  const question = { endPoint: 'survival', limits: ['window/cement-open'] } as const;
  const read = async (of: Awaited<ReturnType<typeof withFollowUps>>) => {
    const anew = of.anew();
    must(await anew.open());
    return { anew, reviews: anew.state.getState().reviews };
  };

  it('is one question, fixed once; another one on another tablet stands beside it until one is chosen', async () => {
    const [a, b] = [await withFollowUps('a'), await withFollowUps('b')];
    must(await a.followUps.fixQuestion({ question, by: 'Lead' }));
    const other = { ...question, endPoint: 'success' } as const;
    must(await b.followUps.fixQuestion({ question: other, by: 'Lead' }));
    await meet(a, b);
    const { anew, reviews } = await read(a);
    expect(reviews.differing.map(({ endPoint }) => endPoint).toSorted()).toEqual([
      'success',
      'survival',
    ]);
    must(await anew.fixQuestion({ question, by: 'Lead' }));
    await meet(a, b);
    const { reviews: settled } = await read(b);
    expect(settled).toMatchObject({
      question: { ...question, onDay: '2026-12-01' },
      differing: [],
    });
    expect(settled.earlier).toHaveLength(2);
  });

  it('carries the accepted rate to the other tablet; one that differs in the rate alone differs', async () => {
    const [a, b] = [await withFollowUps('a'), await withFollowUps('b')];
    const rates = (survival: number) => ({ ...question, accepted: { survival } });
    must(await a.followUps.fixQuestion({ question: rates(0.03), by: null }));
    await meet(a, b);
    const there = await read(b);
    expect(rateInForce(there.reviews, 'survival')).toMatchObject({
      yearlyRate: 0.03,
      fixedOn: '2026-12-01',
    });
    must(await there.anew.fixQuestion({ question: rates(0.05), by: null }));
    must(await a.followUps.fixQuestion({ question: rates(0.04), by: null }));
    await meet(a, b);
    const { anew, reviews } = await read(a);
    expect(reviews.differing.map(({ accepted }) => accepted?.survival).toSorted()).toEqual([
      0.04, 0.05,
    ]);
    must(await anew.fixQuestion({ question: rates(0.05), by: null }));
    await meet(a, b);
    expect((await read(b)).reviews).toMatchObject({ differing: [], question: rates(0.05) });
  });

  it('is still understood where it was fixed before it carried a rate, and then it is 2 %', async () => {
    const a = await withFollowUps('a');
    // As it was stored then.
    const { id, ...value } = {
      kind: 'outcome-review',
      item: 'question',
      said: {
        what: 'question-fixed',
        question: { endPoint: 'survival', limits: ['window/cement-open'], onDay: '2026-01-02' },
      },
      after: [],
      tablet: 'b',
      by: 'Lead',
      atWallMs: 1767350000000,
      id: '6edab141f7952b21788e4a7adbbaff36093484ad784c2ebfa0ad4c75017121bd',
    };
    must(await a.journal.documents.put({ kind: 'fact-outcome-review', id, value, epoch: a.epoch }));
    const { anew, reviews } = await read(a);
    expect(anew.state.getState().unread).toBe(0);
    expect(reviews.question).toMatchObject({ endPoint: 'survival', onDay: '2026-01-02' });
    expect(rateInForce(reviews, 'survival')).toMatchObject({ yearlyRate: 0.02, fixedOn: null });
    // One that says 2 % itself asks the same.
    const b = await withFollowUps('b');
    const said = { ...question, accepted: { survival: 0.02 } };
    must(await b.followUps.fixQuestion({ question: said, by: null }));
    await meet(a, b);
    expect((await read(a)).reviews.differing).toEqual([]);
  });

  it('has its reviews, and the flags that were looked at', async () => {
    const a = await withFollowUps('a');
    const flag = {
      chart: 'lot',
      of: 'adhesive L-7',
      flaggedOn: '2026-11-20',
      note: 'asked the supplier',
    } as const;
    must(await a.followUps.noteFlagLooked({ flag, by: 'TK' }));
    const compared = {
      grouping: 'revision',
      lives: 40,
      patients: 22,
      failures: 3,
      p: null,
      adjusted: null,
      refused: ['few-failures'],
    };
    const review = {
      onDay: '2026-12-01',
      question: { ...question, onDay: '2026-01-02' },
      compared: [compared],
    };
    must(await a.followUps.noteReview({ review, by: 'Lead' }));
    const { reviews } = await read(a);
    expect(reviews).toMatchObject({
      looked: [{ ...flag, lookedOn: '2026-12-01' }],
      reviews: [review],
    });
  });
});
