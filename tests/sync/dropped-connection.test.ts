import 'fake-indexeddb/auto';
import { forceCloseDatabase } from 'fake-indexeddb';
import { afterEach, expect, it, vi } from 'vitest';
import { keepOne, openSharingDatabase, readOne } from '../../src/sync/sharing-database.ts';

afterEach(() => vi.restoreAllMocks());

// What the double is given is a connection, whatever its types say.
const drop = forceCloseDatabase as unknown as (connection: IDBDatabase) => void;

it('reads and writes on over a new connection after the browser dropped one', async () => {
  const connections: IDBDatabase[] = [];
  const open = indexedDB.open.bind(indexedDB);
  vi.spyOn(indexedDB, 'open').mockImplementation((...args) => {
    const request = open(...args);
    request.addEventListener('success', () => connections.push(request.result));
    return request;
  });
  const database = openSharingDatabase('dropped');
  await database.change([keepOne('who', 'this one')]);
  for (const connection of connections.splice(0)) drop(connection);
  const read = await Promise.all([readOne(database, 'who'), readOne(database, 'nobody')]);
  expect(read).toEqual(['this one', undefined]);
  for (const connection of connections.splice(0)) drop(connection);
  await database.change([keepOne('who', 'another')]);
  expect(await readOne(database, 'who')).toBe('another');
  database.close();
});
