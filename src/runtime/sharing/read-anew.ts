import { keepOne, readOne, type SharingDatabase } from '../../sync/sharing-database.ts';

const VERSION = 'read-by-version';

/**
 * Another version of the app reads the whole store again: the one before may have left out what it did not
 * understand. Taking the same thing twice changes nothing.
 */
export async function readAnewIfOther(database: SharingDatabase, version: string): Promise<void> {
  if ((await readOne(database, VERSION)) === version) return;
  await database.change([
    { room: 'cursors', clear: true },
    { room: 'refused', clear: true },
    keepOne(VERSION, version),
  ]);
}
