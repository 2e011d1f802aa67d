import type { RefusedCode } from '../../sync/sealed-types.ts';
import type { KeptRefusal, SharingDatabase } from '../../sync/sharing-database.ts';
import { partsOf } from '../../sync/subjects.ts';
import type { RefusedRow } from './sharing-state.ts';

/** Refused messages, counted by tablet and reason. */
export function refusedRows(refusals: readonly KeptRefusal[]): readonly RefusedRow[] {
  const counts = new Map<string, RefusedRow>();
  for (const { code, device } of refusals) {
    const key = `${code} ${device}`;
    counts.set(key, { code, device, count: (counts.get(key)?.count ?? 0) + 1 });
  }
  return [...counts.values()];
}

/** Waiting messages that are counted; more say no more. */
const COUNTED_MAX = 1000;

const isWaiting = (code: RefusedCode): boolean => code === 'no-key' || code === 'unknown-tablet';

/** Whether messages wait to be opened, or are still told to. */
export const waits = async (
  database: SharingDatabase,
  told: readonly RefusedRow[],
): Promise<boolean> =>
  told.some(({ code }) => isWaiting(code)) || (await database.count('waiting')) > 0;

/** Messages that do not hold, and, once everything was read, those that wait for a tablet or a key to be known. */
export async function readRefused(
  database: SharingDatabase,
  { isRead }: { readonly isRead: boolean },
): Promise<readonly RefusedRow[]> {
  const refused = await database.all('refused');
  if (!isRead || (await database.count('waiting')) === 0) return refusedRows(refused);
  const waiting = await database.all('waiting', { most: COUNTED_MAX });
  const told = waiting.flatMap(({ subject, code }): KeptRefusal[] => {
    const { device, item } = partsOf(subject);
    // A deletion waits for the end of the case that runs here: it was opened.
    return item === 'tombstone' ? [] : [{ subject, code, device }];
  });
  return refusedRows([...refused, ...told]);
}
