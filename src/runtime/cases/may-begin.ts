/** What keeps a patient's case from being begun, from whichever screen or window it is asked for. */
import type { Problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import { holdOf } from '../../engine/follow-on.ts';
import type { CaseLog } from '../../engine/log.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';

/** A finishing visit is to be begun while the hold since the last light runs. */
export interface HoldRuns {
  readonly code: 'hold-runs';
  readonly endsMs: number;
}

/** A case was begun from this case file; it is gone on with, or its record is read. */
export interface CaseBegun {
  readonly code: 'case-begun';
  readonly caseId: string;
  readonly isClosed: boolean;
}

/**
 * Null when nothing keeps it: people who were told of the hold may begin within it. What was begun is
 * read from the journal, whatever this window knows of what others did.
 */
export async function whyNotBegun(
  journal: Pick<Journal, 'listCases'>,
  o: {
    readonly spec: CaseFile;
    readonly protocol: Protocol;
    readonly nowMs: number;
    readonly withinHold?: boolean;
  },
): Promise<Result<HoldRuns | CaseBegun | null, JournalProblem>> {
  const listed = await journal.listCases();
  if (!listed.ok) return listed;
  const begun = listed.value.find((c) => c.mode === 'patient' && c.specId === o.spec.id);
  if (begun !== undefined) {
    const { caseId, closedByPress } = begun;
    return ok({ code: 'case-begun', caseId, isClosed: closedByPress !== null });
  }
  const endsMs = holdOf(o.spec, o.protocol)?.endsMs ?? 0;
  return ok(endsMs > o.nowMs && o.withinHold !== true ? { code: 'hold-runs', endsMs } : null);
}

/** Why no other case is opened: one of a patient runs, and only people put that down. */
export function patientRuns(
  chair: { readonly caseId: string; readonly log: CaseLog } | null,
): Problem | null {
  if (!chair) return null;
  const { opened, closed } = chair.log.state;
  if (opened.mode !== 'patient' || closed !== null) return null;
  const expected = 'no case of a patient on the chair';
  return { code: 'patient-runs', place: 'chair', expected, came: chair.caseId };
}
