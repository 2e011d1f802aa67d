/** The list of cases: what it is found by, which cases used a lot, and what may be deleted. */

import { beforeEach, describe, expect, it, vi } from 'vitest';
import { replay } from '../../src/engine/log.ts';
import type { Recorded } from '../../src/engine/types.ts';
import { EXPORT_FORMS } from '../../src/export/export-forms.ts';
import { parseJournal } from '../../src/export/journal-json.ts';
import { journalsIn } from '../../src/export/journals-json.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { casesFile } from '../../src/runtime/cases/cases-export.ts';
import { CasesList, isExported, notExported } from '../../src/runtime/cases/cases-list.ts';
import {
  type CaseFacts,
  caseFinder,
  casesWithLot,
  NO_FILTER,
} from '../../src/runtime/cases/cases-list-facts.ts';
import type { FactsCache } from '../../src/storage/facts-cache.ts';
import { verifyChain } from '../../src/storage/hash-chain.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { caseStateWords } from '../../src/words/case-list-words.ts';
import { timesIn } from '../../src/words/date-words.ts';
import { emptyJournal, must } from '../backup/filled-journal.ts';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { manualClock } from '../runtime/manual-clock.ts';
import { opening, pressOf } from '../storage/sample-case.ts';
import { CASE_LINE } from './case-line.ts';

const facts = (more: Partial<CaseFacts>): CaseFacts => {
  const { isStoreOnly: _, ...here } = CASE_LINE;
  return { ...here, caseId: 'c1', openedWallMs: Date.UTC(2026, 10, 25, 9), ...more };
};
const dayOf = (ms: number): string => new Date(ms).toISOString().slice(0, 10);

