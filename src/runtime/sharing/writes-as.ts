/** Under which id each tablet of the clinic writes cases: kept, so that it is known before it is heard of again. */
import * as v from 'valibot';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Journal } from '../../storage/journal-types.ts';

/** Kind of the documents; the id is the tablet as the clinic knows it. */
const WRITES_AS = 'tablet-writes-as';

type Documents = Pick<Journal, 'documents'>;

export class WritesAs {
  readonly #known = new Map<string, string>();

  get known(): ReadonlyMap<string, string> {
    return this.#known;
  }

  async read({ documents }: Documents): Promise<void> {
    const listed = await documents.list(WRITES_AS);
    for (const { id, value } of listed.ok ? listed.value : []) {
      const tablet = parsedOr(v.string(), value);
      if (tablet !== null) this.#known.set(id, tablet);
    }
  }

  /** What cannot be kept now is kept when the tablet is heard of the next time. */
  hear(
    heard: ReadonlyMap<string, { readonly tablet: string }>,
    { journal, epoch }: { readonly journal: Documents; readonly epoch: number | null },
  ): void {
    if (epoch === null) return;
    for (const [id, { tablet: value }] of heard) {
      if (value === '' || this.#known.get(id) === value) continue;
      this.#known.set(id, value);
      void journal.documents.put({ kind: WRITES_AS, id, value, epoch });
    }
  }
}
