/** Under which id each tablet of the clinic writes cases: kept, so that it is known before it is heard of again. */
import * as v from 'valibot';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { Members } from '../../sync/sealed-types.ts';

/** Kind of the documents; the id is the tablet as the clinic knows it. */
const WRITES_AS = 'tablet-writes-as';

/** This tablet: as the clinic knows it, and as cases name it. */
export interface WriterHere {
  readonly device: string;
  readonly tablet: string;
}

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

  /** Whether more is known now. What cannot be kept now is kept when the tablet is heard of the next time. */
  hear(
    heard: ReadonlyMap<string, { readonly tablet: string }>,
    { journal, epoch }: { readonly journal: Documents; readonly epoch: number | null },
  ): boolean {
    if (epoch === null) return false;
    let isMore = false;
    for (const [id, { tablet: value }] of heard) {
      if (value === '' || this.#known.get(id) === value) continue;
      this.#known.set(id, value);
      isMore = true;
      void journal.documents.put({ kind: WRITES_AS, id, value, epoch });
    }
    return isMore;
  }

  /**
   * Whether entries that a tablet gave may be of the one that a case names `tablet`: it is that one, or none that
   * is in the clinic now is known to be. What a tablet that was put out had pressed, others may hand on.
   */
  isWriter(
    { device, tablet }: { readonly device: string; readonly tablet: string },
    { members, own }: { readonly members: Members; readonly own: WriterHere },
  ): boolean {
    const known = [...this.#known, [own.device, own.tablet] as const];
    const devices = known.flatMap(([id, as]) => (as === tablet ? [id] : []));
    if (devices.includes(device)) return true;
    return devices.every((id) => members.get(id)?.putOut !== null);
  }
}
