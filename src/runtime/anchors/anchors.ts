/** What a window does about the lengths of cases; the code for it is loaded when it is wanted. */

import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { Anchorage, AnchorFact } from '../../export/anchor.ts';
import { type CaseRead, readCase } from '../read-case.ts';
import type { SessionParts } from '../session-parts.ts';

type Parts = Pick<SessionParts, 'journal' | 'clock' | 'crypto'>;

export interface RecordRead extends CaseRead {
  readonly anchor: AnchorFact | null;
  /** Up to where it is anchored on other tablets, null: nowhere yet. Absent on a tablet that shares with none. */
  readonly anchorage?: Anchorage | null;
}

const heardCode = () => import('./heard-heads.ts');

const headsCode = () => import('./heads.ts');

/** A case with what is known of how long the case was. Errors: those of the journal, `not-loaded`. */
export async function readRecord(
  parts: Parts & Pick<SessionParts, 'store'>,
  caseId: string,
): Promise<Result<RecordRead, Problem>> {
  const read = await readCase(parts.journal, caseId);
  if (!read.ok) return read;
  const code = await headsCode().catch(() => null);
  if (code === null) return err(problem('the record', 'its code', 'nothing', 'not-loaded'));
  const { journal, crypto = null } = parts;
  const { entries } = read.value.reading;
  const { mode } = read.value.log.state.opened;
  const isShared = mode === 'patient' && parts.store.getState().sharing.standing !== 'alone';
  const heard = isShared ? await heardCode().catch(() => null) : null;
  return ok({
    ...read.value,
    anchor: await code.anchorOfCase({ journal, crypto }, { caseId, entries }),
    ...(heard === null ? {} : { anchorage: await heard.anchorageOf(journal, caseId) }),
  });
}

/** Notes how long each closed case is; a reader notes nothing. Without its code they are noted the next time. */
export async function keepHeads(parts: Parts, epoch: number | null): Promise<void> {
  if (epoch === null) return;
  const code = await headsCode().catch(() => null);
  await code?.anchorOwn({ ...parts, crypto: parts.crypto ?? null, epoch: () => epoch });
}
