/** Heads that other tablets signed, and what they show of a case: cut, rewritten, forged, or only on its way. */
import { webcrypto } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { headStatement } from '../../src/export/anchor.ts';
import type { BrokenChain } from '../../src/runtime/anchors/broken-chains.ts';
import { anchorageOf, HEAD_HEARD, HeardHeads } from '../../src/runtime/anchors/heard-heads.ts';
import { keepSecondEnd } from '../../src/runtime/cases/second-ends.ts';
import { asFact, type Fact } from '../../src/runtime/facts/fact.ts';
import type { JournalEntry } from '../../src/storage/journal-types.ts';
import { type SigningCrypto, signText } from '../../src/storage/signatures.ts';
import { foldMembers } from '../../src/sync/members.ts';
import type { Members } from '../../src/sync/sealed-types.ts';
import { must } from '../backup/filled-journal.ts';
import { entriesOf, finished } from '../export/journals.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { makeClinic, type TestTablet } from '../sync/clinic.ts';

const crypto = webcrypto as unknown as SigningCrypto;
const caseId = 'case-1';
const records = finished().log.records;
const entries = entriesOf(records, caseId);
/** The same case told otherwise from its fifth entry on, with a chain that holds in itself. */
const rewritten = entriesOf(
  records.map((r, n) => (n === 4 ? { ...r, by: 'somebody-else' } : r)),
  caseId,
);

let chair: TestTablet;
let other: TestTablet;
let members: Members;

beforeAll(async () => {
  const clinic = await makeClinic();
  chair = await clinic.tablet('chair');
  other = await clinic.tablet('other');
  members = foldMembers([chair.paired, other.paired, (await clinic.tablet('own')).paired]);
});

async function headOf(
  of: readonly JournalEntry[],
  length: number,
  o: { readonly by?: TestTablet; readonly after?: readonly Fact[] } = {},
): Promise<Fact> {
  const { keys } = (o.by ?? chair).sealer;
  const { hash: head } = present(of[length - 1], 'an entry');
  const signature = await signText(crypto, keys, headStatement({ caseId, entries: length, head }));
  const said = {
    type: 'head',
    entries: length,
    head,
    signed: { publicKey: keys.publicKey, signature },
  };
  const after = (o.after ?? []).map(({ id }) => id);
  const made = { kind: 'head', item: caseId, said, after, tablet: 't', by: null } as const;
  return asFact({ ...made, atWallMs: 1000 + length });
}

async function tablet(here: readonly JournalEntry[], o: { readonly waits?: boolean } = {}) {
  const journal = createMemoryJournal();
  const { epoch } = must(await journal.startWriting());
  const adopt = async (more: readonly JournalEntry[]) => {
    must(await journal.adopt({ caseId, epoch, entries: more }));
  };
  if (here.length > 0) await adopt(here);
  let told: readonly BrokenChain[] = [];
  const open = () =>
    new HeardHeads({
      ...{ journal, crypto, epoch: () => epoch, members: () => members, device: () => 'own' },
      isWaiting: async () => o.waits ?? false,
      onChange: (broken) => {
        told = broken;
      },
    });
  const heads = open();
  await heads.start();
  const hear = (fact: Fact, device: string) => heads.hear([{ fact, device }]);
  return { journal, epoch, adopt, heads, hear, open, broken: () => told };
}

describe('a chain that does not reach a head which its tablet signed', () => {
  test('is on its way until the whole store was read after the head was heard', async () => {
    const { heads, hear, broken, adopt } = await tablet(entries.slice(0, 10));
    await hear(await headOf(entries, 14), 'chair');
    expect(broken()).toEqual([]);
    await adopt(entries.slice(0, 14));
    await heads.changed(caseId);
    await heads.wasRead();
    expect(broken()).toEqual([]);
  });

  test('is called cut once it was, by the tablet and with both lengths', async () => {
    const { heads, hear, broken, adopt } = await tablet(entries.slice(0, 10));
    await hear(await headOf(entries, 14), 'chair');
    await heads.wasRead();
    expect(broken()).toEqual([{ caseId, kind: 'cut', device: 'chair', named: 14, here: 10 }]);
    // The store had lost its end, and the tablet offered it again: then nothing is missing.
    await adopt(entries.slice(0, 14));
    await heads.changed(caseId);
    expect(broken()).toEqual([]);
  });

  test('is not called cut for a head that came after the reading, nor while a key is waited for', async () => {
    const first = await tablet(entries.slice(0, 10));
    await first.hear(await headOf(entries, 10), 'chair');
    await first.heads.wasRead();
    await first.hear(await headOf(entries, 14), 'chair');
    expect(first.broken()).toEqual([]);
    const waiting = await tablet([], { waits: true });
    await waiting.hear(await headOf(entries, 14), 'chair');
    await waiting.heads.wasRead();
    expect(waiting.broken()).toEqual([]);
  });

  test('is named at once where the tablet itself signs a shorter one after it', async () => {
    const { hear, broken } = await tablet(entries.slice(0, 10));
    const long = await headOf(entries, 14);
    await hear(long, 'chair');
    await hear(await headOf(entries, 9), 'chair');
    // An older head that comes late shows nothing.
    expect(broken()).toEqual([]);
    await hear(await headOf(entries, 10, { after: [long] }), 'chair');
    expect(broken()).toMatchObject([{ kind: 'stepped-back', device: 'chair', named: 10 }]);
  });

  test('is no cut where the case was deleted on purpose', async () => {
    const { heads, hear, broken, journal, epoch } = await tablet(entries);
    await hear(await headOf(entries, 14), 'chair');
    await heads.wasRead();
    const [{ stamp }] = entries as [JournalEntry];
    must(await journal.deleteCase({ caseId, epoch, stamp, by: 'lead', reason: 'asked for' }));
    await heads.changed(caseId);
    expect(broken()).toEqual([]);
  });
});

