/**
 * Takes cases in that were closed before follow-up was kept, and looks again at those whose closing turned without
 * being noted, as when the tablet died: one after the other, while no case runs.
 */
import { fieldsOf } from '../../base/json.ts';
import type { CaseLog } from '../../engine/log.ts';
import type { CaseSummary, Journal } from '../../storage/journal-types.ts';
import type { Fact } from '../facts/fact.ts';
import type { FactParts } from '../facts/fact-writer.ts';
import { othersTurn } from '../others-turn.ts';
import { BONDED_NOTHING, isDone, logOf, sayBonded, signedMs } from './bonded-entries.ts';
import { forgetFollowUp } from './forget-follow-up.ts';

interface OlderParts extends FactParts {
  readonly journal: Journal;
  readonly zone: () => string;
  /** Whether people are at the chair: then it waits for the next opening. */
  readonly isBusy: () => boolean;
  readonly knownOf: (caseId: string) => readonly Fact[];
  readonly hasBonded: (caseId: string) => boolean;
  /** When the last word of what a case bonded was said, of those that stand; null where none does. */
  readonly saidMs: (caseId: string) => number | null;
  /** The closing of a case turned. Answers whether that is noted. */
  readonly onTurned: (o: { readonly caseId: string; readonly log: CaseLog }) => Promise<boolean>;
  readonly onTaken: (facts: readonly Fact[]) => void;
  readonly onProgress: (progress: { readonly done: number; readonly of: number }) => void;
}

/** Screens are told after so many cases. */
const TELL_EVERY = 10;

async function headsOfNothing(journal: Journal): Promise<ReadonlyMap<string, unknown>> {
  const listed = await journal.documents.list(BONDED_NOTHING);
  if (!listed.ok) return new Map();
  return new Map(listed.value.map(({ id, value }) => [id, fieldsOf(value)['head']]));
}

/** Cases that are closed and of which nothing says yet what they bonded. */
async function olderCases({
  journal,
  hasBonded,
}: Pick<OlderParts, 'journal' | 'hasBonded'>): Promise<readonly CaseSummary[]> {
  const cases = await journal.listCases();
  if (!cases.ok) return [];
  const nothing = await headsOfNothing(journal);
  return cases.value
    .filter(isDone)
    .filter(({ caseId, head }) => !hasBonded(caseId) && nothing.get(caseId) !== head)
    .toSorted((a, b) => b.openedWallMs - a.openedWallMs);
}

/** What is still followed of cases that were deleted, as by a version that knew nothing of it, goes now. */
export async function forgetDeleted(
  parts: Pick<OlderParts, 'journal' | 'epoch'> & { readonly items: readonly string[] },
): Promise<readonly string[]> {
  const { journal, epoch } = parts;
  const tombstones = await journal.listTombstones();
  const own = epoch();
  if (!tombstones.ok || own === null) return [];
  const deleted = new Set(tombstones.value.map(({ caseId }) => caseId));
  const left = parts.items.filter((item) => deleted.has(item));
  for (const caseId of left) await forgetFollowUp(journal, { caseId, epoch: own });
  return left;
}

/**
 * Cases whose record went on after the last word of what they bonded. Most of them only have a later note; whether the closing
 * turned stands in the record alone.
 */
async function wentOn({
  journal,
  saidMs,
}: Pick<OlderParts, 'journal' | 'saidMs'>): Promise<readonly CaseSummary[]> {
  const cases = await journal.listCases();
  if (!cases.ok) return [];
  const looked = await headsOfNothing(journal);
  return cases.value.filter(({ caseId, mode, head, lastStamp }) => {
    const said = saidMs(caseId);
    const isLater = said !== null && lastStamp.wallMs > said;
    return mode === 'patient' && isLater && looked.get(caseId) !== head;
  });
}

/** Whether the record says so; of a closing that is not here yet it says nothing. */
function hasTurned(log: CaseLog, saidMs: number): boolean {
  if (log.state.closed !== null) return signedMs(log) > saidMs;
  const takenBack = log.records.findLast(({ event }) => event.type === 'press-retracted');
  return signedMs(log) > 0 && (takenBack?.stamp.wallMs ?? 0) > saidMs;
}

async function lookAgain(parts: OlderParts): Promise<boolean> {
  const { journal, epoch, saidMs } = parts;
  for (const { caseId, head } of await wentOn(parts)) {
    const own = epoch();
    if (own === null || parts.isBusy()) return false;
    const log = await logOf(journal, caseId);
    // What cannot be read now is looked at again the next time; what was said of it stands.
    if (!log.ok) continue;
    const isNoted =
      !hasTurned(log.value, saidMs(caseId) ?? 0) ||
      (await parts.onTurned({ caseId, log: log.value }));
    if (!isNoted) return false;
    await journal.documents.put({ kind: BONDED_NOTHING, id: caseId, value: { head }, epoch: own });
    await othersTurn();
  }
  return true;
}

/** Returns the cases that could not be read, and whether all were gone through. */
export async function takeInOlder(
  parts: OlderParts,
): Promise<{ readonly notTaken: readonly string[]; readonly isAll: boolean }> {
  const { journal, epoch } = parts;
  const older = await olderCases(parts);
  const notTaken: string[] = [];
  for (const [done, { caseId, head }] of older.entries()) {
    const own = epoch();
    if (own === null || parts.isBusy()) return { notTaken, isAll: false };
    if (done % TELL_EVERY === 0) parts.onProgress({ done, of: older.length });
    const log = await logOf(journal, caseId);
    if (!log.ok) {
      notTaken.push(caseId);
      continue;
    }
    const about = { caseId, log: log.value, zone: parts.zone(), known: parts.knownOf(caseId) };
    const said = await sayBonded(parts, about);
    if (!said.ok) return { notTaken, isAll: false };
    if (said.value !== null) parts.onTaken(said.value);
    else {
      const nothing = { kind: BONDED_NOTHING, id: caseId, value: { head }, epoch: own };
      await journal.documents.put(nothing);
    }
    await othersTurn();
  }
  return { notTaken, isAll: await lookAgain(parts) };
}
