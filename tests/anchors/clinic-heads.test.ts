/** Heads between whole tablets: what is cut or written anew on one is named on the others. */
import { afterEach, describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { headStatement } from '../../src/export/anchor.ts';
import { anchorageOf, HEAD_HEARD } from '../../src/runtime/anchors/heard-heads.ts';
import type { RunningCase } from '../../src/runtime/app-state.ts';
import { asFact, documentOf } from '../../src/runtime/facts/fact.ts';
import { chainEntries, NO_ENTRY_HASH } from '../../src/storage/hash-chain.ts';
import { signText } from '../../src/storage/signatures.ts';
import { sealFact } from '../../src/sync/seal.ts';
import { must } from '../backup/filled-journal.ts';
import { clinic, paired, settled, TestTablet, until } from '../sharing/clinic.ts';

const CASE = 'case-1';
let tablets: TestTablet[] = [];
afterEach(async () => {
  for (const tablet of tablets) await tablet.off();
  tablets = [];
});

async function two() {
  const of = await clinic();
  const parts = [await paired(of, 'a'), await paired(of, 'b')] as const;
  for (const part of parts) tablets.push(await new TestTablet(of, part).on());
  const [a, b] = tablets as [TestTablet, TestTablet];
  a.running = {
    caseId: CASE,
    isViewOnly: false,
    log: {
      state: { opened: { mode: 'patient', spec: { title: 'Case', chartRef: 'R' } }, closed: null },
    },
  } as unknown as RunningCase;
  return { of, a, b };
}

/** The head of a case as it stands on a tablet, or as it is said to stand, sealed by that tablet. */
async function sendHead(
  from: TestTablet,
  o: { readonly entries: number; readonly head: string; readonly signs?: TestTablet },
): Promise<void> {
  const { crypto } = globalThis;
  const { keys } = (o.signs ?? from).parts;
  const { entries, head } = o;
  const text = headStatement({ caseId: CASE, entries, head });
  const signed = { publicKey: keys.publicKey, signature: await signText(crypto, keys, text) };
  const said = { type: 'head', entries, head, signed, running: true };
  const about = { kind: 'head', item: CASE, said, after: [], tablet: from.name, by: null } as const;
  const sealed = await sealFact(from.engine.sealer, documentOf(asFact({ ...about, atWallMs: 1 })));
  await from.engine.send([{ stream: 'F', ...must(sealed) }]);
}

const broken = (tablet: TestTablet) =>
  tablet.engine.brokenChains.map(({ kind, device, named, here }) => ({
    kind,
    device,
    named,
    here,
  }));

describe('a case of one tablet', () => {
  it('is anchored on the other while it runs, in one small document and no fact', async () => {
    const { of, a, b } = await two();
    await a.press(CASE);
    await a.press(CASE, 4);
    await settled(of.hub, tablets);
    await until(async () => (await anchorageOf(b.journal, CASE)) !== null, 'a head on the other');
    const hashes = await a.entries(CASE);
    const kept = must(await b.journal.documents.get(HEAD_HEARD, { id: CASE }));
    expect(kept).toMatchObject({ heads: [{ device: 'a', head: hashes.at(-1) }] });
    expect(await b.facts('head')).toEqual([]);
    expect(await a.facts('head')).toEqual([]);
    // The other says so with its presence, and this one counts it.
    await until(async () => (await anchorageOf(a.journal, CASE))?.knownTo === 1, 'the count');
    expect(await anchorageOf(a.journal, CASE)).toMatchObject({ entries: hashes.length });
    expect([...broken(a), ...broken(b)]).toEqual([]);
  }, 15_000);

  it('that lags behind its head is not called cut, one whose end is kept back is', async () => {
    const { of, a, b } = await two();
    await a.press(CASE);
    await a.press(CASE, 3);
    await settled(of.hub, tablets);
    const hashes = await a.entries(CASE);
    expect(broken(b)).toEqual([]);
    // Told of an entry that the store keeps back: the tablet itself has six, here are four.
    const head = 'ab'.repeat(32);
    await sendHead(a, { entries: 6, head });
    await settled(of.hub, tablets);
    expect(hashes).toHaveLength(4);
    expect(broken(b)).toEqual([]);
    b.engine.now();
    await until(() => broken(b).length > 0, 'the cut');
    expect(broken(b)).toEqual([{ kind: 'cut', device: 'a', named: 6, here: 4 }]);
  });

  it('that was written anew is named on the other by the head of its tablet', async () => {
    const { of, a, b } = await two();
    await a.press(CASE);
    await a.press(CASE, 3);
    await settled(of.hub, tablets);
    const { entries } = must(await a.journal.read(CASE));
    const recorded = entries.map(({ seq, press, stamp, event }) => ({
      ...{ seq, press, stamp, event },
      by: 'somebody-else',
    }));
    const anew = chainEntries(recorded, { caseId: CASE, epoch: 1, prev: NO_ENTRY_HASH });
    await sendHead(a, { entries: 4, head: present(anew.at(-1), 'an entry').hash });
    await until(() => broken(b).length > 0, 'the change');
    expect(broken(b)).toEqual([{ kind: 'differs', device: 'a', named: 4, here: 4 }]);
  });

  it('of which another tablet forges a head is named with that tablet', async () => {
    const { of, a, b } = await two();
    await a.press(CASE);
    await settled(of.hub, tablets);
    await sendHead(a, { entries: 1, head: 'cd'.repeat(32), signs: b });
    await until(() => broken(b).length > 0, 'the forged head');
    expect(broken(b)).toEqual([{ kind: 'forged-head', device: 'a', named: 1, here: 1 }]);
  });
});