describe('a chain that was written anew', () => {
  test('is named where the original is, by the new head of its tablet', async () => {
    const { hear, broken } = await tablet(entries);
    await hear(await headOf(entries, 8), 'chair');
    expect(broken()).toEqual([]);
    await hear(await headOf(rewritten, 12), 'chair');
    expect(broken()).toMatchObject([{ kind: 'differs', device: 'chair', named: 12 }]);
  });

  test('is named where only the new one is, by a head from before', async () => {
    const { hear, broken } = await tablet(rewritten);
    await hear(await headOf(entries, 12), 'chair');
    expect(broken()).toMatchObject([{ kind: 'differs', device: 'chair', named: 12 }]);
  });

  test('is named where its tablet signed two heads of one place', async () => {
    const { hear, broken } = await tablet([]);
    await hear(await headOf(entries, 12), 'chair');
    await hear(await headOf(rewritten, 12), 'chair');
    expect(broken()).toMatchObject([{ kind: 'differs', device: 'chair', named: 12 }]);
  });

  test('is not named for entries before the place at which it was changed', async () => {
    const { heads, hear, broken } = await tablet(entries);
    await hear(await headOf(rewritten, 4), 'chair');
    await heads.wasRead();
    expect(broken()).toEqual([]);
  });
});

describe('a forged head', () => {
  test('is named with the tablet in whose name it came, and says nothing of the case', async () => {
    const { hear, broken } = await tablet(entries);
    await hear(await headOf(rewritten, 12, { by: other }), 'chair');
    expect(broken()).toMatchObject([{ kind: 'forged-head', device: 'chair', named: 12 }]);
    const real = await headOf(entries, 12);
    const said = { ...Object(real.said), entries: 13 };
    const second = await tablet(entries);
    await second.hear(asFact({ ...real, said }), 'chair');
    expect(second.broken()).toMatchObject([{ kind: 'forged-head', named: 13 }]);
  });

  test('of a tablet that nobody vouches for is one', async () => {
    const { hear, broken } = await tablet(entries);
    await hear(await headOf(entries, 12), 'stranger');
    expect(broken()).toMatchObject([{ kind: 'forged-head', device: 'stranger' }]);
  });
});

describe('what is kept of heads', () => {
  test('is one document a case, whatever came: 240 heads of two hours', async () => {
    const { hear, journal } = await tablet(entries);
    for (let n = 1; n <= 240; n += 1) {
      const length = Math.max(1, Math.floor((n / 240) * entries.length));
      await hear(await headOf(entries, length), 'chair');
    }
    const documents = must(await journal.documents.listAll());
    expect(documents.map(({ kind, id }) => `${kind} ${id}`)).toEqual([`${HEAD_HEARD} ${caseId}`]);
    expect(await anchorageOf(journal, caseId)).toMatchObject({ entries: entries.length });
  });

  test('finds a cut after a restart, and a change of what is stored here', async () => {
    const { hear, open, broken, journal } = await tablet(entries.slice(0, 10));
    await hear(await headOf(entries, 14), 'chair');
    const again = open();
    await again.start();
    expect(broken()).toEqual([]);
    await again.wasRead();
    expect(broken()).toMatchObject([{ kind: 'cut' }]);
    expect(await anchorageOf(journal, caseId)).toMatchObject({ entries: 14, knownTo: 0 });
  });

  test('tells to how many others the highest of this tablet is known', async () => {
    const { heads, journal } = await tablet(entries);
    expect(await anchorageOf(journal, caseId)).toBeNull();
    await heads.left(await headOf(entries, 12));
    expect(await anchorageOf(journal, caseId)).toEqual({ entries: 12, atWallMs: 1012, knownTo: 0 });
    await heads.knownBy('chair', { [caseId]: 8 });
    await heads.knownBy('other', { [caseId]: 12, unknown: 4 });
    expect(await anchorageOf(journal, caseId)).toMatchObject({ entries: 12, knownTo: 1 });
    expect(heads.known).toEqual({ [caseId]: 12 });
  });
});

describe('a head of the other end of a case that was written on two tablets', () => {
  test('breaks nothing where that end is kept here, and is cut where it is not', async () => {
    const { journal, epoch, heads, hear, broken } = await tablet(entries.slice(0, 10));
    await hear(await headOf(rewritten, 12, { by: other }), 'other');
    await heads.wasRead();
    expect(broken()).toMatchObject([{ kind: 'cut', device: 'other', named: 12 }]);
    const end = { caseId, tablet: 'other', name: 'Chair 2', entries: rewritten.slice(4, 12) };
    must(await keepSecondEnd({ journal, epoch }, end));
    await heads.changed(caseId);
    expect(broken()).toEqual([]);
  });
});
