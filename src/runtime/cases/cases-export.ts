/** Many cases in one file: the journals as they stand, with what is kept apart of them, for other programs and for keeping. */
import { journalJson } from '../../export/journal-text.ts';
import { journalsParts } from '../../export/journals-json.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { asEnd, readSecondEnds } from './second-ends.ts';
import type { SharedFile } from './share.ts';

/** A file stays well under what is read back in one piece; what does not fit goes into the next. */
const TEXT_LENGTH_MAX = 60_000_000;

export interface ExportedCase {
  readonly caseId: string;
  /** Hash of the last entry that went into the file; of a damaged case, the one that is stored. */
  readonly head: string;
}

export interface CasesFile {
  readonly file: SharedFile;
  readonly cases: readonly ExportedCase[];
  /** Cases that are left for a further file. */
  readonly left: number;
}

/**
 * Writes the journals of these cases, in this order, into one file.
 * @param o.heads where each case is said to stand; a damaged one goes into the file with all of it.
 * @param o.day `2026-11-27`, for the name of the file.
 * @param o.lengthMax UTF-16 code units after which no further case is begun.
 */
export async function casesFile(o: {
  readonly journal: Pick<Journal, 'read' | 'documents'>;
  readonly caseIds: readonly string[];
  readonly heads?: ReadonlyMap<string, string>;
  readonly day: string;
  readonly lengthMax?: number;
  readonly onProgress: (done: number) => void;
}): Promise<CasesFile> {
  const { journal, caseIds, heads, day, lengthMax = TEXT_LENGTH_MAX, onProgress } = o;
  const texts: string[] = [];
  const kept = await readSecondEnds(journal);
  const ends = kept.ok ? kept.value : [];
  const cases: ExportedCase[] = [];
  let length = 0;
  let seen = 0;
  for (const caseId of caseIds) {
    if (length >= lengthMax) break;
    const read = await journal.read(caseId);
    seen += 1;
    onProgress(seen);
    const head = read.ok ? read.value.entries.at(-1)?.hash : undefined;
    // A case of which nothing can be read is left to the backup, which takes it as it is.
    if (!read.ok || head === undefined) continue;
    const { entries, apart, verdict } = read.value;
    const secondEnds = ends.flatMap((end) => (end.caseId === caseId ? [asEnd(end)] : []));
    const text = journalJson({ caseId, entries, apart, secondEnds });
    texts.push(text);
    const stored = verdict.firstBad === null ? undefined : heads?.get(caseId);
    cases.push({ caseId, head: stored ?? head });
    length += text.length;
  }
  const type = 'application/json';
  const content = new Blob(journalsParts(texts), { type });
  const name = `lutewatch-${cases.length}-cases-${day}.json`;
  return { file: { name, type, content }, cases, left: caseIds.length - seen };
}
