/**
 * What every journal promises, as one suite that each version runs. Two journals on one device stand
 * for two tabs.
 */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import type { Result } from '../../src/base/result.ts';
import { verifyChain } from '../../src/storage/hash-chain.ts';
import type { Journal, JournalNews, JournalStatus } from '../../src/storage/journal-types.ts';
import { opening, pressOf, recorded, stampAt, wholeCase } from './sample-case.ts';

/** A device under test: journals made from it share what is stored. */
export interface TestDevice {
  readonly openTab: () => Journal;
  readonly copies: 1 | 2;
  readonly dispose: () => Promise<void>;
}

function must<T, E>(result: Result<T, E>): T {
  if (!result.ok) throw new Error(`refused: ${JSON.stringify(result.error)}`);
  return result.value;
}

const codeOf = (result: Result<unknown, { readonly code: string }>): string =>
  result.ok ? 'ok' : result.error.code;

export function journalContract(name: string, makeDevice: () => Promise<TestDevice>): void {
  describe(`the journal in ${name}`, () => {
    let device: TestDevice;
    let journal: Journal;
    let epoch: number;
    const tabs: Journal[] = [];

    const openTab = (): Journal => {
      const tab = device.openTab();
      tabs.push(tab);
      return tab;
    };

    beforeEach(async () => {
      device = await makeDevice();
      journal = openTab();
      must(await journal.open());
      epoch = must(await journal.startWriting()).epoch;
    });

    afterEach(async () => {
      for (const tab of tabs.splice(0)) await tab.close();
      await device.dispose();
    });

    const append = (caseId: string, entries: ReturnType<typeof pressOf>, withEpoch = epoch) =>
      journal.append({ caseId, epoch: withEpoch, recorded: entries });

    it('gives back what was appended, chained, in order', async () => {
      must(await append('c1', [opening('c1')]));
      must(await append('c1', pressOf(3, 1)));
      const reading = must(await journal.read('c1'));
      expect(reading.entries.map((entry) => entry.seq)).toEqual([0, 1, 2, 3]);
      expect(reading.entries.slice(1).map(({ press, event }) => ({ press, event }))).toEqual(
        pressOf(3, 1).map(({ press, event }) => ({ press, event })),
      );
      expect(reading.entries.every((entry) => entry.epoch === epoch)).toBe(true);
      expect(verifyChain(reading.entries)).toEqual({ goodCount: 4, firstBad: null });
      expect(reading.apart).toEqual([]);
    });

    it('acknowledges with the entries as stored and the number of copies', async () => {
      const ack = must(await append('c1', [opening('c1')]));
      expect(ack.copies).toBe(device.copies);
      expect(ack.entries).toEqual(must(await journal.read('c1')).entries);
    });

    it('reads a case that nobody stored as empty', async () => {
      const reading = must(await journal.read('nowhere'));
      expect(reading).toMatchObject({ entries: [], apart: [], verdict: { firstBad: null } });
    });

    it('refuses a press that would leave a hole, repeat a place or start elsewhere', async () => {
      expect(codeOf(await append('c1', pressOf(1, 1)))).toBe('wrong-seq');
      must(await append('c1', [opening('c1')]));
      expect(codeOf(await append('c1', pressOf(1, 2)))).toBe('wrong-seq');
      const other = recorded(0, { type: 'note-added', words: 'another first entry' });
      expect(codeOf(await append('c1', [other]))).toBe('wrong-seq');
      expect(codeOf(await append('c1', [...pressOf(1, 1), ...pressOf(1, 3)]))).toBe('wrong-seq');
      expect(must(await journal.read('c1')).entries).toHaveLength(1);
    });

    it('stores nothing of a press of which one entry cannot be stored', async () => {
      must(await append('c1', [opening('c1')]));
      const half = recorded(2, { type: 'note-added', words: 'half a pair: \ud83e' }, 1);
      expect(codeOf(await append('c1', [...pressOf(1, 1), half]))).toBe('not-storable');
      const nan = recorded(2, { type: 'gap-settled', gap: 0, lengthMs: Number.NaN }, 1);
      expect(codeOf(await append('c1', [...pressOf(1, 1), nan]))).toBe('not-storable');
      expect(must(await journal.read('c1')).entries).toHaveLength(1);
    });

    it('keeps presses that come without waiting in their order', async () => {
      const acks = await Promise.all([
        append('c1', [opening('c1')]),
        append('c1', pressOf(2, 1)),
        append('c2', [opening('c2')]),
        append('c1', pressOf(1, 3)),
      ]);
      expect(acks.map(codeOf)).toEqual(['ok', 'ok', 'ok', 'ok']);
      expect(must(await journal.read('c1')).entries.map((e) => e.seq)).toEqual([0, 1, 2, 3]);
    });

    it('refuses to write before it is the writer, and after it stopped', async () => {
      const reader = openTab();
      must(await reader.open());
      const batch = { caseId: 'c1', epoch, recorded: [opening('c1')] };
      expect(codeOf(await reader.append(batch))).toBe('not-writer');
      await journal.stopWriting();
      expect(codeOf(await journal.append(batch))).toBe('not-writer');
    });

    it('refuses every write of a writer that was replaced', async () => {
      must(await append('c1', [opening('c1')]));
      const successor = openTab();
      const second = must(await successor.startWriting());
      expect(second.epoch).toBeGreaterThan(epoch);
      const stamp = stampAt(0);
      expect(codeOf(await append('c1', pressOf(1, 1)))).toBe('stale-epoch');
      const doc = { kind: 'settings', id: 's', value: 1, epoch };
      expect(codeOf(await journal.documents.put(doc))).toBe('stale-epoch');
      const deletion = { caseId: 'c1', epoch, stamp, by: null, reason: 'x' };
      expect(codeOf(await journal.deleteCase(deletion))).toBe('stale-epoch');
      expect(codeOf(await journal.adopt({ caseId: 'c1', epoch, entries: [] }))).toBe('stale-epoch');
      const press = { caseId: 'c1', epoch: second.epoch, recorded: pressOf(1, 1) };
      expect(codeOf(await successor.append(press))).toBe('ok');
      expect(must(await successor.read('c1')).entries.map((e) => e.epoch)).toEqual([
        epoch,
        second.epoch,
      ]);
    });

    it('refuses an epoch that was never given', async () => {
      expect(codeOf(await append('c1', [opening('c1')], epoch + 1))).toBe('stale-epoch');
    });

    it('lists cases with what the list shows, open or closed, without their entries', async () => {
      must(await append('c2', [opening('c2')]));
      must(await append('c1', [opening('c1')]));
      const closing = recorded(1, { type: 'case-closed', signedBy: 'p1', role: 'assistant' });
      must(await append('c1', [closing]));
      const list = must(await journal.listCases());
      expect(list).toMatchObject([
        { caseId: 'c1', chartRef: 'KB-2041', mode: 'rehearsal', entries: 2, closedByPress: 1 },
        { caseId: 'c2', entries: 1, closedByPress: null, openedWallMs: stampAt(0).wallMs },
      ]);
      expect(list[0]?.lastStamp).toEqual(stampAt(1000));
      expect(list[0]?.title).toContain('Upper front');
      // Another press that is taken back does not open the case again: only the closing one does.
      must(await append('c1', [recorded(2, { type: 'press-retracted', press: 0 })]));
      expect(must(await journal.listCases())[0]).toMatchObject({ closedByPress: 1, entries: 3 });
      must(await append('c1', [recorded(3, { type: 'press-retracted', press: 1 })]));
      expect(must(await journal.listCases())[0]?.closedByPress).toBeNull();
    });

    it('keeps the last heartbeat of each case', async () => {
      must(await journal.heartbeat('c1', stampAt(1000)));
      must(await journal.heartbeat('c1', stampAt(6000)));
      expect(must(await journal.readHeartbeat('c1'))).toEqual(stampAt(6000));
      expect(must(await journal.readHeartbeat('c2'))).toBeNull();
    });

    it('keeps documents by kind and id, replaces and deletes them', async () => {
      const { documents } = journal;
      must(await documents.put({ kind: 'protocol', id: 'b', value: { n: 1 }, epoch }));
      must(await documents.put({ kind: 'protocol', id: 'a', value: { n: 2 }, epoch }));
      must(await documents.put({ kind: 'settings', id: 'a', value: { dim: true }, epoch }));
      must(await documents.put({ kind: 'protocol', id: 'b', value: { n: 3 }, epoch }));
      expect(must(await documents.get('protocol', { id: 'b' }))).toEqual({ n: 3 });
      const list = must(await documents.list('protocol'));
      expect(list.map(({ id, value, version }) => ({ id, value, version }))).toEqual([
        { id: 'a', value: { n: 2 }, version: 1 },
        { id: 'b', value: { n: 3 }, version: 2 },
      ]);
      must(await documents.delete({ kind: 'protocol', id: 'b', epoch }));
      expect(must(await documents.get('protocol', { id: 'b' }))).toBeNull();
      expect(must(await documents.list('protocol'))).toHaveLength(1);
      expect(must(await documents.get('settings', { id: 'none' }))).toBeNull();
    });

    it('leaves a tombstone for a deleted case and refuses to write on it', async () => {
      const { entries } = must(await append('c1', [opening('c1')]));
      must(await append('c2', [opening('c2')]));
      must(await journal.heartbeat('c1', stampAt(5)));
      const deletion = {
        caseId: 'c1',
        epoch,
        stamp: stampAt(9000),
        by: 'p1',
        reason: 'kept elsewhere',
      };
      const stone = must(await journal.deleteCase(deletion));
      expect(stone).toMatchObject({ caseId: 'c1', entries: 1, head: entries[0]?.hash, by: 'p1' });
      expect(must(await journal.deleteCase({ ...deletion, reason: 'again' }))).toEqual(stone);
      expect(must(await journal.read('c1')).entries).toEqual([]);
      expect(must(await journal.readHeartbeat('c1'))).toBeNull();
      expect(must(await journal.listCases()).map((c) => c.caseId)).toEqual(['c2']);
      expect(must(await journal.listTombstones())).toEqual([stone]);
      expect(codeOf(await append('c1', [opening('c1')]))).toBe('case-deleted');
      expect(codeOf(await journal.deleteCase({ ...deletion, caseId: 'c9' }))).toBe('no-such-case');
    });

    it('leaves documents in the place of a deleted case with its mark, or none of them', async () => {
      must(await append('c1', [opening('c1')]));
      const leaves = ['a', 'b'].map((id) => ({ kind: 'left', id, value: { of: id } }));
      const deletion = { caseId: 'c1', epoch, stamp: stampAt(9000), by: 'p1', reason: 'r', leaves };
      const wrong = [...leaves, { kind: 'left', id: 'c', value: Number.NaN }];
      expect(codeOf(await journal.deleteCase({ ...deletion, leaves: wrong }))).toBe('not-storable');
      expect(codeOf(await journal.deleteCase({ ...deletion, epoch: epoch - 1 }))).toBe(
        'stale-epoch',
      );
      expect(codeOf(await journal.deleteCase({ ...deletion, caseId: 'c9' }))).toBe('no-such-case');
      expect(must(await journal.documents.list('left'))).toEqual([]);
      const stone = must(await journal.deleteCase(deletion));
      expect(stone).not.toHaveProperty('leaves');
      expect(must(await journal.documents.list('left'))).toEqual(
        leaves.map((document) => ({ ...document, epoch, version: 1 })),
      );
      // What is deleted already leaves nothing more.
      const more = [{ kind: 'left', id: 'c', value: 1 }];
      expect(must(await journal.deleteCase({ ...deletion, leaves: more }))).toEqual(stone);
      expect(must(await journal.documents.list('left'))).toHaveLength(2);
    });

    it('takes a backup whole, adds only what is missing, and refuses one that does not fit', async () => {
      must(await append('c1', wholeCase('c1', 6)));
      const backup = must(await journal.read('c1')).entries;
      const other = await makeDevice();
      const target = other.openTab();
      const targetEpoch = must(await target.startWriting()).epoch;
      const adopt = (entries: readonly unknown[]) =>
        target.adopt({ caseId: 'c1', epoch: targetEpoch, entries });
      expect(must(await adopt(backup.slice(0, 2)))).toEqual({ added: 2 });
      expect(must(await adopt(backup))).toEqual({ added: 4 });
      expect(must(await adopt(backup))).toEqual({ added: 0 });
      expect(must(await target.read('c1')).entries).toEqual(backup);
      expect(codeOf(await adopt(backup.slice(1)))).toBe('conflict');
      expect(codeOf(await adopt([{ ...backup[0], by: 'p2' }]))).toBe('conflict');
      must(await append('c2', wholeCase('c2', 2)));
      const foreign = must(await journal.read('c2')).entries;
      expect(codeOf(await adopt(foreign))).toBe('conflict');
      await target.close();
      await other.dispose();
    });

    it('takes documents of a backup with their version, and only newer ones', async () => {
      const { documents } = journal;
      must(await documents.put({ kind: 'material', id: 'a', value: 'here', epoch }));
      const of = (version: number, value: unknown) =>
        documents.adopt({ kind: 'material', id: 'a', value, version, epoch });
      expect(must(await of(1, 'other'))).toEqual({ taken: false });
      expect(must(await of(7, 'newer'))).toEqual({ taken: true });
      expect(must(await of(6, 'older'))).toEqual({ taken: false });
      expect(must(await documents.get('material', { id: 'a' }))).toBe('newer');
      const put = must(await documents.put({ kind: 'material', id: 'a', value: 'own', epoch }));
      expect(put.version).toBe(8);
      must(await documents.delete({ kind: 'material', id: 'a', epoch }));
      const all = must(await documents.listAll());
      expect(all).toEqual([{ kind: 'material', id: 'a', value: null, version: 9, epoch }]);
      const late = { kind: 'material', id: 'b', value: 1, version: 1, epoch: epoch - 1 };
      expect(codeOf(await documents.adopt(late))).toBe('stale-epoch');
    });

    it('takes the mark of a deletion from a backup, but deletes nothing by it', async () => {
      must(await append('kept', [opening('kept')]));
      const mark = (caseId: string) => ({
        caseId,
        entries: 3,
        head: 'ab'.repeat(32),
        epoch,
        stamp: stampAt(0),
        by: null,
        reason: 'kept long enough',
      });
      expect(must(await journal.adoptTombstone(mark('kept')))).toEqual({ taken: false });
      expect(must(await journal.read('kept')).entries).toHaveLength(1);
      expect(must(await journal.adoptTombstone(mark('gone')))).toEqual({ taken: true });
      expect(must(await journal.listTombstones())).toEqual([mark('gone')]);
      expect(codeOf(await append('gone', [opening('gone')]))).toBe('case-deleted');
    });

    it('tells other tabs what was written, once it is written, and not itself', async () => {
      const reader = openTab();
      must(await reader.open());
      const heard: JournalNews[] = [];
      const own: JournalNews[] = [];
      const stop = reader.subscribe((news) => heard.push(news));
      journal.subscribe((news) => own.push(news));
      const { entries } = must(await append('c1', [opening('c1')]));
      await expect.poll(() => heard).toEqual([{ type: 'entries', caseId: 'c1', entries }]);
      expect(must(await reader.read('c1')).entries).toEqual(entries);
      must(await journal.documents.put({ kind: 'settings', id: 's', value: 1, epoch }));
      await expect
        .poll(() => heard.at(-1))
        .toEqual({ type: 'document', kind: 'settings', id: 's' });
      stop();
      must(await append('c1', pressOf(1, 1)));
      await new Promise((resolve) => setTimeout(resolve, 50));
      expect(heard).toHaveLength(2);
      expect(own).toEqual([]);
    });

    it('says how many homes take writes, and that all is saved', async () => {
      const seen: JournalStatus[] = [];
      journal.onStatus((status) => seen.push(status));
      expect(seen).toEqual([{ saved: true, queued: 0, copies: device.copies, problem: null }]);
      must(await append('c1', [opening('c1')]));
      const last = present(seen.at(-1), 'a status');
      expect(last).toEqual({ saved: true, queued: 0, copies: device.copies, problem: null });
      expect(seen.every((status) => status.saved)).toBe(true);
    });

    it('opens again with everything, and gives a higher epoch', async () => {
      must(await append('c1', wholeCase('c1', 10)));
      must(await journal.documents.put({ kind: 'settings', id: 's', value: { a: 1 }, epoch }));
      const before = must(await journal.read('c1')).entries;
      await journal.close();
      const again = openTab();
      const start = must(await again.startWriting());
      expect(start.epoch).toBeGreaterThan(epoch);
      expect(start.report).toMatchObject({ rebuilt: null, entries: 0, conflicts: 0 });
      expect(must(await again.read('c1')).entries).toEqual(before);
      expect(must(await again.documents.get('settings', { id: 's' }))).toEqual({ a: 1 });
    });

    it('refuses everything after it was closed', async () => {
      await journal.close();
      const closed = await append('c1', [opening('c1')]);
      expect(['closed', 'not-writer']).toContain(codeOf(closed));
    });
  });
}
