/**
 * Keeps what other tablets of the clinic said: facts, deletions, and entries, which go behind those of their case,
 * never in front of them or between them. Taking the same thing twice changes nothing.
 */
import { err, ok, type Result } from '../../base/result.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { JournalEntry, JournalNews, Tombstone } from '../../storage/journal-types.ts';
import { RECORD_SCHEMAS } from '../../storage/parse-stored.ts';
import type { CaseKeyRing } from '../../sync/case-key-ring.ts';
import type { TakenMessage } from '../../sync/intake.ts';
import type { CaseMark, Change, HeldEntries, StoreOnlyCase } from '../../sync/sharing-database.ts';
import type { CameHead } from '../anchors/heard-heads.ts';
import { forgetFollowUp } from '../follow-up/forget-follow-up.ts';
import {
  type FetchCode,
  type FetchParts,
  type FetchProgress,
  fetchEntries,
} from './fetch-entries.ts';
import { heldFor, heldNoMore, heldOf } from './held-entries.ts';
import { joinEntries, type Piece, pieceOf, SaidFor, type Writes } from './join-entries.ts';
import { goneMark, offered, tombstoneMark } from './marks.ts';
import { forgetCase, grown } from './own-things.ts';
import { NotKept, type Portion, refusal } from './portion.ts';
import { StoreOnly, type StoreOnlyParts } from './store-only.ts';
import { TakeInFacts, type TakeInFactsParts } from './take-in-facts.ts';

export interface TakeInParts extends StoreOnlyParts, FetchParts, TakeInFactsParts {
  readonly keys: () => CaseKeyRing;
  /** The writer's epoch; null while another window writes. */
  readonly epoch: () => number | null;
  /** Who writes cases as whom. */
  readonly writes: Writes;
  /** Whether a case may be added to now: not while it runs at this chair. */
  readonly isBusy: (caseId: string) => boolean;
  /** Tells this window of what was kept. */
  readonly tell: (news: readonly JournalNews[]) => void;
  /** Entries were put apart, or are so no more. */
  readonly onHeld: () => void;
  /** Entries came of a case that was deleted here. What this part notes of it is kept right after. */
  readonly onDeleted: (caseId: string) => void;
  /** More of the store is to be read: a case that seems open may be closed in what comes. */
  readonly isCatchingUp: () => boolean;
  /** Heads of cases came. */
  readonly hearHeads: (came: readonly CameHead[]) => Promise<void>;
}

/** The store went back, or a part of the case was erased there. */
const LACKS: ReadonlySet<FetchCode> = new Set(['gone', 'other-entries']);

/** A case of which something came: what is here, what came, and how the two join. */
interface Met {
  readonly caseId: string;
  /** Its line, where it lies on the store alone. */
  readonly row: StoreOnlyCase | undefined;
  /** It is to be brought here, whatever it is. */
  readonly isToStay: boolean;
  readonly here: readonly JournalEntry[];
  /** What was put apart before. */
  readonly before: readonly HeldEntries[];
  readonly fresh: readonly HeldEntries[];
  /** What is new here: fetched from the store, and fresh. */
  readonly came: readonly HeldEntries[];
  /** The store lacks a part of what its line names. */
  readonly isLacking: boolean;
  readonly joins: ReturnType<typeof joinEntries>;
}

/** What is asked to be joined. */
interface Joining {
  readonly caseId: string;
  readonly fresh: readonly HeldEntries[];
  /** All of a case that is to be brought here. */
  readonly fetched?: readonly HeldEntries[];
}

export class TakeIn {
  readonly #parts: TakeInParts;
  readonly #facts: TakeInFacts;
  readonly #storeOnly: StoreOnly;
  /** Entries of a case that lies on the store may have come into the journal by another way, as with a backup. */
  #isMetDue = true;

  constructor(parts: TakeInParts) {
    this.#parts = parts;
    this.#facts = new TakeInFacts(parts);
    this.#storeOnly = new StoreOnly(parts);
  }

  /** Keeps a portion. Rejects where the journal does not. */
  async take(messages: readonly TakenMessage[]): Promise<readonly Change[]> {
    const epoch = this.#parts.epoch();
    if (epoch === null) throw new NotKept('not-writer');
    const portion: Portion = { epoch, changes: [], news: [], heads: [] };
    // Marks may have been changed by a restored backup meanwhile.
    this.#facts.readAnew();
    const cases = new Map<string, HeldEntries[]>();
    for (const taken of messages) {
      const { payload } = taken;
      if (payload.type === 'fact') await this.#facts.take(portion, taken);
      else if (payload.type === 'tombstone') await this.#takeTombstone(portion, taken);
      else {
        const { caseId, entries } = payload;
        const held = heldOf(taken.message, { caseId, device: taken.device, entries });
        if (pieceOf(held) === null) portion.changes.push(refusal(taken, 'bad-payload'));
        else cases.set(caseId, [...(cases.get(caseId) ?? []), held]);
      }
    }
    for (const [caseId, fresh] of cases) await this.#join(portion, { caseId, fresh });
    await this.#parts.hearHeads(portion.heads);
    this.#parts.tell(portion.news);
    return portion.changes;
  }

