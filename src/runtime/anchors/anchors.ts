/** What a window does about the lengths of cases; the code for it is loaded when it is wanted. */

import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { AnchorFact } from '../../export/anchor.ts';
import { type CaseRead, readCase } from '../read-case.ts';
import type { SessionParts } from '../session-parts.ts';

type Parts = Pick<SessionParts, 'journal' | 'clock' | 'crypto'>;

const headsCode = () => import('./heads.ts');

/** A case with what is known of how long the case was. Errors: those of the journal, `not-loaded`. */
export async function readRecord(
  parts: Parts,
  caseId: string,
): Promise<Result<CaseRead & { readonly anchor: AnchorFact | null }, Problem>> {
  const read = await readCase(parts.journal, caseId);
  if (!read.ok) return read;
  const code = await headsCode().catch(() => null);
  if (code === null) return err(problem('the record', 'its code', 'nothing', 'not-loaded'));
  const { journal, crypto = null } = parts;
  const { entries } = read.value.reading;
  return ok({
    ...read.value,
    anchor: await code.anchorOfCase({ journal, crypto }, { caseId, entries }),
  });
}

/** Notes how long each closed case is; a reader notes nothing. Without its code they are noted the next time. */
export async function keepHeads(parts: Parts, epoch: number | null): Promise<void> {
  if (epoch === null) return;
  const code = await headsCode().catch(() => null);
  await code?.anchorOwn({ ...parts, crypto: parts.crypto ?? null, epoch: () => epoch });
}
