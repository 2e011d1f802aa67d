/** When what two tablets tell differently is counted: a moment after a change, once, and never at the chair. */
import { expect, it } from 'vitest';
import { ConflictCount } from '../../src/runtime/sharing/conflict-count.ts';
import { must } from '../backup/filled-journal.ts';
import { backupOf, gel, lotOf, restoreInto, tabletOf } from '../facts/tablets.ts';

async function tabletWithTwoExpiries() {
  const [a, b] = [await tabletOf('a'), await tabletOf('b')];
  must(await a.stock.receive(gel));
  await restoreInto(b, await backupOf(a));
  for (const [tablet, expiry] of [
    [a, '2027-03-31'],
    [b, '2028-03-31'],
  ] as const) {
    const before = lotOf(tablet);
    if (before === undefined) throw new Error('no lot');
    must(await tablet.stock.correct(tablet.stock.opened(before), { ...before, expiry }));
  }
  await restoreInto(a, await backupOf(b));
  return a;
}

/** Timers that a test lets ring, one after the other. */
function timers() {
  const set: { readonly delayMs: number; readonly ring: () => void }[] = [];
  const after = (delayMs: number, ring: () => void) => {
    const one = { delayMs, ring };
    set.push(one);
    return () => void set.splice(set.indexOf(one), 1);
  };
  return { after, set, ring: () => set.shift()?.ring() };
}

it('is counted once for changes in a row, and told only when it changed', async () => {
  const { journal } = await tabletWithTwoExpiries();
  const host = timers();
  let told = 0;
  const count = new ConflictCount({
    journal,
    timers: host,
    isBusy: () => false,
    onCount: () => {
      told += 1;
    },
  });
  count.heard(['settings', 'fact-head']);
  expect(host.set).toHaveLength(0);
  count.heard(['fact-material']);
  count.heard(['fact-sheet', 'settings']);
  expect(host.set).toHaveLength(1);
  host.ring();
  await expect.poll(() => count.count).toBe(1);
  expect(told).toBe(1);
  count.heard(['fact-protocol']);
  host.ring();
  await new Promise((resolve) => setTimeout(resolve, 200));
  expect(told).toBe(1);
  count.heard(['fact-material']);
  count.stop();
  expect(host.set).toHaveLength(0);
});

it('waits while a case runs', async () => {
  const { journal } = await tabletWithTwoExpiries();
  const host = timers();
  let isBusy = true;
  const onCount = (): void => undefined;
  const count = new ConflictCount({ journal, timers: host, isBusy: () => isBusy, onCount });
  count.soon();
  host.ring();
  await Promise.resolve();
  expect(count.count).toBe(0);
  expect(host.set.map(({ delayMs }) => delayMs)).toEqual([15_000]);
  isBusy = false;
  host.ring();
  await expect.poll(() => count.count).toBe(1);
});
