/**
 * Cases that were written on two tablets from one place on: both ends are kept and shown, and neither is ever
 * put behind the other.
 */
import type { Journal, JournalEntry, JournalNews } from '../../storage/journal-types.ts';
import type { Members } from '../../sync/sealed-types.ts';
import type { SharingDatabase } from '../../sync/sharing-database.ts';
import { SECOND_END } from '../cases/second-end-kind.ts';
import { dropSecondEnd, keepSecondEnd, readSecondEnds } from '../cases/second-ends.ts';
import { otherEnds, pieceOf, type Writes } from './join-entries.ts';

export interface ForkEnd {
  /** Id of the tablet that gave it; empty where that is not known. */
  readonly device: string;
  /** From the first entry that differs. */
  readonly entries: readonly JournalEntry[];
  /** That tablet did not hold the pen there. */
  readonly withoutPen?: true;
}

export interface Fork {
  readonly caseId: string;
  /** Number of the first entry that differs. */
  readonly at: number;
  /** The first is the one that stands in this tablet's journal. */
  readonly ends: readonly ForkEnd[];
}

/** Every fork that this tablet knows of, by case and place. Rejects where either database does not answer. */
async function readForks(o: {
  readonly database: SharingDatabase;
  readonly journal: Pick<Journal, 'read'>;
  /** The tablet itself. */
  readonly device: string;
  readonly writes: Writes;
}): Promise<readonly Fork[]> {
  const held = await o.database.all('held');
  const forks: Fork[] = [];
  for (const caseId of new Set(held.map((each) => each.caseId))) {
    const reading = await o.journal.read(caseId);
    if (!reading.ok) throw new Error(reading.error.code);
    const { entries } = reading.value;
    const pieces = held.flatMap((each) => (each.caseId === caseId ? (pieceOf(each) ?? []) : []));
    const ends = otherEnds(entries, pieces, o.writes);
    const mark = await o.database.get('cases', caseId);
    for (const at of new Set(ends.map((end) => end.at))) {
      const device = mark?.from.findLast((part) => part.at <= at)?.device ?? o.device;
      const here = { device, entries: entries.slice(at) };
      const others = ends.filter((end) => end.at === at);
      forks.push({ caseId, at, ends: [here, ...others.map(({ at: _, ...end }) => end)] });
    }
  }
  return forks;
}

/**
 * Keeps the other ends of forks beside the journal, where records and lists find them also while this tablet
 * takes no part. Tells of each that has more. What the journal does not take now comes with the next count.
 */
async function keepForks(o: {
  readonly forks: readonly Fork[];
  readonly journal: Pick<Journal, 'documents' | 'read'>;
  readonly epoch: number | null;
  readonly members: Members;
  readonly tell: (news: JournalNews) => void;
}): Promise<void> {
  const { forks, journal, epoch, members, tell } = o;
  if (epoch === null) return;
  for (const { caseId, ends } of forks) {
    for (const { device: tablet, ...end } of ends.slice(1)) {
      const name = members.get(tablet)?.name ?? null;
      const kept = await keepSecondEnd({ journal, epoch }, { caseId, tablet, name, ...end });
      if (kept.ok && kept.value.isMore) tell({ type: 'document', kind: SECOND_END, id: caseId });
    }
  }
  await dropJoined({ journal, epoch, tell });
}

/** What was kept apart because its tablet had no pen is no second end once it follows in the journal. */
async function dropJoined(o: {
  readonly journal: Pick<Journal, 'documents' | 'read'>;
  readonly epoch: number;
  readonly tell: (news: JournalNews) => void;
}): Promise<void> {
  const { journal, epoch, tell } = o;
  const kept = await readSecondEnds(journal);
  for (const end of kept.ok ? kept.value : []) {
    const [first] = end.entries;
    if (!end.withoutPen || first === undefined) continue;
    const reading = await journal.read(end.caseId);
    if (!reading.ok || reading.value.entries[first.seq]?.hash !== first.hash) continue;
    const dropped = await dropSecondEnd({ journal, epoch }, end);
    if (dropped.ok) tell({ type: 'document', kind: SECOND_END, id: end.caseId });
  }
}

/** Reads every fork, and keeps the other ends beside the journal. Rejects as {@link readForks} does. */
export async function lookForForks(
  o: Parameters<typeof readForks>[0] & {
    readonly journal: Journal;
    readonly epoch: () => number | null;
    readonly members: Members;
    readonly bring: (news: JournalNews) => void;
  },
): Promise<readonly Fork[]> {
  const forks = await readForks(o);
  await keepForks({ ...o, forks, epoch: o.epoch(), tell: o.bring });
  return forks;
}
