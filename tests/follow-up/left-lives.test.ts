/** The lives of a deleted case count once: whenever the tablet dies, and told where two tablets left them. */
import { IDBFactory, IDBObjectStore } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import { completeness } from '../../src/outcomes/figures/follow-up-length.ts';
import { livesOf } from '../../src/outcomes/lives.ts';
import { deleteFollowed } from '../../src/runtime/cases/delete-followed.ts';
import { asFact, keepFact } from '../../src/runtime/facts/fact.ts';
import type { FollowUps } from '../../src/runtime/follow-up/follow-ups.ts';
import { openDatabase } from '../../src/storage/database-open.ts';
import { buryCase } from '../../src/storage/database-transactions.ts';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { must } from '../backup/filled-journal.ts';
import { backupOf, factsOf, restoreInto } from '../facts/tablets.ts';
import { MemoryHome } from '../storage/memory-home.ts';
import { opening, stampAt } from '../storage/sample-case.ts';
import {
  bonded,
  found,
  keepBonded,
  meet,
  visit,
  type WithFollowUps,
  withFollowUps,
} from './clinic.ts';

const CASE = 'case-of-maria';
const ABOUT = { caseId: CASE, stamp: stampAt(0), by: 'AN', reason: 'asked for' };

/** A tablet with one case of three units that was seen twice. */
async function tabletWithCase(id: string): Promise<WithFollowUps> {
  const tablet = await withFollowUps(id);
  const { journal, epoch, followUps } = tablet;
  must(await journal.append({ caseId: CASE, epoch, recorded: [opening(CASE)] }));
  await keepBonded(tablet, { caseId: CASE });
  must(await followUps.open());
  for (const onDay of ['2026-01-14', '2026-06-30']) {
    const seen = visit(onDay, found('11', 'in-place'), found('21', 'in-place'));
    must(await followUps.noteVisit({ caseId: CASE, visit: seen, by: 'TK' }));
  }
  return tablet;
}

const remove = (tablet: WithFollowUps, change: { readonly journal?: Journal } = {}) =>
  deleteFollowed(
    {
      journal: tablet.journal,
      epoch: tablet.epoch,
      ...change,
      followUps: async () => tablet.followUps,
    },
    { ...ABOUT, lives: 'left' },
  );

const originsOf = (followUps: FollowUps) =>
  followUps.state.getState().list.map(({ origin }) => origin);

/** Another start of the same tablet. */
async function started(tablet: WithFollowUps): Promise<FollowUps> {
  const anew = tablet.anew();
  must(await anew.open());
  return anew;
}

class Killed extends Error {}

/** The journal of a tablet that dies when it is asked for the nth deed of a deletion, or right after it. */
function dying(
  journal: Journal,
  o: { readonly at: number; readonly when: 'before' | 'after' },
): Journal {
  let deeds = 0;
  const mortal =
    <A extends readonly unknown[], R>(deed: (...args: A) => Promise<R>) =>
    async (...args: A): Promise<R> => {
      deeds += 1;
      if (deeds === o.at && o.when === 'before') throw new Killed();
      const done = await deed(...args);
      if (deeds === o.at) throw new Killed();
      return done;
    };
  const { documents } = journal;
  const deleting = { delete: mortal(documents.delete.bind(documents)) };
  return new Proxy(journal, {
    get: (of, name) => {
      if (name === 'deleteCase') return mortal(of.deleteCase.bind(of));
      if (name === 'documents')
        return { ...documents, list: documents.list.bind(documents), ...deleting };
      const member: unknown = Reflect.get(of, name);
      return typeof member === 'function' ? member.bind(of) : member;
    },
  });
}

