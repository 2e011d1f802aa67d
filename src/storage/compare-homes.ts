/**
 * What a start of the writer does before anything is written: compares the two homes, mends what one of
 * them can, and works out what is missing in both.
 */
import type { FileKeeper } from './file-keeper.ts';
import type { Heads } from './heads.ts';
import { headsAfter } from './heads-found.ts';
import type { HeadsKeeper } from './heads-keeper.ts';
import { recallHeads } from './heads-read.ts';
import type { ReconcileReport } from './journal-types.ts';
import { mendSuspects } from './mend-suspects.ts';
import type { JournalDatabase } from './migrations.ts';
import { type Reconciled, reconcile } from './reconcile.ts';
import { SecondHomeLost } from './second-home.ts';
import { findSuspects, lacksCases, noteListed } from './suspects.ts';

interface Start {
  readonly database: JournalDatabase;
  readonly file: FileKeeper;
  readonly heads: HeadsKeeper;
  readonly epoch: number;
  /** This window has not written yet. */
  readonly isFirst: boolean;
  /** The database was made anew. */
  readonly isNew: boolean;
}

/** What came of it, for the report; null where there are no files, or they failed on the way. */
export async function compareHomes(
  start: Start,
): Promise<Omit<ReconcileReport, 'databaseLost'> | null> {
  const { database, heads, isNew } = start;
  // Once this window writes it knows more than any place.
  const before = start.isFirst ? await recallHeads(database, heads.places) : heads.heads;
  const compared = await reconciled(start, before);
  const left = compared ?? (await leftAlone(start, before));
  // Nobody knows how everything stands: what the places remember stays as it is.
  if (left === null) await heads.begin(database, before);
  else {
    await heads.begin(database, await headsAfter(database, { before, left: { ...left, isNew } }));
    // A full database must not keep anybody from starting.
    await noteListed(database).catch(() => undefined);
  }
  return compared?.report ?? null;
}

/** What is left where there are no files; null while there are some that do not answer, which may have more. */
async function leftAlone(
  { database, file, epoch, isNew }: Start,
  heads: Heads,
): Promise<Pick<Reconciled, 'damaged' | 'garbled'> | null> {
  if (file.home !== null) return null;
  const all = isNew || (await lacksCases(database, heads));
  const suspects = await findSuspects(database, { all, since: epoch - 1, heads });
  const mended = await mendSuspects({ database, home: null }, suspects);
  return mended === null ? null : { damaged: mended.damaged, garbled: 0 };
}

async function reconciled(
  { database, file, isNew }: Start,
  heads: Heads,
): Promise<Reconciled | null> {
  if (file.home === null || file.place === null || !file.isUp) return null;
  const homes = { database, home: file.home, place: file.place };
  try {
    return await reconcile(homes, { heads, isNew });
  } catch (cause) {
    if (!(cause instanceof SecondHomeLost)) throw cause;
    file.begin(file.place, false);
    return null;
  }
}
