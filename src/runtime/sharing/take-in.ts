/**
 * Keeps what other tablets of the clinic said. Facts are taken as they are; what only a desk may say counts,
 * because a tablet of this clinic signed it. Entries go behind those of their case, never in front of them or
 * between them. Taking the same thing twice changes nothing.
 */

import { parsedOr } from '../../protocol/read-outside.ts';
import type { Journal, JournalEntry, JournalNews, Tombstone } from '../../storage/journal-types.ts';
import { RECORD_SCHEMAS } from '../../storage/parse-stored.ts';
import type { CaseKeyRing } from '../../sync/case-key-ring.ts';
import type { TakenMessage } from '../../sync/intake.ts';
import { verifiedStatement } from '../../sync/members.ts';
import type { Membership, RefusedCode, SignedStatement } from '../../sync/sealed-types.ts';
import type {
  CaseMark,
  Change,
  HeldEntries,
  SharingDatabase,
} from '../../sync/sharing-database.ts';
import { HEAD, isRunningHead } from '../anchors/head-facts.ts';
import type { CameHead } from '../anchors/heard-heads.ts';
import { isOfADesk } from '../facts/desk-facts.ts';
import { type Fact, factDocument, keepFact, readFact } from '../facts/fact.ts';
import { CAME_IN, CLINIC_DESK, readThisTablet } from '../facts/this-tablet.ts';
import type { Brought } from './brought.ts';
import { joinEntries, type Piece, pieceOf, type Writes } from './join-entries.ts';
import { factMark, goneMark, isDemonstration, offered, tombstoneMark } from './marks.ts';
import { isOfOtherSite } from './of-clinic.ts';
import { forgetCase, grown } from './own-things.ts';

export interface TakeInParts {
  readonly journal: Journal;
  readonly database: SharingDatabase;
  readonly keys: () => CaseKeyRing;
  readonly crypto: Crypto;
  readonly membership: () => Membership;
  /** The writer's epoch; null while another window writes. */
  readonly epoch: () => number | null;
  /** Who writes cases as whom. */
  readonly writes: Writes;
  readonly brought: Brought;
  /** Statements about tablets that came among the facts. */
  readonly learn: (statements: readonly SignedStatement[]) => void;
  /** Whether a case may be added to now: not while it runs at this chair. */
  readonly isBusy: (caseId: string) => boolean;
  /** Tells this window of what was kept. */
  readonly tell: (news: readonly JournalNews[]) => void;
  /** Entries were put apart, or are so no more. */
  readonly onHeld: () => void;
  /** Entries came of a case that was deleted here. What this part notes of it is kept right after. */
  readonly onDeleted: (caseId: string) => void;
  /** Heads of cases came. */
  readonly hearHeads: (came: readonly CameHead[]) => Promise<void>;
}

interface Portion {
  readonly epoch: number;
  readonly changes: Change[];
  readonly news: JournalNews[];
  readonly heads: CameHead[];
}

/** What stands against keeping something here; the same portion comes again later. */
class NotKept extends Error {}

const refusal = (
  { message, device }: TakenMessage,
  code: Extract<RefusedCode, 'bad-payload' | 'bad-signature'>,
): Change => ({ room: 'refused', put: { subject: message.subject, code, device } });