/** A signed case on a patient. */
function closedCase(caseId: string, more = ''): readonly Recorded[] {
  const chair = new Chair(settingOf(ETCH_ROUND, ['11'])).rows(`
    at 0 s   confirm ready case
    at 1 s   start etch 11
    at 21 s  end etch 11
    at 45 s  end rinse 11
    at 50 s  confirm dry 11
    sign-off dentist-a
    ${more}
  `);
  return chair.log.records.map((r) =>
    r.event.type === 'case-opened'
      ? { ...r, event: { ...r.event, mode: 'patient', spec: { ...r.event.spec, id: caseId } } }
      : r,
  );
}

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
    expect(caseFinder({ ...NO_FILTER, ...filter }, dayOf)(facts({}))).toBe(found);
  });

  it('as neither where a limit may have been kept and may not', () => {
    const open = facts({ perhaps: 1 });
    expect(caseFinder({ ...NO_FILTER, breaches: 'some' }, dayOf)(open)).toBe(false);
    expect(caseFinder({ ...NO_FILTER, breaches: 'none' }, dayOf)(open)).toBe(false);
    const told = caseStateWords({ ...open, isClosed: true, isDamaged: false });
    expect(told).toBe('1 limit may not have been kept');
    expect(caseStateWords({ ...open, isClosed: true, isDamaged: false, breaches: 2 })).toBe(
      '2 limits not kept, 1 limit may not have been kept',
    );
  });

  // Oracle: the days as texts, of every case, as a zone tells them.
  it.each(['Pacific/Kiritimati', 'Pacific/Pago_Pago', 'Europe/Berlin', 'America/Havana'])(
    'a case by its days as they are counted in %s',
    (zone) => {
      const { isoDay } = timesIn({ zone, language: 'en' });
      const [from, to] = ['2026-10-25', '2026-11-01'];
      const startMs = Date.UTC(2026, 9, 22);
      const all = Array.from({ length: 14 * 24 }, (_, h) =>
        facts({ openedWallMs: startMs + h * 3_600_000 + 1 }),
      );
      const found = all.filter(caseFinder({ ...NO_FILTER, from, to }, isoDay));
      const told = all.filter(({ openedWallMs: ms }) => isoDay(ms) >= from && isoDay(ms) <= to);
      expect(found).toEqual(told);
      expect(found.length).toBeGreaterThan(7 * 24);
    },
  );

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

  const head = () => list.state.getState().facts[0]?.head ?? '';
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
    expect(isExported(list.state.getState(), { caseId: 'c', head: head() })).toBe(false);
  });

  it('deletes what was exported as it stands, and keeps a mark with who, when and why', async () => {
    must(await list.markExported({ caseId: 'c', head: head(), form: 'json' }));
    must(await remove());
    const state = list.state.getState();
    expect(state.facts).toEqual([]);
    expect(state.tombstones).toMatchObject([
      { caseId: 'c', by: 'AN', reason: 'kept long enough', entries: 1 },
    ]);
    expect(changes).toBe(1);
  });

  // A table of steps has no windows, notes or signature, a calendar nothing of what was done.
  it.each(
    EXPORT_FORMS.map(({ id }) => [id, !['csv-steps', 'csv-windows', 'ical'].includes(id)] as const),
  )('takes the form %s for an export of the case: %s', async (form, isWhole) => {
    must(await list.markExported({ caseId: 'c', head: head(), form }));
    expect(isExported(list.state.getState(), { caseId: 'c', head: head() })).toBe(isWhole);
    expect((await remove()).ok).toBe(isWhole);
  });

  it('still has a whole export for one after a calendar was saved', async () => {
    must(await list.markExported({ caseId: 'c', head: head(), form: 'json' }));
    must(await list.markExported({ caseId: 'c', head: head(), form: 'ical' }));
    expect(isExported(list.state.getState(), { caseId: 'c', head: head() })).toBe(true);
  });

  it('trusts no mark of an earlier version that stands for a part only', async () => {
    const value = { head: head(), form: 'ical', onWallMs: 0 };
    must(await journal.documents.put({ kind: 'exported', id: 'c', value, epoch }));
    await list.refresh();
    expect(await remove()).toMatchObject({ ok: false, error: { code: 'not-exported' } });
  });

  it('of a window that only reads is noted by the one that writes', async () => {
    const asked = vi.spyOn(journal, 'ask');
    const reader = new CasesList({
      journal,
      epoch: () => null,
      crypto: null,
      clock: manualClock({ wallMs: 0, monoMs: 0, runId: 'r' }),
      onChanged: async () => undefined,
    });
    must(await reader.markExported({ caseId: 'c', head: 'h', form: 'json' }));
    const value = { head: 'h', form: 'json', onWallMs: 0 };
    expect(asked.mock.calls).toEqual([[{ kind: 'exported', id: 'c', value }]]);
    expect(must(await journal.documents.list('exported'))).toEqual([]);
  });

  it('counts closed cases of patients that are not exported, and no rehearsal', () => {
    const all = [
      facts({}),
      facts({ caseId: 'c2', mode: 'rehearsal' }),
      facts({ caseId: 'c3', isClosed: false }),
    ];
    const state = { ...list.state.getState(), facts: all };
    expect(notExported(state).map((f) => f.caseId)).toEqual(['c1']);
    const marks = new Map([['c1', { head: 'h1', form: 'json', onWallMs: 0 }]]);
    expect(notExported({ ...state, marks })).toEqual([]);
  });
});