describe('a tablet that dies in a deletion', () => {
  // The deletion itself, then each of the three entries of the case that are taken away.
  it.each([1, 2, 3, 4].flatMap((at) => [[at, 'before'] as const, [at, 'after'] as const]))(
    'at deed %i, %s it: counts the lives once at the next start',
    async (at, when) => {
      const tablet = await tabletWithCase('a');
      await expect(
        remove(tablet, { journal: dying(tablet.journal, { at, when }) }),
      ).rejects.toThrow(Killed);
      const isDeleted = at > 1 || when === 'after';
      const anew = await started(tablet);
      expect(originsOf(anew)).toEqual([isDeleted ? 'left' : 'case']);
      await anew.takeInOlder();
      expect(originsOf(anew)).toEqual([isDeleted ? 'left' : 'case']);
      expect(anew.state.getState().leftTwice).toBe(0);
      if (isDeleted) {
        const ofCase = (await factsOf(tablet)).filter(({ item }) => item === CASE);
        expect(ofCase).toEqual([]);
      } else {
        // It is deleted later, and then its lives are left as if nothing had happened.
        must(await remove({ ...tablet, followUps: anew }));
        expect(originsOf(await started(tablet))).toEqual(['left']);
      }
    },
  );

  it('at any write of the deletion: nothing of it is down, and once it is, all of it', async () => {
    const factory = new IDBFactory();
    globalThis.indexedDB = factory;
    const [name, home] = ['left-lives', new MemoryHome()];
    const start = async () => {
      const journal = createIndexedDbJournal({ name, home, channel: createTabChannel(name) });
      return { journal, epoch: must(await journal.startWriting()).epoch };
    };
    const { journal, epoch } = await start();
    must(await journal.append({ caseId: CASE, epoch, recorded: [opening(CASE)] }));
    await journal.close();
    const opened = must(await openDatabase({ name, mayUpgrade: false, onLost: () => undefined }));
    const database = opened?.database;
    if (database === undefined) throw new Error('no database');
    const leaves = ['a', 'b', 'c'].map((id) => ({ kind: 'fact-follow-up', id, value: { id } }));
    const put = IDBObjectStore.prototype.put;
    let left = 0;
    IDBObjectStore.prototype.put = function mortal(...args) {
      left -= 1;
      const request = put.apply(this, args);
      const { transaction } = this;
      if (left === -1) request.addEventListener('success', () => transaction.abort());
      return request;
    };
    const stored = async () => ({
      cases: (await database.getAll('cases')).length,
      stones: (await database.getAll('tombstones')).length,
      documents: (await database.getAll('documents')).length,
    });
    try {
      // The mark and three documents.
      for (left = 0; left < 4; ) {
        const writes = left;
        await expect(buryCase(database, { ...ABOUT, epoch, leaves })).rejects.toThrow();
        expect(await stored()).toEqual({ cases: 1, stones: 0, documents: 0 });
        left = writes + 1;
      }
      left = Number.POSITIVE_INFINITY;
      must(await buryCase(database, { ...ABOUT, epoch, leaves }));
      expect(await stored()).toEqual({ cases: 0, stones: 1, documents: 3 });
    } finally {
      IDBObjectStore.prototype.put = put;
      database.close();
    }
    // Killed before the files had it: the next start writes there what the database knows.
    const again = await start();
    await again.journal.close();
    const files = [...home.files.values()].map((bytes) => new TextDecoder().decode(bytes)).join('');
    expect(files.match(/"kind":"fact-follow-up"/g)).toHaveLength(3);
  });
});

