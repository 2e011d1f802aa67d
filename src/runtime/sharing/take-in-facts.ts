/**
 * Keeps the facts that other tablets of the clinic said. They are taken as they are; what only a desk may say
 * counts, because a tablet of this clinic signed it.
 */
import type { Journal } from '../../storage/journal-types.ts';
import type { TakenMessage } from '../../sync/intake.ts';
import { verifiedStatement } from '../../sync/members.ts';
import type { Membership, SignedStatement } from '../../sync/sealed-types.ts';
import { HEAD, isRunningHead } from '../anchors/head-facts.ts';
import { isOfADesk } from '../facts/desk-facts.ts';
import { type Fact, factDocument, keepFact, readFact } from '../facts/fact.ts';
import { CAME_IN, CLINIC_DESK, readThisTablet } from '../facts/this-tablet.ts';
import { FOLLOW_UP } from '../follow-up/follow-up-state.ts';
import type { Brought } from './brought.ts';
import { factMark, isDemonstration, offered } from './marks.ts';
import { isOfOtherSite } from './of-clinic.ts';
import { NotKept, type Portion, refusal } from './portion.ts';

export interface TakeInFactsParts {
  readonly journal: Journal;
  readonly crypto: Crypto;
  readonly membership: () => Membership;
  readonly brought: Brought;
  /** Statements about tablets that came among the facts. */
  readonly learn: (statements: readonly SignedStatement[]) => void;
}

interface Desks {
  readonly tablet: string;
  readonly cameIn: Set<string>;
  readonly clinic: Set<string>;
}

export class TakeInFacts {
  readonly #parts: TakeInFactsParts;
  #desks: Desks | null = null;
  /** Cases that were deleted. */
  #deleted: ReadonlySet<string> | null = null;

  constructor(parts: TakeInFactsParts) {
    this.#parts = parts;
  }

  /** What was read of the journal is read again when it is wanted next. */
  readAnew(): void {
    this.#desks = null;
    this.#deleted = null;
  }

  /** Keeps one. Rejects where the journal does not. */
  async take(portion: Portion, taken: TakenMessage): Promise<void> {
    const { payload } = taken;
    const fact = payload.type === 'fact' ? readFact(payload) : null;
    if (fact === null) return void portion.changes.push(refusal(taken, 'bad-payload'));
    if (isDemonstration(fact) || isOfOtherSite(fact, this.#parts.membership())) return;
    if (fact.kind === HEAD) portion.heads.push({ fact, device: taken.device });
    if (isRunningHead(fact)) return;
    // What is followed of a case goes with it: what comes later is not kept.
    if (fact.kind === FOLLOW_UP && (await this.#isDeleted(fact.item))) {
      return void portion.changes.push(offered(factMark(fact.id)));
    }
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

  async #isDeleted(caseId: string): Promise<boolean> {
    if (this.#deleted === null) {
      const listed = await this.#parts.journal.listTombstones();
      if (!listed.ok) throw new NotKept(listed.error.code);
      this.#deleted = new Set(listed.value.map((each) => each.caseId));
    }
    return this.#deleted.has(caseId);
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

  async #readDesks(): Promise<Desks> {
    const here = await readThisTablet(this.#parts.journal);
    if (!here.ok) throw new NotKept(here.error.code);
    const { tablet, cameIn, clinic } = here.value;
    return { tablet, cameIn: new Set(cameIn), clinic: new Set(clinic) };
  }
}