export class TakeIn {
  readonly #parts: TakeInParts;
  #desks: {
    readonly tablet: string;
    readonly cameIn: Set<string>;
    readonly clinic: Set<string>;
  } | null = null;

  constructor(parts: TakeInParts) {
    this.#parts = parts;
  }

  /** Keeps a portion. Rejects where the journal does not. */
  async take(messages: readonly TakenMessage[]): Promise<readonly Change[]> {
    const epoch = this.#parts.epoch();
    if (epoch === null) throw new NotKept('not-writer');
    const portion: Portion = { epoch, changes: [], news: [], heads: [] };
    // Marks may have been changed by a restored backup meanwhile.
    this.#desks = null;
    const cases = new Map<string, HeldEntries[]>();
    for (const taken of messages) {
      const { payload } = taken;
      if (payload.type === 'fact') await this.#takeFact(portion, taken);
      else if (payload.type === 'tombstone') await this.#takeTombstone(portion, taken);
      else {
        const { caseId, entries } = payload;
        const { subject } = taken.message;
        const at = Number(subject.split('.')[4]);
        const held = { caseId, at, subject, device: taken.device, entries };
        if (pieceOf(held) === null) portion.changes.push(refusal(taken, 'bad-payload'));
        else cases.set(caseId, [...(cases.get(caseId) ?? []), held]);
      }
    }
    for (const [caseId, held] of cases) await this.#join(portion, caseId, held);
    await this.#parts.hearHeads(portion.heads);
    this.#parts.tell(portion.news);
    return portion.changes;
  }

  // Facts

  async #takeFact(portion: Portion, taken: TakenMessage): Promise<void> {
    const { payload } = taken;
    const fact = payload.type === 'fact' ? readFact(payload) : null;
    if (fact === null) return void portion.changes.push(refusal(taken, 'bad-payload'));
    if (isDemonstration(fact) || isOfOtherSite(fact, this.#parts.membership())) return;
    if (fact.kind === HEAD) portion.heads.push({ fact, device: taken.device });
    if (isRunningHead(fact)) return;
    if (fact.kind === 'tablet' && !(await this.#isVouchedFor(fact))) {
      return void portion.changes.push(refusal(taken, 'bad-signature'));
    }
    if (isOfADesk(fact)) await this.#countDesk(portion, fact);
    this.#parts.brought.add([fact.id]);
    const kept = await keepFact(this.#parts.journal, fact, portion.epoch);
    // The journal tells only of what was not there.
    this.#parts.brought.took(fact.id);
    if (!kept.ok) throw new NotKept(kept.error.code);
    portion.changes.push(offered(factMark(fact.id)));
    portion.news.push({ type: 'document', kind: factDocument(fact.kind), id: fact.id });
  }

  /** What is said of tablets counts by the clinic's own key alone. */
  async #isVouchedFor({ said }: Fact): Promise<boolean> {
    const { crypto, membership, learn } = this.#parts;
    const statement = await verifiedStatement(crypto, membership(), said);
    if (statement !== null) learn([statement]);
    return statement !== null;
  }

  /** Marks that the desk of the tablet counts here; what waited because a file brought it waits no more. */
  async #countDesk({ epoch }: Portion, { id, tablet }: Fact): Promise<void> {
    const { documents } = this.#parts.journal;
    this.#desks ??= await this.#readDesks();
    const { cameIn, clinic } = this.#desks;
    const isNew = tablet !== '' && tablet !== this.#desks.tablet && !clinic.has(tablet);
    if (isNew) {
      const put = await documents.put({ kind: CLINIC_DESK, id: tablet, value: true, epoch });
      if (!put.ok) throw new NotKept(put.error.code);
      clinic.add(tablet);
    }
    if (!cameIn.has(id)) return;
    const dropped = await documents.delete({ kind: CAME_IN, id, epoch });
    if (!dropped.ok) throw new NotKept(dropped.error.code);
    cameIn.delete(id);
  }

  async #readDesks() {
    const here = await readThisTablet(this.#parts.journal);
    if (!here.ok) throw new NotKept(here.error.code);
    const { tablet, cameIn, clinic } = here.value;
    return { tablet, cameIn: new Set(cameIn), clinic: new Set(clinic) };
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
    const marks = [tombstoneMark(caseId), goneMark(caseId)].map(offered);
    portion.changes.push(...marks, ...forgetCase(this.#parts.keys(), caseId));
  }

  async #bury({ epoch, news }: Portion, tombstone: Tombstone): Promise<void> {
    const { journal, brought } = this.#parts;
    const { caseId, stamp, by, reason } = tombstone;
    const adopted = await journal.adoptTombstone({ ...tombstone, epoch });
    if (!adopted.ok) throw new NotKept(adopted.error.code);
    if (adopted.value.taken) return;
    const mark = tombstoneMark(caseId);
    brought.add([mark]);
    const deleted = await journal.deleteCase({ caseId, epoch, stamp, by, reason });
    brought.took(mark);
    if (!deleted.ok && deleted.error.code !== 'no-such-case') {
      throw new NotKept(deleted.error.code);
    }
    news.push({ type: 'case-deleted', caseId });
  }

  // Entries

  /** Looks again at what was put apart: what is before it may have come by another way. */
  async again(): Promise<readonly Change[]> {
    const epoch = this.#parts.epoch();
    if (epoch === null) throw new NotKept('not-writer');
    const portion: Portion = { epoch, changes: [], news: [], heads: [] };
    const held = await this.#parts.database.all('held');
    for (const caseId of new Set(held.map((each) => each.caseId))) {
      await this.#join(portion, caseId, []);
    }
    this.#parts.tell(portion.news);
    return portion.changes;
  }

  async #join(portion: Portion, caseId: string, fresh: readonly HeldEntries[]): Promise<void> {
    const { database, journal } = this.#parts;
    const range = IDBKeyRange.bound([caseId], [caseId, []]);
    const before = await database.all('held', { range });
    const reading = await journal.read(caseId);
    if (!reading.ok) throw new NotKept(reading.error.code);
    const here = reading.value.entries;
    const pieces = [...before, ...fresh].flatMap((held) => pieceOf(held) ?? []);
    const { chain, joined, left } = joinEntries(here, pieces, this.#parts.writes);
    const added = chain.slice(here.length);
    // Where another tablet goes on with what runs here, nothing may be pressed behind its back.
    const isTaken = added.some(({ event }) => event.type === 'pen-taken');
    if (added.length > 0 && !isTaken && this.#parts.isBusy(caseId)) {
      return this.#hold(portion, fresh);
    }
    if (added.length > 0 && !(await this.#adopt(portion, { caseId, chain, added }))) return;
    const isLeft = new Set(left.map(({ subject }) => subject));
    const drop = before.filter(({ subject }) => !isLeft.has(subject));
    if (drop.length > 0) this.#parts.onHeld();
    portion.changes.push(
      ...drop.map(
        (each): Change => ({
          room: 'held',
          drop: [caseId, each.at, each.subject],
        }),
      ),
    );
    this.#hold(
      portion,
      fresh.filter(({ subject }) => isLeft.has(subject)),
    );
    await this.#mark(portion, caseId, joined);
  }

  #hold({ changes }: Portion, held: readonly HeldEntries[]): void {
    changes.push(...held.map((put): Change => ({ room: 'held', put })));
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
  async #mark({ changes }: Portion, caseId: string, joined: readonly Piece[]): Promise<void> {
    const mark = await this.#parts.database.get('cases', caseId);
    let at: CaseMark = mark ?? { caseId, known: 0, from: [] };
    for (const piece of joined.toSorted((a, b) => a.at - b.at)) {
      if (piece.at > at.known) continue;
      at = grown(at, { upTo: piece.at + piece.entries.length, device: piece.device });
    }
    if (at.known > (mark?.known ?? 0)) changes.push({ room: 'cases', put: at });
  }
}
