/** What was worked out from cases is kept between starts, and losing it is no fault. */
import 'fake-indexeddb/auto';
import { deleteDB } from 'idb';
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

  it('come whole when they are more than are read at once', async () => {
    const cache = await openFactsCache();
    const ids = Array.from({ length: 2000 }, (_, n) => `many-${String(n).padStart(4, '0')}`);
    await cache?.put(ids.map((id) => facts(id)));
    const read = (await cache?.readAll()) ?? [];
    expect(read.filter((one) => JSON.stringify(one).includes('many-'))).toEqual(
      ids.map((id) => facts(id)),
    );
    await cache?.forget(ids);
  });

  it('are forgotten one by one', async () => {
    const cache = await openFactsCache();
    await cache?.put([facts('a'), facts('b'), facts('c')]);
    await cache?.forget(['a', 'c', 'never kept']);
    expect(await cache?.readAll()).toEqual([facts('b')]);
  });

  it('cost only time when the browser has dropped the connection', async () => {
    const cache = await openFactsCache();
    // Whoever deletes the database makes the cache let go of it.
    await deleteDB('lutewatch-facts');
    await expect(cache?.put([facts('a')])).resolves.toBeUndefined();
    await expect(cache?.forget(['a'])).resolves.toBeUndefined();
    await expect(cache?.readAll()).resolves.toEqual([]);
  });

  it('are none where there is no database', async () => {
    vi.stubGlobal('indexedDB', undefined);
    expect(await openFactsCache()).toBeNull();
  });
});
