/** What was worked out from cases is kept between starts, and losing it is no fault. */
import 'fake-indexeddb/auto';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { openFactsCache } from '../../src/storage/facts-cache.ts';

const facts = (caseId: string, head = 'h') => ({ caseId, head });

afterEach(() => vi.unstubAllGlobals());

describe('kept facts', () => {
  it('are there at the next start, newer ones in place of older ones', async () => {
    const first = await openFactsCache();
    await first?.put([facts('a'), facts('b')]);
    await first?.put([facts('b', 'later')]);
    const second = await openFactsCache();
    expect(await second?.readAll()).toEqual([facts('a'), facts('b', 'later')]);
  });

  it('are forgotten one by one', async () => {
    const cache = await openFactsCache();
    await cache?.put([facts('a'), facts('b'), facts('c')]);
    await cache?.forget(['a', 'c', 'never kept']);
    expect(await cache?.readAll()).toEqual([facts('b')]);
  });

  it('are none where there is no database', async () => {
    vi.stubGlobal('indexedDB', undefined);
    expect(await openFactsCache()).toBeNull();
  });
});
