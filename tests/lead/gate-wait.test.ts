/** The wait after wrong passphrases: nothing that people can set shortens it. */
import { webcrypto } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { ATTEMPTS, THIS_TABLET } from '../../src/runtime/lead/lead-documents.ts';
import { LeadGate } from '../../src/runtime/lead/lead-gate.ts';
import type { CryptoLike } from '../../src/runtime/lead/lead-passphrase.ts';
import { manualClock } from '../runtime/manual-clock.ts';
import { createMemoryDevice, createMemoryJournal } from '../storage/memory-journal.ts';

const PASSPHRASE = 'a long enough phrase';
const WALL_MS = 1_780_000_000_000;
const HOUR_MS = 3_600_000;
const journal = createMemoryJournal(createMemoryDevice());
let epoch = 0;

const gateOn = (clock = manualClock({ wallMs: WALL_MS })) => {
  const gate = new LeadGate({ journal, clock, crypto: webcrypto as unknown as CryptoLike });
  const attempt = () => gate.try({ passphrase: PASSPHRASE, epoch });
  const refused = async () => {
    const tried = await attempt();
    return tried.ok ? null : `${tried.error.code} ${tried.error.came}`;
  };
  return { gate, clock, refused };
};

beforeAll(async () => {
  const { gate } = gateOn();
  await journal.open();
  const begun = await journal.startWriting();
  if (!begun.ok) throw new Error('the journal does not open');
  epoch = begun.value.epoch;
  await gate.set({ person: 'A. Lead', passphrase: PASSPHRASE, epoch, isFirst: true });
});

/** Three wrong attempts, the last at this instant: 5 s to wait. */
async function waiting() {
  const test = gateOn();
  const value = { failed: 3, lastWallMs: WALL_MS };
  await journal.documents.put({ kind: ATTEMPTS, id: THIS_TABLET, value, epoch });
  await test.gate.read();
  return test;
}

describe('the wait after wrong attempts', () => {
  it('is over when its time has passed on a clock that nobody can set', async () => {
    const { clock, refused } = await waiting();
    clock.advance(4999);
    expect(await refused()).toBe('wait 1');
    clock.advance(1);
    expect(await refused()).toBeNull();
  });

  it.each([
    ['ahead', HOUR_MS],
    ['back', -HOUR_MS],
  ])('starts again when the clock on the wall is set %s', async (_, byMs) => {
    const { clock, refused } = await waiting();
    clock.advance(4000);
    clock.moveWall(byMs);
    expect(await refused()).toBe('wait 5000');
    clock.advance(5000);
    expect(await refused()).toBeNull();
  });

  it('is waited out whole on a page that is loaded anew, whatever the clock on the wall says', async () => {
    const { clock } = await waiting();
    clock.advance(4000);
    clock.moveWall(HOUR_MS);
    clock.restart('run-2');
    const { refused } = gateOn(clock);
    expect(await refused()).toBe('wait 5000');
    clock.advance(5000);
    expect(await refused()).toBeNull();
  });

  it('is not over sooner on another page, which has been open for hours', async () => {
    await waiting();
    const other = manualClock({ wallMs: WALL_MS + HOUR_MS, monoMs: 3 * HOUR_MS, runId: 'other' });
    const { refused } = gateOn(other);
    expect(await refused()).toBe('wait 5000');
  });
});
