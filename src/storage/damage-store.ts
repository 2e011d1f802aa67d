/** The journal's side of damage: what is told of it, and how a case is mended while the app runs. */

import { ok } from '../base/result.ts';
import type { FileKeeper } from './file-keeper.ts';
import type { HeadsKeeper } from './heads-keeper.ts';
import { refuse } from './journal-problem.ts';
import {
  type CaseReading,
  type DamageStore,
  type JournalResult,
  NO_DAMAGE,
} from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';
import { parts } from './parts.ts';

interface DamageHost {
  readonly heads: HeadsKeeper;
  readonly file: FileKeeper;
  readonly read: <T>(read: (database: JournalDatabase) => Promise<T>, none: T) => JournalResult<T>;
  /** Queues a write that leaves no lines in the file. */
  readonly write: <T>(store: (database: JournalDatabase) => JournalResult<T>) => JournalResult<T>;
  /** The stored chain of a case has changed under whoever wrote on it. */
  readonly onSettled: (caseId: string) => void;
}

/** What the journal itself asks for besides. */
interface DamageDoor extends DamageStore {
  /** The reading of a case, filled from the file where that helps and was not tried before. */
  mended(reading: CaseReading): JournalResult<CaseReading>;
  /** A backup gave entries: what was told of the case goes when it is whole again. */
  recheck(caseId: string): Promise<void>;
}

/** Few tablets are ever damaged: the code for it is read when it is needed, and may not be there yet. */
const mending = () => parts.mendWhileRunning().catch(() => null);

/** What is known of the damage on this tablet, over the journal that `host` belongs to. */
export function createDamageStore(host: DamageHost): DamageDoor {
  const { heads, file, read, write } = host;
  return {
    read: () =>
      read(async (database) => {
        // Whoever writes knows more than what was noted at the start.
        if (file.place !== null && heads.isBegun) return heads.heads.damage;
        const kept = await database.get('meta', 'damage');
        return kept === undefined ? NO_DAMAGE : (await parts.headsRead()).parseDamage(kept);
      }, NO_DAMAGE),
    note: () =>
      write(async (database) => {
        await heads.keepDamage(database, { ...heads.heads.damage, isNoted: true });
        return ok(null);
      }),
    async settle(of) {
      const code = await mending();
      if (code === null) return refuse('not-loaded', NO_CODE);
      const settled = await write((database) => code.settleOne(database, { heads, ...of }));
      host.onSettled(of.caseId);
      return settled;
    },
    async mended(reading) {
      const { caseId, entries, verdict } = reading;
      const told = heads.heads.damage.cases.find((one) => one.caseId === caseId);
      const isKnown = told !== undefined && told.left === entries.length;
      if (verdict.firstBad === null || file.place === null || isKnown) return ok(reading);
      // Files that do not answer may still have it.
      if (file.home !== null && !file.isUp) return ok(reading);
      const code = await mending();
      if (code === null) return ok(reading);
      // A press must not wait for the files to be read through, and a long reading is no lost database.
      const again = await read(
        (database) => code.mendOne(database, { heads, file, caseId }),
        reading,
      );
      host.onSettled(caseId);
      return again;
    },
    async recheck(caseId) {
      if (!heads.heads.damage.cases.some((one) => one.caseId === caseId)) return;
      const code = await parts.headsFound().catch(() => null);
      if (code === null) return;
      await read((database) => code.noteFound(database, { heads, caseId, now: null }), undefined);
    },
  };
}

const NO_CODE = {
  place: 'journal.damage',
  expected: 'the part of the app that mends',
  came: undefined,
};