describe('a list of many cases', () => {
  const clock = manualClock({ wallMs: Date.UTC(2026, 10, 25), monoMs: 0, runId: 'r' });
  /** What is kept between starts, in memory. */
  const memoryCache = () => {
    const kept = new Map<string, unknown>();
    const cache: FactsCache = {
      readAll: async () => [...kept.values()],
      put: async (all) => {
        for (const each of all) kept.set(each.caseId, structuredClone(each));
      },
      forget: async (ids) => {
        for (const id of ids) kept.delete(id);
      },
    };
    return { kept, cache };
  };

  async function many(count: number) {
    const { journal, epoch } = await emptyJournal();
    for (let n = 0; n < count; n += 1) {
      const caseId = `c${n}`;
      must(await journal.append({ caseId, epoch, recorded: closedCase(caseId) }));
    }
    const read = vi.spyOn(journal, 'read');
    const reads = (from = 0): string[] => read.mock.calls.slice(from).map(([caseId]) => caseId);
    return { journal, epoch, reads };
  }

  const listOf = (journal: Journal, epoch: number, cache?: FactsCache) =>
    new CasesList({
      journal,
      epoch: () => epoch,
      crypto: null,
      clock,
      onChanged: async () => undefined,
      ...(cache ? { cache: async () => cache } : {}),
    });

  it('is there by its summaries before the cases themselves are read', async () => {
    const { journal, epoch } = await many(45);
    const list = listOf(journal, epoch);
    const seen: [number, number, boolean][] = [];
    list.state.subscribe(() => {
      const { facts, done, isRead } = list.state.getState();
      if (facts.length > 0) seen.push([facts.length, done, isRead]);
    });
    await list.refresh();
    expect(seen[0]).toEqual([45, 0, false]);
    expect(seen.at(-1)).toEqual([45, 45, true]);
  });

  it('reads no case again at a later start, but for those that got longer', async () => {
    const { journal, epoch, reads } = await many(30);
    const { cache } = memoryCache();
    const first = listOf(journal, epoch, cache);
    await first.refresh();
    expect(reads()).toHaveLength(30);
    const recorded = closedCase('c7', 'note looked at again').slice(closedCase('c7').length);
    must(await journal.append({ caseId: 'c7', epoch, recorded }));
    const second = listOf(journal, epoch, cache);
    await second.refresh();
    expect(reads(30)).toEqual(['c7']);
    const bare = listOf(journal, epoch);
    await bare.refresh();
    expect(second.state.getState().facts).toEqual(bare.state.getState().facts);
  });

  it('reads no case that a backup brought, and tells of it what it tells of its own', async () => {
    const { journal, epoch } = await many(5);
    const crypto = globalThis.crypto;
    const parts = { clock, crypto, onChanged: async () => undefined };
    const source = new CasesList({ ...parts, journal, epoch: () => epoch });
    const passphrase = 'long enough for a test';
    const file = must(await source.backUp(passphrase, () => undefined));
    const target = await many(0);
    // One that is here already, and shorter: it has to be read.
    const recorded = closedCase('c3').slice(0, -1);
    must(await target.journal.append({ caseId: 'c3', epoch: target.epoch, recorded }));
    const { kept, cache } = memoryCache();
    const openCache = async () => cache;
    const other = { ...parts, journal: target.journal, epoch: () => target.epoch };
    const list = new CasesList({ ...other, cache: openCache });
    await list.refresh();
    const before = target.reads().length;
    must(await list.restore({ file, passphrase }, () => undefined));
    expect(target.reads(before)).toEqual(['c3']);
    await source.refresh();
    expect(list.state.getState().facts).toEqual(source.state.getState().facts);
    expect(kept.size).toBe(5);
  });

  it('reads no case that was closed on this tablet and kept then', async () => {
    const { journal, epoch, reads } = await many(2);
    const { cache } = memoryCache();
    const cases = must(await journal.listCases());
    for (const summary of cases) {
      const log = replay(closedCase(summary.caseId));
      await listOf(journal, epoch, cache).keepFacts(summary, log);
    }
    const list = listOf(journal, epoch, cache);
    await list.refresh();
    expect(reads()).toEqual([]);
    const bare = listOf(journal, epoch);
    await bare.refresh();
    expect(list.state.getState().facts).toEqual(bare.state.getState().facts);
  });

  it('takes nothing from what it kept that is damaged or of another version', async () => {
    const { journal, epoch, reads } = await many(3);
    const { kept, cache } = memoryCache();
    await listOf(journal, epoch, cache).refresh();
    kept.set('c0', { ...Object(kept.get('c0')), factsVersion: 0 });
    kept.set('c1', { ...Object(kept.get('c1')), lots: [{ lot: 7 }] });
    await listOf(journal, epoch, cache).refresh();
    expect(reads(3).toSorted()).toEqual(['c0', 'c1']);
  });

  it('forgets what it kept of a case that was deleted', async () => {
    const { journal, epoch } = await many(3);
    const { kept, cache } = memoryCache();
    const list = listOf(journal, epoch, cache);
    await list.refresh();
    const head = list.state.getState().facts.find((f) => f.caseId === 'c1')?.head ?? '';
    must(await list.markExported({ caseId: 'c1', head, form: 'json' }));
    must(await list.deleteCase({ caseId: 'c1', by: 'AN', reason: 'kept long enough' }));
    expect([...kept.keys()].toSorted()).toEqual(['c0', 'c2']);
  });
});

