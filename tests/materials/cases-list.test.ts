/** The list of cases: what it is found by, which cases used a lot, and what may be deleted. */
import { beforeEach, describe, expect, it } from 'vitest';
import { CasesList, isExported, notExported } from '../../src/runtime/cases-list.ts';
import {
  type CaseFacts,
  casesWithLot,
  fits,
  NO_FILTER,
} from '../../src/runtime/cases-list-facts.ts';
import { manualClock } from '../../src/runtime/clock.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { emptyJournal, must } from '../backup/filled-journal.ts';
import { opening, pressOf } from '../storage/sample-case.ts';

const facts = (more: Partial<CaseFacts>): CaseFacts => ({
  caseId: 'c1',
  head: 'h1',
  title: 'Upper front, two units',
  chartRef: 'KB-2041',
  mode: 'patient',
  openedWallMs: Date.UTC(2026, 10, 25, 9),
  isClosed: true,
  teeth: ['11', '21'],
  people: ['AN', 'MR'],
  protocol: 'Thin veneers',
  lots: [
    {
      slot: 'cement',
      slotLabel: 'Cement',
      materialClass: 'light-cured resin cement',
      label: 'Cement, shelf 2',
      lot: 'CE-7',
      steps: ['Load'],
    },
  ],
  breaches: 0,
  ...more,
});
const dayOf = (ms: number): string => new Date(ms).toISOString().slice(0, 10);

describe('finding a case', () => {
  const rows: readonly [string, Partial<typeof NO_FILTER>, boolean][] = [
    ['no filter', {}, true],
    ['a word of the title, in any case', { words: 'UPPER' }, true],
    ['two words from two places', { words: 'kb-2041 shelf' }, true],
    ['a lot', { words: 'CE-7' }, true],
    ['a class of material', { words: 'resin cement' }, true],
    ['a word that is nowhere', { words: 'upper lower' }, false],
    ['one of its teeth', { tooth: '21' }, true],
    ['another tooth', { tooth: '2' }, false],
    ['its own day at both ends', { from: '2026-11-25', to: '2026-11-25' }, true],
    ['a day later', { from: '2026-11-26' }, false],
    ['a day before', { to: '2026-11-24' }, false],
    ['bounds not kept', { breaches: 'some' }, false],
    ['all bounds kept', { breaches: 'none' }, true],
    ['patients', { mode: 'patient' }, true],
    ['rehearsals', { mode: 'rehearsal' }, false],
  ];
  it.each(rows)('by %s', (_, filter, found) => {
    expect(fits(facts({}), { ...NO_FILTER, ...filter }, dayOf)).toBe(found);
  });

  it('by a lot, however it is written, newest first', () => {
    const older = facts({ caseId: 'c0', openedWallMs: 0 });
    const other = facts({ caseId: 'c2', lots: [] });
    const uses = casesWithLot([older, facts({}), other], ' ce-7 ');
    expect(uses.map((u) => u.facts.caseId)).toEqual(['c1', 'c0']);
    expect(casesWithLot([facts({})], 'CE-77')).toEqual([]);
  });
});

describe('keeping cases', () => {
  let journal: Journal;
  let epoch: number;
  let list: CasesList;
  let changes: number;

  beforeEach(async () => {
    ({ journal, epoch } = await emptyJournal());
    changes = 0;
    list = new CasesList({
      journal,
      epoch: () => epoch,
      crypto: null,
      clock: manualClock({ wallMs: Date.UTC(2026, 10, 25), monoMs: 0, runId: 'r' }),
      onChanged: async () => {
        changes += 1;
      },
    });
    must(await journal.append({ caseId: 'c', epoch, recorded: [opening('c')] }));
    await list.refresh();
  });

  const head = () => list.state.get().facts[0]?.head ?? '';
  const remove = () => list.deleteCase({ caseId: 'c', by: 'AN', reason: 'kept long enough' });

  it('refuses to delete what was never exported', async () => {
    expect(await remove()).toMatchObject({ ok: false, error: { code: 'not-exported' } });
    expect(must(await journal.read('c')).entries).toHaveLength(1);
  });

  it('refuses to delete what got longer after it was exported', async () => {
    must(await list.markExported({ caseId: 'c', head: head(), form: 'json' }));
    must(await journal.append({ caseId: 'c', epoch, recorded: pressOf(1, 1) }));
    expect(await remove()).toMatchObject({ ok: false, error: { code: 'not-exported' } });
    await list.refresh();
    expect(isExported(list.state.get(), { caseId: 'c', head: head() })).toBe(false);
  });

  it('deletes what was exported as it stands, and keeps a mark with who, when and why', async () => {
    must(await list.markExported({ caseId: 'c', head: head(), form: 'json' }));
    must(await remove());
    const state = list.state.get();
    expect(state.facts).toEqual([]);
    expect(state.tombstones).toMatchObject([
      { caseId: 'c', by: 'AN', reason: 'kept long enough', entries: 1 },
    ]);
    expect(changes).toBe(1);
  });

  it('does nothing in a window that only reads', async () => {
    const reader = new CasesList({
      journal,
      epoch: () => null,
      crypto: null,
      clock: manualClock({ wallMs: 0, monoMs: 0, runId: 'r' }),
      onChanged: async () => undefined,
    });
    const marked = await reader.markExported({ caseId: 'c', head: 'h', form: 'json' });
    expect(marked).toMatchObject({ ok: false, error: { code: 'not-writer' } });
  });

  it('counts closed cases of patients that are not exported, and no rehearsal', () => {
    const all = [
      facts({}),
      facts({ caseId: 'c2', mode: 'rehearsal' }),
      facts({ caseId: 'c3', isClosed: false }),
    ];
    const state = { ...list.state.get(), facts: all };
    expect(notExported(state).map((f) => f.caseId)).toEqual(['c1']);
    const marks = new Map([['c1', { head: 'h1', form: 'json', onWallMs: 0 }]]);
    expect(notExported({ ...state, marks })).toEqual([]);
  });
});