  // Deletions

  async #takeTombstone(portion: Portion, taken: TakenMessage): Promise<void> {
    const { payload } = taken;
    if (payload.type !== 'tombstone') return;
    const { caseId } = payload;
    const record = parsedOr(RECORD_SCHEMAS[2], { record: 'tombstone', body: payload.value });
    if (record?.body.caseId !== caseId) {
      return void portion.changes.push(refusal(taken, 'bad-payload'));
    }
    // A case that runs here goes on; its deletion is looked at again when it does not.
    if (this.#parts.isBusy(caseId)) {
      const waiting: Change = { room: 'waiting', put: { ...taken.message, code: 'no-key' } };
      return void portion.changes.push(waiting);
    }
    await this.#bury(portion, record.body);
    await this.#storeOnly.forget(caseId, portion.epoch);
    const marks = [tombstoneMark(caseId), goneMark(caseId)].map(offered);
    portion.changes.push(...marks, ...forgetCase(this.#parts.keys(), caseId));
    portion.changes.push(...this.#storeOnly.drop(caseId));
  }

  async #bury({ epoch, news }: Portion, tombstone: Tombstone): Promise<void> {
    const { journal, brought } = this.#parts;
    const { caseId, stamp, by, reason } = tombstone;
    this.#facts.readAnew();
    const adopted = await journal.adoptTombstone({ ...tombstone, epoch });
    if (!adopted.ok) throw new NotKept(adopted.error.code);
    if (adopted.value.taken) return this.#forgetFollowUp({ caseId, epoch, news });
    const mark = tombstoneMark(caseId);
    brought.add([mark]);
    const deleted = await journal.deleteCase({ caseId, epoch, stamp, by, reason });
    brought.took(mark);
    if (!deleted.ok && deleted.error.code !== 'no-such-case') {
      throw new NotKept(deleted.error.code);
    }
    await this.#forgetFollowUp({ caseId, epoch, news });
  }

  async #forgetFollowUp(o: Pick<Portion, 'epoch' | 'news'> & { readonly caseId: string }) {
    const { caseId, epoch, news } = o;
    const forgotten = await forgetFollowUp(this.#parts.journal, { caseId, epoch });
    if (!forgotten.ok) throw new NotKept(forgotten.error.code);
    news.push({ type: 'case-deleted', caseId });
  }

  // Entries

  /** Something was stored here that did not come from the store. */
  stored(news: JournalNews): void {
    if (news.type === 'entries') this.#isMetDue = true;
  }

  /** Looks again at what was put apart: what is before it may have come by another way. */
  async again(): Promise<readonly Change[]> {
    const epoch = this.#parts.epoch();
    if (epoch === null) throw new NotKept('not-writer');
    const portion: Portion = { epoch, changes: [], news: [], heads: [] };
    const held = await this.#parts.database.all('held');
    const met = this.#isMetDue ? await this.#storeOnly.alsoHere() : [];
    for (const caseId of new Set([...held.map((each) => each.caseId), ...met])) {
      await this.#join(portion, { caseId, fresh: [] });
    }
    this.#isMetDue = false;
    this.#parts.tell(portion.news);
    return portion.changes;
  }

  async #join(portion: Portion, of: Joining): Promise<void> {
    const met = await this.#meet(portion, of);
    if (met === null || (await this.#staysOut(portion, met))) return;
    await this.#keep(portion, met);
  }

  /** Null where all of it was known, as of a case that lies on the store. */
  async #meet({ changes }: Portion, of: Joining): Promise<Met | null> {
    const { database, journal, writes } = this.#parts;
    const { caseId, fresh, fetched } = of;
    const isToStay = fetched !== undefined;
    const range = IDBKeyRange.bound([caseId], [caseId, []]);
    const before = await database.all('held', { range });
    const row = await this.#storeOnly.row(caseId);
    const isKnown = row !== undefined && before.length === 0 && !isToStay;
    const again = isKnown ? this.#storeOnly.seenAgain(row, fresh) : null;
    if (again !== null) {
      changes.push(...again);
      return null;
    }
    const reading = await journal.read(caseId);
    if (!reading.ok) throw new NotKept(reading.error.code);
    const here = reading.value.entries;
    // Something new of a case that lies on the store is understood only beside all of it.
    const isToFetch = row !== undefined && !isToStay;
    const got = isToFetch ? await fetchEntries(this.#parts, row) : ok(fetched ?? []);
    if (!got.ok && !LACKS.has(got.error)) throw new NotKept(got.error);
    const came = [...(got.ok ? got.value : []), ...fresh];
    const pieces = [...before, ...came].flatMap((held) => pieceOf(held) ?? []);
    const joins = joinEntries(here, pieces, writes);
    return { caseId, row, isToStay, here, before, fresh, came, isLacking: !got.ok, joins };
  }

  /** Whether it waits for more, or lies on the store and stays there. */
  async #staysOut({ changes, epoch }: Portion, met: Met): Promise<boolean> {
    const { row, here, before, fresh, joins } = met;
    const { chain, joined, left } = joins;
    // Where the store lacks a part of it, what came waits for the rest, which its writer offers again.
    if (met.isLacking && chain[(row?.summary.entries ?? 0) - 1]?.hash !== row?.summary.head) {
      changes.push(...fresh.map(heldFor));
      return true;
    }
    if (here.length + left.length > 0 || met.isToStay) return false;
    const standing = await this.#storeOnly.standing(chain, joined);
    if (standing.stays === 'store') {
      changes.push(...(await this.#storeOnly.keep(standing.row, epoch)), ...before.map(heldNoMore));
      return true;
    }
    const isWaiting = standing.stays === 'arriving' && fresh.length > 0;
    if (!isWaiting || !this.#parts.isCatchingUp()) return false;
    changes.push(...fresh.map(heldFor));
    return true;
  }

  /** Keeps what joins in the journal, and puts apart what does not. */
  async #keep(portion: Portion, met: Met): Promise<void> {
    const { caseId, row, here, before, fresh, came } = met;
    const { chain, joined, left } = met.joins;
    const added = chain.slice(here.length);
    // Where another tablet goes on with what runs here, nothing may be pressed behind its back.
    const isTaken = added.some(({ event }) => event.type === 'pen-taken');
    if (added.length > 0 && !isTaken && this.#parts.isBusy(caseId)) {
      return this.#hold(portion, fresh);
    }
    if (added.length > 0 && !(await this.#adopt(portion, { caseId, chain, added }))) return;
    if (row !== undefined) {
      await this.#storeOnly.forget(caseId, portion.epoch);
      portion.changes.push(...this.#storeOnly.drop(caseId));
    }
    const isLeft = new Set(left.map(({ subject }) => subject));
    const drop = before.filter(({ subject }) => !isLeft.has(subject));
    if (drop.length > 0) this.#parts.onHeld();
    portion.changes.push(...drop.map(heldNoMore));
    this.#hold(
      portion,
      came.filter(({ subject }) => isLeft.has(subject)),
    );
    await this.#mark(portion, { caseId, chain, joined });
  }

  /**
   * Brings a case that lies on the store alone into the journal, where it is one like any other. Errors: those of
   * the store, of the journal, and why its entries cannot be had.
   */
  async bringHere(
    caseId: string,
    onProgress: (progress: FetchProgress) => void,
  ): Promise<Result<null, string>> {
    const { database } = this.#parts;
    const epoch = this.#parts.epoch();
    if (epoch === null) return err('not-writer');
    const row = await this.#storeOnly.row(caseId);
    if (row === undefined) return ok(null);
    const fetched = await fetchEntries(this.#parts, row, onProgress);
    if (!fetched.ok) return fetched;
    const portion: Portion = { epoch, changes: [], news: [], heads: [] };
    await this.#join(portion, { caseId, fresh: [], fetched: fetched.value });
    await database.change(portion.changes);
    this.#parts.tell(portion.news);
    return ok(null);
  }

  #hold({ changes }: Portion, held: readonly HeldEntries[]): void {
    changes.push(...held.map(heldFor));
    if (held.length > 0) this.#parts.onHeld();
  }

  /** False where the case was deleted here. */
  async #adopt(
    { epoch, news, changes }: Portion,
    o: {
      readonly caseId: string;
      readonly chain: readonly JournalEntry[];
      readonly added: readonly JournalEntry[];
    },
  ): Promise<boolean> {
    const { journal, brought } = this.#parts;
    const { caseId, chain, added } = o;
    const hashes = added.map(({ hash }) => hash);
    brought.add(hashes);
    const adopted = await journal.adopt({ caseId, epoch, entries: chain });
    for (const hash of hashes) brought.took(hash);
    if (adopted.ok) {
      news.push({ type: 'entries', caseId, entries: added });
      return true;
    }
    if (adopted.error.code !== 'case-deleted') throw new NotKept(adopted.error.code);
    // It was deleted while this tablet did not take part: now it is known that others have it.
    changes.push(offered(goneMark(caseId)));
    this.#parts.onDeleted(caseId);
    return false;
  }

  /** How much of the case the store has, by what has just come from there. */
  async #mark(
    { changes }: Portion,
    o: {
      readonly caseId: string;
      readonly chain: readonly JournalEntry[];
      readonly joined: readonly Piece[];
    },
  ): Promise<void> {
    const { caseId, chain, joined } = o;
    const { membership, writes } = this.#parts;
    const said = new SaidFor(chain, { own: membership().device, writes });
    const mark = await this.#parts.database.get('cases', caseId);
    let at: CaseMark = mark ?? { caseId, known: 0, from: [] };
    for (const piece of joined.toSorted((a, b) => a.at - b.at)) {
      if (piece.at > at.known) continue;
      at = grown(at, { upTo: said.upTo(piece), device: piece.device });
    }
    if (at.known > (mark?.known ?? 0)) changes.push({ room: 'cases', put: at });
  }
}