describe('all that was not exported, in one file', () => {
  it('holds each journal as it stands, and only then may be noted', async () => {
    const { journal, epoch } = await emptyJournal();
    for (const caseId of ['a', 'b', 'c']) {
      must(await journal.append({ caseId, epoch, recorded: closedCase(caseId) }));
    }
    const list = new CasesList({
      journal,
      epoch: () => epoch,
      crypto: null,
      clock: manualClock({ wallMs: Date.UTC(2026, 10, 25), monoMs: 0, runId: 'r' }),
      onChanged: async () => undefined,
    });
    await list.refresh();
    expect(notExported(list.state.getState())).toHaveLength(3);
    const made = await list.exportFile({ day: '2026-11-25', onProgress: () => undefined });
    expect([made.left, made.file.name]).toEqual([0, 'lutewatch-3-cases-2026-11-25.json']);
    const found = journalsIn(await new Response(made.file.content).text());
    for (const { caseId, text } of found?.journals ?? []) {
      const stored = must(await journal.read(caseId)).entries;
      expect(parseJournal(text, { verify: verifyChain })).toMatchObject({
        value: { entries: stored, problems: [] },
      });
    }
    expect(found?.journals.map((j) => j.caseId).toSorted()).toEqual(['a', 'b', 'c']);
    expect(notExported(list.state.getState())).toHaveLength(3);
    must(await list.markAllExported(made.cases, 'journals'));
    expect(notExported(list.state.getState())).toEqual([]);
  });

  it('takes a damaged case with all that is left of it, and then asks for it no more', async () => {
    const { journal, epoch } = await emptyJournal();
    must(await journal.append({ caseId: 'a', epoch, recorded: closedCase('a') }));
    const { entries } = must(await journal.read('a'));
    const verdict = { goodCount: 3, firstBad: { index: 3, reason: 'hash' } } as const;
    vi.spyOn(journal, 'read').mockResolvedValue({
      ok: true,
      value: { caseId: 'a', entries: entries.slice(0, 3), apart: entries.slice(3), verdict },
    });
    const list = new CasesList({
      journal,
      epoch: () => epoch,
      crypto: null,
      clock: manualClock({ wallMs: Date.UTC(2026, 10, 25), monoMs: 0, runId: 'r' }),
      onChanged: async () => undefined,
    });
    await list.refresh();
    // What still holds of it is not its end, and says nothing of what was kept later.
    expect(list.state.getState()).toMatchObject({
      done: 1,
      of: 1,
      facts: [{ isClosed: true, breaches: null, head: entries.at(-1)?.hash }],
    });
    const made = await list.exportFile({ day: '2026-11-25', onProgress: () => undefined });
    expect(await new Response(made.file.content).text()).toContain('"apart":[');
    expect(made.cases).toEqual([{ caseId: 'a', head: entries.at(-1)?.hash }]);
    must(await list.markAllExported(made.cases, 'journals'));
    expect(notExported(list.state.getState())).toEqual([]);
    vi.restoreAllMocks();
    await list.refresh();
    expect(list.state.getState().facts).toMatchObject([{ breaches: 0 }]);
  });

  it('leaves for the next file what would make this one too long', async () => {
    const { journal, epoch } = await emptyJournal();
    const caseIds = ['a', 'b', 'c'];
    for (const caseId of caseIds) {
      must(await journal.append({ caseId, epoch, recorded: closedCase(caseId) }));
    }
    const asked = { journal, caseIds, day: '2026-11-25', onProgress: () => undefined };
    const made = await casesFile({ ...asked, lengthMax: 10 });
    expect([made.cases.map((c) => c.caseId), made.left]).toEqual([['a'], 2]);
  });
});

