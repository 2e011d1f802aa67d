/** Erases in the store what is left there of cases that were deleted on purpose. */
import type { Problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { LeadBox } from '../../sync/sealed-types.ts';
import type { Erased, StorePlatform } from './store-platform.ts';

/**
 * Every deletion that this tablet knows of is looked at, those erased before too: a tablet that was offline may
 * have sent entries of a case since, and a store that went back has them again. Errors: the journal's, and those
 * of the store.
 */
export async function eraseDeleted(o: {
  readonly box: LeadBox;
  readonly journal: Pick<Journal, 'listTombstones'>;
  readonly platform: Pick<StorePlatform, 'erase'>;
}): Promise<Result<Erased, Problem>> {
  const listed = await o.journal.listTombstones();
  if (!listed.ok) return listed;
  const { site } = o.box;
  let [keys, entries] = [0, 0];
  for (const { caseId } of listed.value) {
    const erased = await o.platform.erase(o.box, { site, caseId });
    if (!erased.ok) return erased;
    keys += erased.value.keys;
    entries += erased.value.entries;
  }
  return ok({ keys, entries });
}
