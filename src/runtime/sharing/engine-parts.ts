/** What a tablet's part in the clinic's store stands on. */
import type { Journal, JournalNews } from '../../storage/journal-types.ts';
import type { TabletKeys } from '../../storage/signatures.ts';
import type { Membership, SignedStatement } from '../../sync/sealed-types.ts';
import type { SharerState } from '../../sync/sharer.ts';
import type { SharingDatabase } from '../../sync/sharing-database.ts';
import type { ClinicStore } from '../../sync/store-types.ts';
import type { RunningCase } from '../app-state.ts';

export interface EngineParts {
  readonly store: ClinicStore;
  readonly database: SharingDatabase;
  readonly journal: Journal;
  readonly epoch: () => number | null;
  readonly crypto: Crypto;
  /** The version of the app: another one may understand more of what the store holds. */
  readonly version: string;
  readonly keys: TabletKeys;
  readonly membership: Membership;
  /** Statements that came with the membership; those that are kept as facts are found by themselves. */
  readonly statements: readonly SignedStatement[];
  readonly timers: { after(delayMs: number, callback: () => void): () => void };
  readonly nowWallMs: () => number;
  readonly random: () => number;
  /** Under which id this tablet writes cases and facts. */
  readonly tablet: () => string;
  readonly running: () => RunningCase | null;
  /** Tells what this window stores; returns the way to stop. */
  readonly onOwn: (listener: (news: JournalNews) => void) => () => void;
  /** Tells this window of what came from other tablets. */
  readonly bring: (news: JournalNews) => void;
  /** Something of the engine has changed. `isUrgent`: people should see it now. */
  readonly onChange: (o: { readonly isUrgent: boolean }) => void;
}

/** While a case runs here only a little is read at a time. Design choices of this project. */
export const QUIET_PACE = { atOnce: 64, restMs: 0 };
export const BUSY_PACE = { atOnce: 8, restMs: 100 };
/** After something of this tablet could not be looked at, ms. */
export const AGAIN_MS = 5000;

/** Before anything is known of the line. */
export const CLOSED: SharerState = {
  line: 'connecting',
  owed: 0,
  isRead: false,
  catchUp: null,
  problem: null,
};
