/**
 * The keys of this tablet, in a database of their own: they are no part of the journal, and no backup holds
 * them. Where the browser deleted them, the tablet signs with new ones.
 */
import { type DBSchema, openDB } from 'idb';
import { giveWay } from './give-way.ts';
import { makeTabletKeys, type SigningCrypto, type TabletKeys } from './signatures.ts';

const NAME = 'lutewatch-keys';
const OWN = 'own';

interface KeysSchema extends DBSchema {
  keys: { key: string; value: TabletKeys };
}

/** The keys of this tablet, made at the first need; null where the browser has none to give. */
export async function openTabletKeys(crypto: SigningCrypto): Promise<TabletKeys | null> {
  try {
    const database = await openDB<KeysSchema>(NAME, 1, {
      upgrade: (made) => void made.createObjectStore('keys'),
      blocking: giveWay,
    });
    const kept = await database.get('keys', OWN);
    if (kept !== undefined) return kept;
    const made = await makeTabletKeys(crypto);
    if (made === null) return null;
    const writing = database.transaction('keys', 'readwrite', { durability: 'strict' });
    // Another window may have been quicker: its keys are the tablet's.
    const first = await writing.store.get(OWN);
    if (first === undefined) await writing.store.put(made, OWN);
    await writing.done;
    return first ?? made;
  } catch {
    return null;
  }
}