describe('a note to a signed case', () => {
  const at = Date.UTC(2026, 11, 3, 8);

  async function signed(recorded: readonly Recorded[]) {
    const { journal, epoch } = await emptyJournal();
    must(await journal.append({ caseId: 'c', epoch, recorded }));
    const list = new CasesList({
      journal,
      epoch: () => epoch,
      crypto: null,
      clock: manualClock({ wallMs: at, monoMs: 5, runId: 'a later run' }),
      onChanged: async () => undefined,
    });
    return { journal, list };
  }

  it('is added after everything else, which stays as it was, and says that it came late', async () => {
    const recorded = closedCase('c');
    const { journal, list } = await signed(recorded);
    const before = must(await journal.read('c')).entries;
    must(await list.addNote({ caseId: 'c', words: ' margin looked at ', by: 'assistant-b' }));
    const { entries, apart, verdict } = must(await journal.read('c'));
    expect(entries.slice(0, before.length)).toEqual(before);
    const facts = recordFacts({ log: replay(entries), entries, apart, verification: verdict });
    expect(facts.notes).toMatchObject([
      {
        words: 'margin looked at',
        isLate: true,
        pressed: { by: 'Assistant B', pressedUtc: '2026-12-03T08:00:00.000Z' },
      },
    ]);
    expect(facts.signOff).not.toBeNull();
  });

  it('is handed to the journal in the turn in which it is pressed: a page may be left at once', async () => {
    const { journal, list } = await signed(closedCase('c'));
    const { entries } = must(await journal.read('c'));
    const append = vi.spyOn(journal, 'append');
    const added = list.addNote({
      caseId: 'c',
      words: 'x',
      by: 'dentist-a',
      known: replay(entries),
    });
    expect(append).toHaveBeenCalledTimes(1);
    must(await added);
    const after = must(await journal.read('c')).entries;
    expect(after.at(-1)?.event).toEqual({ type: 'note-added', words: 'x' });
  });

  it('is added to what the journal holds, where the page knew less', async () => {
    const { journal, list } = await signed(closedCase('c'));
    const known = replay(must(await journal.read('c')).entries);
    must(await list.addNote({ caseId: 'c', words: 'first', by: 'dentist-a' }));
    must(await list.addNote({ caseId: 'c', words: 'second', by: 'dentist-a', known }));
    const after = must(await journal.read('c')).entries;
    expect(after.slice(-2).map((e) => e.event)).toEqual([
      { type: 'note-added', words: 'first' },
      { type: 'note-added', words: 'second' },
    ]);
  });

  it.each([
    ['while the case is open', closedCase('c').slice(0, -1), 'x', 'case-open'],
    ['without words', closedCase('c'), '  ', 'note-empty'],
  ])('is refused %s', async (_, recorded, words, code) => {
    const { journal, list } = await signed(recorded);
    const added = await list.addNote({ caseId: 'c', words, by: 'dentist-a' });
    expect(added).toMatchObject({ ok: false, error: { code } });
    expect(must(await journal.read('c')).entries).toHaveLength(recorded.length);
  });
});
