/** Makes an encrypted backup of everything that is on this tablet, and brings one back. */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { TabletKeys } from '../../storage/signatures.ts';
import { anchorOwn, tabletKeys } from '../anchors/heads.ts';
import type { Clock } from '../device/clock.ts';
import type { CryptoLike } from '../lead/lead-passphrase.ts';
import { openLines, sealLines, unlockFile } from './backup-cipher.ts';
import { BackupFault } from './backup-format.ts';
import { type BackupCounts, backupLines, JournalFault, NO_COUNTS } from './backup-lines.ts';
import { checkLines, Merger, type OnAdded, type RestoreReport } from './backup-merge.ts';
import { sealOf, signsWith } from './backup-seal.ts';

/** A backup lies outside the tablet, where nobody counts attempts; its passphrase is longer. */
export const BACKUP_PASSPHRASE_LENGTH_MIN = 12;

export interface BackupProgress {
  readonly part: 'writing' | 'checking' | 'merging';
  readonly cases: number;
  /** How many there will be; null while that is not known. */
  readonly of: number | null;
}

type OnProgress = (progress: BackupProgress) => void;

function problemOf(cause: unknown): Problem {
  if (cause instanceof BackupFault || cause instanceof JournalFault) return cause.problem;
  throw cause;
}

/**
 * Writes everything into one file.
 * Errors: those of the journal; nothing but the heads of cases is changed on the tablet.
 */
export async function makeBackup(o: {
  readonly journal: Journal;
  readonly crypto: CryptoLike;
  readonly passphrase: string;
  readonly onProgress?: OnProgress;
  /** Of the window: in the one that writes, the heads of cases are kept first, and go along. */
  readonly own?: { readonly clock: Clock; readonly epoch: () => number | null };
  /** Signs the file; those of this tablet when left out. */
  readonly keys?: TabletKeys | null;
}): Promise<Result<{ readonly file: Blob; readonly counts: BackupCounts }, Problem>> {
  const { journal, crypto, passphrase, onProgress = () => undefined } = o;
  if (passphrase.length < BACKUP_PASSPHRASE_LENGTH_MIN) {
    const expected = `at least ${BACKUP_PASSPHRASE_LENGTH_MIN} characters`;
    return err(problem('passphrase', expected, passphrase.length, 'passphrase-short'));
  }
  if (o.own) await anchorOwn({ ...o.own, journal, crypto });
  const keys = o.keys === undefined ? await tabletKeys(crypto) : o.keys;
  let counts = NO_COUNTS;
  const onCounts = (now: BackupCounts): void => {
    counts = now;
    onProgress({ part: 'writing', cases: now.cases, of: null });
  };
  const lines = backupLines(journal, onCounts, keys && signsWith(crypto, keys));
  try {
    const file = await sealLines(crypto, { passphrase, lines });
    return ok({ file, counts });
  } catch (cause) {
    return err(problemOf(cause));
  }
}

async function* counted(
  lines: AsyncIterable<string>,
  onCase: (cases: number) => void,
): AsyncGenerator<string> {
  let cases = 0;
  for await (const line of lines) {
    // The first entry of a case points at 64 zeros; the text is enough to count by.
    if (line.includes('"seq":0,') && line.includes('"record":"entry"')) {
      cases += 1;
      onCase(cases);
    }
    yield line;
  }
}

/**
 * Reads a backup from its first byte to its last, and only then merges it. Errors: the
 * `BackupProblemCode`s, after which nothing was changed, and those of the journal.
 */
export async function restoreBackup(o: {
  readonly journal: Journal;
  readonly epoch: number;
  readonly crypto: CryptoLike;
  readonly file: Blob;
  readonly passphrase: string;
  readonly onProgress?: OnProgress;
  /** Told the entries of each case that was not here before, once they are stored. */
  readonly onAdded?: OnAdded;
}): Promise<Result<RestoreReport, Problem>> {
  const { journal, epoch, crypto, file, passphrase } = o;
  const { onProgress = () => undefined, onAdded = async () => undefined } = o;
  try {
    const opened = await unlockFile(crypto, { file, passphrase });
    const found = await checkLines(
      counted(openLines(crypto, opened), (cases) =>
        onProgress({ part: 'checking', cases, of: null }),
      ),
    );
    const { end } = found;
    const own = await tabletKeys(crypto);
    const seal = await sealOf(crypto, {
      ...{ end, signed: end.signed },
      ownKey: own?.publicKey ?? null,
    });
    if (seal === false) {
      const fault = { expected: 'the signature of the tablet', came: 'another' };
      throw new BackupFault('backup-altered', fault);
    }
    const merger = new Merger({ journal, epoch, found, onAdded });
    const merged = await merger.run(openLines(crypto, opened), (cases) =>
      onProgress({ part: 'merging', cases, of: found.counts.cases }),
    );
    return merged.ok ? ok({ ...merged.value, seal }) : merged;
  } catch (cause) {
    return err(problemOf(cause));
  }
}
