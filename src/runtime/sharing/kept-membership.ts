/** Who this tablet is in its clinic, as it is kept in the database of sharing. */

import { MEMBERSHIP } from '../../sync/intake.ts';
import type { Membership, SignedStatement } from '../../sync/sealed-types.ts';
import {
  type Change,
  keepOne,
  ROOMS,
  readOne,
  type SharingDatabase,
} from '../../sync/sharing-database.ts';

const STATEMENTS = 'statements';
/** Ids under which this tablet was a member once. */
const USED = 'used-devices';
const SHARED = 'shared';

export interface KeptMembership {
  readonly membership: Membership;
  /** Statements that came with it. */
  readonly statements: readonly SignedStatement[];
}

/** What this program kept there; null while the tablet belongs to no clinic. */
export async function readMembership(database: SharingDatabase): Promise<KeptMembership | null> {
  const [membership, statements] = await Promise.all([
    readOne(database, MEMBERSHIP),
    readOne(database, STATEMENTS),
  ]);
  if (membership === undefined) return null;
  // Written by this program alone, with keys that no text can hold.
  return {
    membership: membership as Membership,
    statements: (statements ?? []) as readonly SignedStatement[],
  };
}

export async function usedDevices(database: SharingDatabase): Promise<readonly string[]> {
  const used = await readOne(database, USED);
  return Array.isArray(used) ? used.filter((each) => typeof each === 'string') : [];
}

/** From now on the tablet takes part. What was left of another clinic goes. */
export async function keepMembership(
  database: SharingDatabase,
  { membership, statements }: KeptMembership,
): Promise<void> {
  const used = await usedDevices(database);
  await database.change([
    ...emptied(),
    keepOne(USED, [...new Set([...used, membership.device])]),
    keepOne(MEMBERSHIP, membership),
    keepOne(STATEMENTS, statements),
  ]);
}

/** The tablet takes part no more. */
export async function dropMembership(database: SharingDatabase): Promise<void> {
  const used = await usedDevices(database);
  await database.change([...emptied(), keepOne(USED, used)]);
}

const emptied = (): readonly Change[] => ROOMS.map((room) => ({ room, clear: true }));

export interface SharedTimes {
  readonly sharedAtWallMs: number | null;
  readonly behindSinceWallMs: number | null;
}

const isTime = (value: unknown): value is number | null =>
  value === null || typeof value === 'number';

export async function readSharedTimes(database: SharingDatabase): Promise<SharedTimes> {
  const kept = await readOne(database, SHARED);
  const none = { sharedAtWallMs: null, behindSinceWallMs: null };
  if (!Array.isArray(kept)) return none;
  const [sharedAtWallMs, behindSinceWallMs] = kept;
  const isBoth = isTime(sharedAtWallMs) && isTime(behindSinceWallMs);
  return isBoth ? { sharedAtWallMs, behindSinceWallMs } : none;
}

export const keepSharedTimes = (times: SharedTimes): Change =>
  keepOne(SHARED, [times.sharedAtWallMs, times.behindSinceWallMs]);
