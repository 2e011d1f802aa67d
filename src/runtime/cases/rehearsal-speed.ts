/** How fast a rehearsal runs: kept beside its journal, so that it goes on at that speed. */
import * as v from 'valibot';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { RehearsalSpeed } from '../device/clock.ts';

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
