/** Whether the lead's box lies anywhere but in tablets: on paper, or in a backup that was made after it was sealed. */
import { expect, it } from 'vitest';
import { readBox, sayBox, sayPrinted } from '../../src/runtime/sharing/box-facts.ts';
import { must } from '../backup/filled-journal.ts';
import { backupOf, restoreInto, type Tablet, tabletOf } from '../facts/tablets.ts';

const SITE = 'site-1';

const box = (sealed: string) => ({ format: 'lutewatch-box', formatVersion: 1, sealed }) as const;

const partsOf = ({ id, journal, epoch }: Tablet, nowMs: number) => ({
  journal,
  epoch: () => epoch,
  tablet: () => id,
  nowWallMs: () => nowMs,
});

const kept = async ({ journal }: Tablet) => readBox(journal, SITE);

it('is asked for until somebody has it on paper, on every tablet, and again once it is sealed anew', async () => {
  const [a, b] = [await tabletOf('a'), await tabletOf('b')];
  expect(await kept(a)).toBeNull();
  must(await sayBox(partsOf(a, 1000), { site: SITE, box: box('ab'.repeat(40)) }));
  const first = await kept(a);
  expect(first).toMatchObject({ sealedAtWallMs: 1000, isPrinted: false, isBackedUp: false });
  must(await sayPrinted(partsOf(a, 1500), { site: SITE, of: first?.id ?? '' }));
  await restoreInto(b, await backupOf(a));
  expect(await kept(b)).toMatchObject({ sealedAtWallMs: 1000, isPrinted: true });
  must(await sayBox(partsOf(b, 2000), { site: SITE, box: box('cd'.repeat(60)) }));
  expect(await kept(b)).toMatchObject({ sealedAtWallMs: 2000, isPrinted: false });
});

it('is kept by a backup that was made after it was sealed, and by no earlier one', async () => {
  const a = await tabletOf('a');
  const { journal, epoch } = a;
  must(await sayBox(partsOf(a, 1000), { site: SITE, box: box('ab'.repeat(40)) }));
  const note = (onWallMs: number) => {
    const value = { onWallMs, cases: 0 };
    return journal.documents.put({ kind: 'last-backup', id: 'this-tablet', value, epoch });
  };
  must(await note(999));
  expect((await kept(a))?.isBackedUp).toBe(false);
  must(await note(1000));
  expect((await kept(a))?.isBackedUp).toBe(true);
});

it('of an earlier clinic is not taken for that of this one, whichever is longer', async () => {
  for (const length of [40, 80]) {
    const a = await tabletOf('a');
    const b = await tabletOf('b');
    must(await sayBox(partsOf(a, 1000), { site: 'earlier', box: box('ab'.repeat(length)) }));
    must(await sayBox(partsOf(b, 2000), { site: SITE, box: box('cd'.repeat(60)) }));
    // Neither writer knew of the other.
    await restoreInto(a, await backupOf(b));
    expect((await kept(a))?.sealed.sealed).toBe('cd'.repeat(60));
  }
});
