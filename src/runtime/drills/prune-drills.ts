/** What goes of old drills: the journal, and names and notes with it. What they came to stays. */
import { isSameJson } from '../../base/json.ts';
import { drillWords } from '../../words/drill-words.ts';
import type { SessionParts } from '../session-parts.ts';
import { DRILL, type KeptDrill, NO_NOTES } from './drill-document.ts';

/** Days after which it goes. */
const RAW_DAYS = 365;
const DAY_MS = 86_400_000;

/** Answers with how many journals went. What cannot be deleted now goes the next time. */
export async function pruneDrills(
  { journal, clock }: Pick<SessionParts, 'journal' | 'clock'>,
  o: {
    readonly epoch: number;
    readonly kept: readonly KeptDrill[];
    /** The case on the chair; it stays. */
    readonly running: string | null;
  },
): Promise<number> {
  const { epoch } = o;
  const stamp = clock.stamp();
  const old = o.kept.filter(({ atWallMs }) => stamp.wallMs - atWallMs > RAW_DAYS * DAY_MS);
  const listed = await journal.listCases();
  const here = new Set(listed.ok ? listed.value.map(({ caseId }) => caseId) : []);
  let gone = 0;
  for (const { pair, ...kept } of old) {
    const { caseId } = kept;
    const isHere = here.has(caseId) && caseId !== o.running;
    // Its journal may have been deleted before.
    const isTold = pair !== undefined || !isSameJson(kept.notes, NO_NOTES);
    if (!isHere && !isTold) continue;
    const value: KeptDrill = { ...kept, notes: NO_NOTES };
    await journal.documents.put({ kind: DRILL, id: caseId, value, epoch });
    const mark = { caseId, epoch, stamp, by: null, reason: drillWords.pruned };
    if (isHere && (await journal.deleteCase(mark)).ok) gone += 1;
  }
  return gone;
}
