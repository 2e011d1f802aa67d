/**
 * The entry that says what a case bonded: written once, when the case is closed, and for cases that were
 * closed before follow-up was kept when it is first opened. It is made of the record alone, so that every
 * tablet that works it out writes the same entry.
 */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { type CaseLog, replay } from '../../engine/log.ts';
import { bondedCase } from '../../export/bonded-case.ts';
import type { BondedCase } from '../../outcomes/follow-up-types.ts';
import type { CaseSummary, Journal } from '../../storage/journal-types.ts';
import type { Fact } from '../facts/fact.ts';
import { type FactParts, say } from '../facts/fact-writer.ts';
import { FOLLOW_UP } from './follow-up-state.ts';

/**
 * Cases of which nothing is to be written: those that bonded nothing, as a visit for preparation, and those of which what
 * was written stands though the record went on; by the head for which that was found.
 */
export const BONDED_NOTHING = 'bonded-nothing';

/** The log of a stored case. Errors: the journal's, `damaged` where it does not hold together. */
export async function logOf(
  journal: Pick<Journal, 'read'>,
  caseId: string,
): Promise<Result<CaseLog, Problem>> {
  const read = await journal.read(caseId);
  if (!read.ok) return read;
  const { entries, verdict } = read.value;
  const damaged = () => err(problem(`case ${caseId}`, 'a whole record', 'a part', 'damaged'));
  if (verdict.firstBad !== null || entries.length === 0) return damaged();
  try {
    return ok(replay(entries));
  } catch {
    // The chain holds, and this version does not know an event of it.
    return damaged();
  }
}

/** When the last closing was signed, by the clock of its tablet; 0 where there was none. */
export const signedMs = ({ records }: CaseLog): number =>
  records.findLast(({ event }) => event.type === 'case-closed')?.stamp.wallMs ?? 0;

/** What a closed case bonded; null where it bonded nothing. @param o.zone of the clinic; empty where none is known. */
export const bondedOf = ({
  log,
  zone,
}: {
  readonly log: CaseLog;
  readonly zone: string;
}): BondedCase | null => bondedCase(log, zone === '' ? {} : { clinicZone: zone });

/**
 * Writes what a closed case bonded. Null: it bonded nothing.
 * @param o.known the entries of the case that are kept.
 */
export async function sayBonded(
  parts: FactParts,
  o: {
    readonly caseId: string;
    readonly log: CaseLog;
    readonly zone: string;
    readonly known: readonly Fact[];
  },
): Promise<Result<readonly Fact[] | null, Problem>> {
  const { caseId: item, log, zone, known } = o;
  const said = bondedOf({ log, zone });
  if (said === null) return ok(null);
  const isFirst = known.length === 0;
  // Nobody says it: the first one is the same wherever it is worked out.
  const own = { ...parts, tablet: () => '', nowWallMs: () => signedMs(log) };
  // Never before the closing that it is of, whatever this clock says: by that it is known to be of it.
  const later = { ...parts, nowWallMs: () => Math.max(parts.nowWallMs(), signedMs(log)) };
  const about = { kind: FOLLOW_UP, item, said: [said], by: null, known: () => known } as const;
  return say(isFirst ? own : later, about);
}

/** Closed cases of patients. */
export const isDone = ({ mode, closedByPress }: CaseSummary): boolean =>
  mode === 'patient' && closedByPress !== null;
