/**
 * What opening a case needs: what keeps a patient's case from being begun, from whichever screen or window
 * it is asked for, and how fast a rehearsal runs, kept beside its journal.
 */
import * as v from 'valibot';
import { fieldsOf } from '../../base/json.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import { holdOf } from '../../engine/follow-on.ts';
import type { CaseLog } from '../../engine/log.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import type { RehearsalSpeed } from '../device/clock.ts';
import { BEGUN_AT_STORE } from './begun-at-store.ts';

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
  journal: Pick<Journal, 'listCases' | 'documents'>,
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
  const atStore = await journal.documents.get(BEGUN_AT_STORE, { id: o.spec.id });
  if (!atStore.ok) return atStore;
  const { caseId } = fieldsOf(atStore.value);
  if (typeof caseId === 'string') return ok({ code: 'case-begun', caseId, isClosed: true });
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

/**
 * A drill never stands beside a patient's case that is open on this tablet, watched or not.
 * @param tablet the id of this one.
 */
export async function patientOpen(
  journal: Pick<Journal, 'listCases'>,
  tablet: string,
): Promise<Problem | null> {
  const listed = await journal.listCases();
  if (!listed.ok) return listed.error;
  const open = listed.value.find(
    ({ mode, closedByPress, pen }) =>
      mode === 'patient' && closedByPress === null && (pen?.tablet ?? tablet) === tablet,
  );
  if (open === undefined) return null;
  return problem('this tablet', 'no open case of a patient', open.caseId, 'patient-open');
}

/** Why a case is not taken up again. */
export async function inTheWay(
  journal: Pick<Journal, 'listCases'>,
  o: {
    readonly chair: Parameters<typeof patientRuns>[0];
    readonly log: CaseLog;
    readonly tablet: string;
  },
): Promise<Problem | null> {
  const runs = patientRuns(o.chair);
  if (runs !== null || o.log.state.opened.drill === undefined) return runs;
  return o.log.state.closed === null ? patientOpen(journal, o.tablet) : null;
}

const REHEARSAL_SPEED = 'rehearsal-speed';

const speedSchema = v.picklist([1, 10, 60]);

/** A speed that could not be kept is told by nothing: the rehearsal is taken up at 1. */
export async function keepSpeed(
  { documents }: Pick<Journal, 'documents'>,
  o: { readonly caseId: string; readonly speed: RehearsalSpeed; readonly epoch: number | null },
): Promise<void> {
  const { caseId: id, speed: value, epoch } = o;
  if (epoch !== null) await documents.put({ kind: REHEARSAL_SPEED, id, value, epoch });
}

/** At 1 where nothing was kept. */
export async function readSpeed(
  { documents }: Pick<Journal, 'documents'>,
  caseId: string,
): Promise<RehearsalSpeed> {
  const kept = await documents.get(REHEARSAL_SPEED, { id: caseId });
  return (kept.ok ? parsedOr(speedSchema, kept.value) : null) ?? 1;
}
