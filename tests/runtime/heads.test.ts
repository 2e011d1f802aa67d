/** Heads of closed cases: kept as facts, signed by the tablet, and held against what is there later. */
import { webcrypto } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { anchorHeads, anchorOfCase } from '../../src/runtime/anchors/heads.ts';
import { listFacts } from '../../src/runtime/facts/fact.ts';
import { appendLeadLog } from '../../src/runtime/lead/lead-log.ts';
import type { JournalEntry } from '../../src/storage/journal-types.ts';
import {
  makeTabletKeys,
  type SigningCrypto,
  type TabletKeys,
} from '../../src/storage/signatures.ts';
import { finished } from '../export/journals.ts';
import { createMemoryDevice, createMemoryJournal } from '../storage/memory-journal.ts';

const crypto = webcrypto as unknown as SigningCrypto;
const caseId = 'case-1';
const journal = createMemoryJournal(createMemoryDevice());
let entries: readonly JournalEntry[] = [];
let epoch = 0;
let keys: TabletKeys | null = null;

const keep = () => anchorHeads({ journal, crypto, keys, epoch, nowWallMs: 1000 });
const anchored = (kept: readonly JournalEntry[]) =>
  anchorOfCase({ journal, crypto }, { caseId, entries: kept });
const heads = async () => {
  const listed = await listFacts(journal, 'head');
  return listed.ok ? listed.value.facts : [];
};

beforeAll(async () => {
  await journal.open();
  const begun = await journal.startWriting();
  if (!begun.ok) throw new Error('the journal does not open');
  epoch = begun.value.epoch;
  const recorded = finished().log.records.map((r) =>
    r.event.type === 'case-opened' ? { ...r, event: { ...r.event, mode: 'patient' as const } } : r,
  );
  const stored = await journal.append({ caseId, epoch, recorded });
  if (!stored.ok) throw new Error(stored.error.code);
  entries = stored.value.entries;
  keys = await makeTabletKeys(crypto);
});

describe('the head of a closed case', () => {
  it('is kept once, signed', async () => {
    expect(await anchored(entries)).toBeNull();
    await keep();
    await keep();
    expect(await heads()).toMatchObject([{ item: caseId, said: { entries: entries.length } }]);
    expect(await anchored(entries)).toMatchObject({
      entries: entries.length,
      head: entries.at(-1)?.hash,
      publicKey: keys?.publicKey,
      state: 'holds',
      isSigned: true,
    });
  });

  it('tells of a case that was cut, and of one that is another', async () => {
    expect(await anchored(entries.slice(0, -2))).toMatchObject({ state: 'cut' });
    const other = entries.map((e) => ({ ...e, hash: '0'.repeat(64) }));
    expect(await anchored(other)).toMatchObject({ state: 'differs' });
  });

  it('that only pretends to be signed says nothing', async () => {
    const [fact] = await heads();
    if (fact === undefined) throw new Error('no head');
    const { asFact, keepFact } = await import('../../src/runtime/facts/fact.ts');
    const said = { ...Object(fact.said), entries: entries.length + 9 };
    await keepFact(journal, asFact({ ...fact, said }), epoch);
    expect(await anchored(entries)).toMatchObject({ state: 'holds', entries: entries.length });
  });
});

it('a head that others made, longer than the case is, keeps this tablet from nothing', async () => {
  const { asFact, keepFact } = await import('../../src/runtime/facts/fact.ts');
  const device = createMemoryDevice();
  const own = createMemoryJournal(device);
  await own.open();
  const begun = await own.startWriting();
  if (!begun.ok) throw new Error('the journal does not open');
  const recorded = finished().log.records.map((r) =>
    r.event.type === 'case-opened' ? { ...r, event: { ...r.event, mode: 'patient' as const } } : r,
  );
  const stored = await own.append({ caseId, epoch: begun.value.epoch, recorded });
  if (!stored.ok) throw new Error(stored.error.code);
  const said = { type: 'head', entries: 9999, head: '0'.repeat(64), signed: null };
  const made = { kind: 'head', item: caseId, said, after: [], tablet: 'other', by: null } as const;
  await keepFact(own, asFact({ ...made, atWallMs: 5 }), begun.value.epoch);
  await anchorHeads({ journal: own, crypto, keys, epoch: begun.value.epoch, nowWallMs: 1000 });
  await anchorHeads({ journal: own, crypto, keys, epoch: begun.value.epoch, nowWallMs: 2000 });
  const listed = await listFacts(own, 'head');
  const known = listed.ok ? listed.value.facts.filter(({ item }) => item === caseId) : [];
  expect(known.map(({ atWallMs }) => atWallMs).toSorted()).toEqual([1000, 5]);
});

describe('the head of a desk that has been anchored for months', () => {
  it('can still be read: it names the last one, not every one before it', async () => {
    for (let n = 0; n < 103; n += 1) {
      const entry = { atWallMs: n, by: 'Lead', deed: 'opened', values: {} } as const;
      const logged = await appendLeadLog(journal, { ...entry, epoch });
      if (!logged.ok) throw new Error(logged.error.code);
      await anchorHeads({ journal, crypto: null, keys: null, epoch, nowWallMs: n });
    }
    const listed = await listFacts(journal, 'head');
    if (!listed.ok) throw new Error(listed.error.code);
    expect(listed.value.damaged).toEqual([]);
    const known = listed.value.facts.filter(({ item }) => item.startsWith('lead-log'));
    expect(known).toHaveLength(103);
    expect(Math.max(...known.map(({ after }) => after.length))).toBe(1);
  });
});
