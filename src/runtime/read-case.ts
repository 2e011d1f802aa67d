/** A case as it is read from the journal: to be told, or to be gone on with. */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type CaseLog, replay } from '../engine/log.ts';
import type { Stamp } from '../engine/types.ts';
import type { SecondEnd } from '../export/export-source.ts';
import type { CaseReading, Journal } from '../storage/journal-types.ts';
import { isWrittenElsewhere } from './cases/pen-hold.ts';
import { SECOND_END } from './cases/second-end-kind.ts';

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
  /** What is kept apart of it; none as a rule. */
  readonly secondEnds?: readonly SecondEnd[];
}

/** The end that goes on. The code for it is loaded where there is any second end. Errors: the journal's, `not-loaded`. */
async function goingOn(
  journal: Pick<Journal, 'documents'>,
  reading: CaseReading,
): Promise<Result<Omit<CaseRead, 'log'>, Problem>> {
  const listed = await journal.documents.list(SECOND_END);
  if (!listed.ok) return listed;
  if (listed.value.length === 0) return ok({ reading });
  const code = await import('./cases/second-ends.ts').catch(() => null);
  if (code === null) return err(problem('the case', 'its second end', 'nothing', 'not-loaded'));
  const kept = await code.readSecondEnds(journal, reading.caseId);
  return kept.ok ? ok(code.goingOn(reading, kept.value)) : kept;
}

/** Reads a case without running it. Errors: those of the journal, `no-such-case`. */
export async function readCase(
  journal: Journal,
  caseId: string,
): Promise<Result<CaseRead, Problem>> {
  const read = await readEntries(journal, caseId);
  if (!read.ok) return read;
  const on = await goingOn(journal, read.value);
  return on.ok ? ok({ log: replay(on.value.reading.entries), ...on.value }) : on;
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

/** A case to be gone on with, or to be looked on at where another tablet writes it, in the end that goes on. */
export interface CaseStanding {
  readonly reading: CaseReading;
  readonly log: CaseLog;
  readonly isElsewhere: boolean;
}

/** Errors: those of {@link readToGoOn}. */
export async function readStanding(
  journal: Journal,
  of: { readonly caseId: string; readonly epoch: number | null; readonly tablet: string },
): Promise<Result<CaseStanding, Problem>> {
  const read = await readToGoOn(journal, of);
  if (!read.ok) return read;
  const on = await goingOn(journal, read.value);
  if (!on.ok) return on;
  const { reading } = on.value;
  const log = replay(reading.entries);
  const isOther = reading !== read.value;
  const isElsewhere = isOther || (await isWrittenElsewhere({ journal, tablet: of.tablet }, log));
  return ok({ reading, log, isElsewhere });
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
