import type { KeptRefusal } from '../../sync/sharing-database.ts';
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