describe('two tablets that leave the lives of one case', () => {
  it('do not where the second heard of the first: the case is gone there with its deletion', async () => {
    const a = await tabletWithCase('a');
    const b = await withFollowUps('b');
    await meet(a, b);
    must(await remove(a));
    // A file deletes no case that is kept: here it still stands, beside what was left of it.
    await restoreInto(b, await backupOf(a));
    const there = await started(b);
    expect(originsOf(there).toSorted()).toEqual(['case', 'left']);
    expect(there.state.getState().leftTwice).toBe(1);
    expect(await there.livesOf(CASE)).toBe('left-before');
    must(await remove({ ...b, followUps: there }));
    expect(originsOf(there)).toEqual(['left']);
    expect(there.state.getState().leftTwice).toBe(0);
    await meet(a, b);
    for (const tablet of [a, b]) {
      const anew = await started(tablet);
      expect(originsOf(anew)).toEqual(['left']);
      expect(anew.state.getState().leftTwice).toBe(0);
    }
  });

  it('without having met make two, which is told on both', async () => {
    const a = await tabletWithCase('a');
    const b = await withFollowUps('b');
    await meet(a, b);
    must(await b.followUps.open());
    must(await remove(a));
    must(await remove(b));
    await meet(a, b);
    for (const tablet of [a, b]) {
      const anew = await started(tablet);
      expect(originsOf(anew)).toEqual(['left', 'left']);
      expect(anew.state.getState().leftTwice).toBe(1);
    }
  });

  it('say of which case lives were left, and nothing that leads from the counts to it', async () => {
    const a = await tabletWithCase('a');
    must(await remove(a));
    const facts = await factsOf(a);
    const counts = facts.filter(({ item }) => item.startsWith('left-'));
    const deeds = facts.filter(({ item }) => item === 'lives-left');
    expect([counts.length, deeds.length]).toEqual([3, 1]);
    const ids = new Set(counts.flatMap(({ id, item }) => [id, item]));
    for (const word of ids) expect(JSON.stringify(deeds)).not.toContain(word);
    for (const word of [CASE, 'C-101', '"a"', 'AN', 'TK']) {
      expect(JSON.stringify(counts)).not.toContain(word);
    }
    const known = new Set(deeds.map(({ id }) => id));
    for (const { after } of counts) for (const id of after) expect(known.has(id)).toBe(false);
    // The id is drawn, as many times as it is asked for.
    const again = await tabletWithCase('b');
    must(await remove(again));
    expect((await factsOf(again)).some(({ item }) => item === counts[0]?.item)).toBe(false);
  });
});

describe('what was left', () => {
  const left = async (change: Parameters<typeof bonded>[0]) => {
    const a = await withFollowUps('a');
    const said = bonded({ ...change, patient: 'left-1', title: '', people: [], lots: [] });
    await keepBonded(a, { caseId: 'left-1', said });
    const seen = visit('2026-02-01', found('11', 'in-place'));
    const about = { kind: 'follow-up', item: 'left-1', after: [], tablet: '', by: null } as const;
    const fact = asFact({ ...about, said: { what: 'visited', visit: seen }, atWallMs: 0 });
    must(await keepFact(a.journal, fact, a.epoch));
    const { list } = (await started(a)).state.getState();
    const lives = livesOf(
      list.map(({ followUp }) => followUp),
      '2030-01-01',
    );
    return lives.find(({ unit }) => unit.unit === '11');
  };

  it('could have been seen up to the deletion, to the nearest half year, and no longer', async () => {
    const a = await tabletWithCase('a');
    must(await remove(a));
    const [row] = a.followUps.state.getState().list;
    const followUps = row === undefined ? [] : [row.followUp];
    // Bonded on 1 January, deleted on 1 December: 334 days are two half years.
    const [life, , unseen] = livesOf(followUps, '2036-01-01');
    expect(life).toMatchObject({ possibleDays: 365, ends: { retention: { afterDay: 180 } } });
    expect(unseen).toMatchObject({ possibleDays: 365, ends: { retention: { afterDay: 0 } } });
    // Before that day is over it is today.
    expect(livesOf(followUps, '2026-12-02')[0]?.possibleDays).toBe(335);
    const timed = [life, unseen].map((one) => ({
      entry: 0,
      time: one?.ends.retention?.afterDay ?? 0,
      event: 'none' as const,
      patient: 'x',
      possible: one?.possibleDays ?? 0,
    }));
    expect(completeness(timed)).toBeCloseTo(180 / 730, 12);
  });

  it('before that was kept is read as it was: up to its last visit', async () => {
    expect(await left({})).toMatchObject({ possibleDays: 31 });
    expect(await left({ followedDays: 913 })).toMatchObject({ possibleDays: 913 });
    // Never before its last visit.
    expect(await left({ followedDays: 0 })).toMatchObject({ possibleDays: 31 });
  });
});
