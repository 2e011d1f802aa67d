/** The platform's own SHA-256 of an opening stands in for ours, and finds the same faults. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { readingOf } from '../../src/storage/case-reading.ts';
import { chainEntries, NO_ENTRY_HASH } from '../../src/storage/hash-chain.ts';
import { nativeHashes } from '../../src/storage/native-hash.ts';
import { wholeCase } from './sample-case.ts';

const entries = chainEntries(wholeCase('a', 4), { caseId: 'a', epoch: 1, prev: NO_ENTRY_HASH });
const opening = present(entries[0], 'an opening');

async function verdictOf(stored: readonly unknown[]) {
  const hashes = await nativeHashes(stored);
  return readingOf('a', { stored, summary: null, hashes }).verdict;
}

afterEach(() => vi.unstubAllGlobals());

describe('the hash of an opening', () => {
  it('is worked out by the platform, and is the one it carries', async () => {
    expect([...(await nativeHashes(entries))]).toEqual([[opening, opening.hash]]);
    expect(await verdictOf(entries)).toEqual({ goodCount: entries.length, firstBad: null });
  });

  it('shows an opening that was changed, and nothing else', async () => {
    const event = { ...opening.event, protocolHash: 'cd'.repeat(32) };
    const changed = { ...opening, event };
    const bad = { goodCount: 0, firstBad: { index: 0, reason: 'hash' } };
    expect(await verdictOf([changed, ...entries.slice(1)])).toEqual(bad);
    const other = { ...opening, hash: 'ab'.repeat(32) };
    expect(await verdictOf([other, ...entries.slice(1)])).toEqual(bad);
  });

  it('shows an opening that has no text', async () => {
    const event = { ...opening.event, protocolHash: '\ud800' };
    expect(await verdictOf([{ ...opening, event }])).toMatchObject({
      firstBad: { index: 0, reason: 'hash' },
    });
  });

  it('is left to our own where the page was not served securely', async () => {
    vi.stubGlobal('crypto', {});
    expect((await nativeHashes(entries)).size).toBe(0);
    expect(await verdictOf(entries)).toEqual({ goodCount: entries.length, firstBad: null });
  });
});
