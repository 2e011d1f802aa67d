/** Reads the lines of cases that lie on the store alone, a part at a time: there may be tens of thousands. */
import type { SharingDatabase, StoreOnlyCase } from './sharing-database.ts';

const READ_AT_ONCE = 500;

export async function* storeOnlyRows(
  database: Pick<SharingDatabase, 'all'>,
): AsyncGenerator<StoreOnlyCase> {
  let range: IDBKeyRange | undefined;
  for (;;) {
    const most = READ_AT_ONCE;
    const part = await database.all('storeOnly', range === undefined ? { most } : { range, most });
    yield* part;
    const last = part.at(-1);
    if (last === undefined || part.length < READ_AT_ONCE) return;
    range = IDBKeyRange.lowerBound(last.caseId, true);
  }
}
