/** Fetches the entries of a case that lie on the store alone, and holds them to the line that is kept of it. */
import { err, ok, type Result } from '../../base/result.ts';
import { READ_AT_ONCE } from '../../sync/catch-up.ts';
import type { openMessage } from '../../sync/seal.ts';
import type { HeldEntries, StoreOnlyCase } from '../../sync/sharing-database.ts';
import type { ClinicStore, StoredMessage, StoreProblemCode } from '../../sync/store-types.ts';
import { heldOf } from './held-entries.ts';
import { joinEntries, pieceOf } from './join-entries.ts';

/**
 * `gone`: the store does not have a message any more, or another one in its place. `not-opened`: a message does not
 * open. `other-entries`: they are not those that the line names.
 */
export type FetchCode = StoreProblemCode | 'gone' | 'not-opened' | 'other-entries';

export interface FetchProgress {
  readonly done: number;
  readonly of: number;
}

export interface FetchParts {
  readonly store: Pick<ClinicStore, 'get'>;
  readonly open: (message: StoredMessage) => ReturnType<typeof openMessage>;
}

/** The messages of a case, opened and verified, in their order. Nothing is kept here. */
export async function fetchEntries(
  { store, open }: FetchParts,
  row: StoreOnlyCase,
  onProgress: (progress: FetchProgress) => void = () => undefined,
): Promise<Result<readonly HeldEntries[], FetchCode>> {
  const { places, caseId, summary } = row;
  const fetched: HeldEntries[] = [];
  for (let from = 0; from < places.length; from += READ_AT_ONCE) {
    onProgress({ done: from, of: places.length });
    const part = places.slice(from, from + READ_AT_ONCE);
    const all = await Promise.all(
      part.map(async ({ seq, subject }): Promise<Result<HeldEntries, FetchCode>> => {
        const got = await store.get({ stream: 'J', seq });
        if (!got.ok) return err(got.error.code);
        if (got.value?.subject !== subject) return err('gone');
        const opened = await open(got.value);
        if (!opened.ok || opened.value.payload.type !== 'entries') return err('not-opened');
        const { device, payload } = opened.value;
        return ok(heldOf({ subject, seq }, { caseId, device, entries: payload.entries }));
      }),
    );
    for (const one of all) {
      if (!one.ok) return one;
      fetched.push(one.value);
    }
  }
  onProgress({ done: places.length, of: places.length });
  const { chain } = joinEntries(
    [],
    fetched.flatMap((held) => pieceOf(held) ?? []),
  );
  const isSame = chain.length === summary.entries && chain.at(-1)?.hash === summary.head;
  return isSame ? ok(fetched) : err('other-entries');
}
