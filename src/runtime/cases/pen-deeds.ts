/** Gives up the pen of the case on the chair, or takes that of another tablet. Loaded when it is wanted. */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { Refusal } from '../../engine/commands.ts';
import { decide } from '../../engine/decide.ts';
import { extend, recordPress, replay } from '../../engine/log.ts';
import type { SeenClock } from '../../engine/pen-types.ts';
import type { CaseState } from '../../engine/types.ts';
import type { JournalEntry } from '../../storage/journal-types.ts';
import { tellReadBack } from '../../words/read-back-words.ts';
import type { Chair } from '../chair.ts';
import { readToGoOn } from '../read-case.ts';
import { caseClock, type runningCase } from '../running-case.ts';
import type { SessionParts } from '../session-parts.ts';
import { isHeardNow, tabletRow } from './pen-hold.ts';
import { goingOn, keepSecondEnd, readSecondEnds } from './second-ends.ts';

type ToRun = Parameters<typeof runningCase>[1];

/** For whom the pen is given up; `tablet` is null: for whoever takes it. */
export interface PenTo {
  readonly tablet: string | null;
  readonly name: string;
}

/** This tablet by its id, and by its name among the tablets of the clinic. */
function thisTablet({ store }: SessionParts): { readonly tablet: string; readonly name: string } {
  const { settings, sharing } = store.getState();
  return { tablet: settings.tablet, name: sharing.name };
}

/** Errors: why the engine refuses it, `not-saved` where the journal did not take it. */
export async function givePen(
  parts: SessionParts,
  o: { readonly chair: Chair; readonly to: PenTo },
): Promise<Result<null, Refusal | Problem>> {
  const { chair, to } = o;
  const own = thisTablet(parts);
  const refused = chair.do({ do: 'give-pen', ...own, to: to.tablet, toName: to.name });
  if (refused !== null) return err(refused);
  await chair.stored();
  if (chair.log.records.length === chair.storedCount) return ok(null);
  return err(problem('the case', 'a press that is saved', 'none', 'not-saved'));
}

function isHeld({ store, clock }: SessionParts, { pen }: CaseState): boolean {
  const { sharing } = store.getState();
  const nowMs = clock.stamp().wallMs;
  const heard = (device: string | null) => isHeardNow(tabletRow(sharing, device), nowMs);
  return heard(pen.holder) || heard(pen.given?.to ?? null);
}

/**
 * Writes that this tablet goes on with the case, and says what is to be run. Errors: why the engine refuses it,
 * those of the journal. Where the case goes on in an end that this tablet cannot add to, it goes on in its own
 * and names what it leaves.
 */
export async function takePen(
  parts: SessionParts,
  o: {
    readonly caseId: string;
    readonly epoch: number;
    readonly reason?: string;
    /** A reading of the other tablet's clock, and how long ago it is now. */
    readonly seenClock: () => SeenClock | null;
  },
): Promise<Result<ToRun, Refusal | Problem>> {
  const { journal, clock: own, store } = parts;
  const { caseId, epoch, reason, seenClock } = o;
  const read = await readToGoOn(journal, { caseId, epoch });
  if (!read.ok) return read;
  const kept = await readSecondEnds(journal, caseId);
  if (!kept.ok) return kept;
  const log = replay(read.value.entries);
  const main = goingOn(read.value, kept.value).reading.entries;
  const onState = main === read.value.entries ? log.state : replay(main).state;
  const over = main === read.value.entries ? undefined : main.at(-1)?.hash;
  const clock = caseClock(parts, { speed: 1, startWallMs: own.stamp().wallMs });
  const stamp = clock.stamp();
  // In the same instant as the stamp.
  const seen = seenClock();
  const fromName = tabletRow(store.getState().sharing, onState.pen.holder)?.name ?? '';
  const take = { do: 'take-pen', ...thisTablet(parts), fromName } as const;
  const isHeard = isHeld(parts, onState);
  const command = {
    ...take,
    isHeard,
    ...(reason && { reason }),
    ...(seen && { seen }),
    ...(over && { over }),
  };
  const decided = decide(log, command, stamp, tellReadBack);
  if (!decided.ok) return decided;
  const by = log.records.findLast((r) => r.by !== null)?.by ?? '';
  const batch = recordPress({ log, events: decided.value, stamp, by });
  const stored = await journal.append({ caseId, epoch, recorded: batch });
  if (!stored.ok) return stored;
  const entries = [...read.value.entries, ...stored.value.entries];
  return ok({ caseId, log: extend(log, batch), by, clock, epoch, stored: entries });
}

/** Whether entries that came from elsewhere are not the ones that this chair holds itself. */
export function isForeign(chair: Chair, entries: readonly JournalEntry[]): boolean {
  const own = new Map(chair.entries.map(({ seq, hash }) => [seq, hash]));
  return entries.some(({ seq, hash }) => own.get(seq) !== hash);
}

/**
 * Another tablet's entries have come to stand in the journal of a case that runs here: what was pressed here and
 * does not follow on them is kept apart before the case is put down.
 */
export async function keepPressedHere(
  parts: SessionParts,
  o: { readonly chair: Chair; readonly epoch: number },
): Promise<void> {
  const { chair, epoch } = o;
  const { caseId, entries: own } = chair;
  const read = await parts.journal.read(caseId);
  if (!read.ok) return;
  const at = own.findIndex(({ seq, hash }) => read.value.entries[seq]?.hash !== hash);
  if (at < 0) return;
  const end = { caseId, ...thisTablet(parts), entries: own.slice(at) };
  await keepSecondEnd({ journal: parts.journal, epoch }, end);
}
