/** A case as it is read from the journal: to be told, or to be gone on with. */
import type { Problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type CaseLog, replay } from '../engine/log.ts';
import type { Stamp } from '../engine/types.ts';
import type { CaseReading, Journal } from '../storage/journal-types.ts';

/** The stored entries of a case; a case without one cannot be taken up or told. */
export async function readEntries(
  journal: Journal,
  caseId: string,
): Promise<Result<CaseReading, Problem>> {
  const read = await journal.read(caseId);
  if (!read.ok) return err(read.error);
  if (read.value.entries.length > 0) return ok(read.value);
  const place = `case ${caseId}`;
  return err({ code: 'no-such-case', place, expected: 'a readable entry', came: 'none' });
}

/** What a case tells that is read without being run. */
export interface CaseRead {
  readonly log: CaseLog;
  readonly reading: CaseReading;
}

/** Reads a case without running it. Errors: those of the journal, `no-such-case`. */
export async function readCase(
  journal: Journal,
  caseId: string,
): Promise<Result<CaseRead, Problem>> {
  const read = await readEntries(journal, caseId);
  return read.ok ? ok({ log: replay(read.value.entries), reading: read.value }) : read;
}

/**
 * The same of a case that is gone on with: its next press must follow on what holds.
 * @param of.epoch null in a window that only reads.
 */
export async function readToGoOn(
  journal: Journal,
  of: { readonly caseId: string; readonly epoch: number | null },
): Promise<Result<CaseReading, Problem>> {
  const { caseId, epoch } = of;
  const read = await readEntries(journal, caseId);
  if (epoch === null || !read.ok || read.value.verdict.firstBad === null) return read;
  // What was closed stays as it was found.
  if (replay(read.value.entries).state.closed !== null) return read;
  const settled = await journal.damage.settle({ caseId, epoch });
  return settled.ok ? readEntries(journal, caseId) : settled;
}

/** The last instant at which the case is known to have been watched. */
export async function lastSeen(
  journal: Journal,
  o: { readonly caseId: string; readonly log: CaseLog },
): Promise<Stamp> {
  const beat = await journal.readHeartbeat(o.caseId);
  const last = o.log.records.at(-1)?.stamp ?? o.log.state.anchor.stamp;
  if (!beat.ok || !beat.value || beat.value.runId !== last.runId) return last;
  return beat.value.monoMs > last.monoMs ? beat.value : last;
}
