/** Keeps {@link Heads} in every place that there is. */
import {
  type CaseHead,
  type Heads,
  type HeadsPlace,
  headsText,
  NO_HEADS,
  RECENT_MAX,
} from './heads.ts';
import type { Damage, JournalEntry } from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';

async function noteDamage(database: JournalDatabase, damage: Damage): Promise<void> {
  const writing = database.transaction('meta', 'readwrite', { durability: 'strict' });
  await Promise.all([writing.store.put(damage, 'damage'), writing.done]);
}

export class HeadsKeeper {
  readonly places: readonly HeadsPlace[];
  /** Null until it is known how everything stands: nothing is noted over what the places remember. */
  #heads: Heads | null = null;
  #isDirty = false;
  #writing: Promise<void> | null = null;

  constructor(places: readonly HeadsPlace[]) {
    this.places = places;
  }

  get heads(): Heads {
    return this.#heads ?? NO_HEADS;
  }

  get isBegun(): boolean {
    return this.#heads !== null;
  }

  /** Takes over how everything stands after a start. */
  async begin(database: JournalDatabase, heads: Heads): Promise<void> {
    this.#heads = heads;
    await this.keepDamage(database, heads.damage);
  }

  /** What is missing is kept in the database too, for windows that only read. */
  async keepDamage(database: JournalDatabase, damage: Damage): Promise<void> {
    if (this.#heads === null) return;
    this.#set({ damage });
    // A full database must not keep anybody from starting; the other places have it too.
    await noteDamage(database, damage).catch(() => undefined);
  }

  /** The cases written last are shorter now than they were: what they lost is told beside them. */
  stand(recent: readonly CaseHead[]): void {
    this.#set({ recent });
  }

  /** Entries were stored, and the file stands there. */
  moved(entries: readonly JournalEntry[], file: Heads['file']): void {
    const last = entries.at(-1);
    if (last === undefined) return;
    const { recent, cases } = this.heads;
    const before = recent.find((head) => head.caseId === last.caseId);
    const [first] = entries;
    const opened = first?.event.type === 'case-opened' ? first.event.spec : before;
    const { title = '', chartRef = '' } = opened ?? {};
    const head = { caseId: last.caseId, title, chartRef, entries: last.seq + 1, head: last.hash };
    const others = recent.filter((one) => one !== before);
    this.#set({
      cases: first?.seq === 0 ? cases + 1 : cases,
      recent: [...others, head].slice(-RECENT_MAX),
      file,
    });
  }

  /** A backup gave entries: they are no press, and push none of those written last out. */
  adopted(entries: readonly JournalEntry[]): void {
    const [first] = entries;
    const last = entries.at(-1);
    if (first === undefined || last === undefined) return;
    const { recent, cases, damage } = this.heads;
    const { caseId, seq, hash: head } = last;
    // A case that was here before it was lost is counted already.
    const isBack =
      damage.unnamed > 0 || [...damage.cases, ...recent].some((one) => one.caseId === caseId);
    this.#set({
      cases: first.seq === 0 && !isBack ? cases + 1 : cases,
      recent: recent.map((one) =>
        one.caseId === caseId ? { ...one, entries: seq + 1, head } : one,
      ),
    });
  }

  /** A case was deleted for good: no place goes on naming it. */
  async gone(database: JournalDatabase, caseId: string): Promise<void> {
    const { recent, damage } = this.heads;
    this.#set({ recent: recent.filter((head) => head.caseId !== caseId), file: null });
    const cases = damage.cases.filter((one) => one.caseId !== caseId);
    await this.keepDamage(database, { ...damage, cases });
    // A place that writes two files in turn still names it in the other one.
    await this.rest();
    this.#set({});
  }

  #set(change: Partial<Heads>): void {
    if (this.#heads === null) return;
    this.#heads = { ...this.#heads, ...change };
    this.#isDirty = true;
    this.#writing ??= this.#write().finally(() => {
      this.#writing = null;
    });
  }

  /** The last text wins; nobody waits for it, and a place that fails is tried again with the next. */
  async #write(): Promise<void> {
    while (this.#isDirty) {
      this.#isDirty = false;
      const text = headsText(this.heads);
      await Promise.all(this.places.map((place) => place.write(text).catch(() => undefined)));
    }
  }

  /** Resolves when everything noted so far is written. */
  async rest(): Promise<void> {
    await this.#writing;
  }
}
