/**
 * What became of the units of this clinic, as screens ask for it: they read the state and call the methods. The
 * records of the bondings are read, never written.
 */
import { isSameJson } from '../../base/json.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { CaseLog } from '../../engine/log.ts';
import { checkVisit } from '../../outcomes/check-visit.ts';
import type { FollowUp, FollowUpSaid, Visit } from '../../outcomes/follow-up-types.ts';
import { originOf } from '../../outcomes/origin.ts';
import type { FlagLooked, Question, Review, ReviewSaid } from '../../outcomes/review-types.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { Fact } from '../facts/fact.ts';
import { type FactParts, say } from '../facts/fact-writer.ts';
import { type AgreementSaid, agreementItem, agreementSaid } from '../outcomes/agreements.ts';
import type { Readable } from '../readable.ts';
import type { AppStore } from '../store.ts';
import { FollowUpMemory } from './follow-up-memory.ts';
import { standingBonded } from './follow-up-rows.ts';
import {
  type CorrectedVisit,
  type EarlierBonding,
  FOLLOW_UP,
  type FollowUpsState,
  LIVES_LEFT,
  OUTCOME_REVIEW,
  QUESTION,
  type VisitChange,
} from './follow-up-state.ts';

export interface FollowUpsParts extends FactParts {
  readonly journal: Journal;
  readonly store: Pick<AppStore, 'getState' | 'subscribe'>;
  readonly newId: () => string;
}

type Done<T = null> = Promise<Result<T, Problem>>;

interface By {
  readonly by: string | null;
}

/** Why a bonding is withdrawn that nobody withdrew by hand. */
const REOPENED = 'signature taken back';

const unknownCase = (caseId: string): Problem =>
  problem('caseId', 'a case that bonded something', caseId, 'no-such-case');

export class FollowUps {
  readonly #parts: FollowUpsParts;
  readonly #memory: FollowUpMemory;
  #takingIn: Promise<void> | null = null;

  constructor(parts: FollowUpsParts) {
    this.#parts = parts;
    this.#memory = new FollowUpMemory(parts);
  }

  get state(): Readable<FollowUpsState> {
    return this.#memory.state;
  }

  /**
   * Reads what this tablet keeps, the first time; later it only works out anew what is due today. Then older
   * cases are taken in, without being waited for. Errors: the journal's.
   */
  async open(): Done {
    const { isRead } = this.#memory;
    const ready = await this.#memory.ready();
    if (!ready.ok) return ready;
    if (isRead) this.#memory.tell();
    void this.takeInOlder();
    return ready;
  }

  /** Goes through closed cases of which nothing says yet what they bonded. Resolves when that is over for now. */
  takeInOlder(): Promise<void> {
    this.#takingIn ??= this.#takeInOlder().finally(() => {
      this.#takingIn = null;
    });
    return this.#takingIn;
  }

  async #takeInOlder(): Promise<void> {
    const { store } = this.#parts;
    const { forgetDeleted, takeInOlder } = await import('./older-cases.ts');
    const items = [...this.#memory.items, ...this.#memory.unforgotten];
    for (const item of await forgetDeleted({ ...this.#parts, items })) this.forgotten(item);
    const { notTaken, isAll } = await takeInOlder({
      ...this.#parts,
      zone: () => store.getState().settings.zone,
      isBusy: () => store.getState().running?.log.state.closed === null,
      knownOf: (caseId) => this.#memory.entriesOf(caseId),
      hasBonded: (caseId) => (this.#memory.followUpOf(caseId)?.bonded ?? null) !== null,
      saidMs: (caseId) =>
        standingBonded(this.#memory.entriesOf(caseId)).reduce<number | null>(
          (last, { atWallMs }) => Math.max(last ?? 0, atWallMs),
          null,
        ),
      onTurned: async (o) => (await this.closingTurned(o)).ok,
      onTaken: (facts) => this.#memory.took(facts),
      onProgress: (takingIn) => this.#memory.tell({ takingIn }),
    });
    const { takingIn } = this.state.getState();
    this.#memory.tell({ notTakenIn: notTaken, takingIn: isAll ? null : takingIn });
  }

  /** A case was closed, or its closing was taken back: what it bonded is written, or withdrawn. Errors: `not-writer`, the journal's. */
  async closingTurned(o: { readonly caseId: string; readonly log: CaseLog }): Done {
    const ready = await this.#memory.ready();
    if (!ready.ok) return ready;
    const { caseId, log } = o;
    const { bondedOf, sayBonded } = await import('./bonded-entries.ts');
    const { zone } = this.#parts.store.getState().settings;
    const now = log.state.closed === null ? null : bondedOf({ log, zone });
    const standing = standingBonded(this.#memory.entriesOf(caseId));
    // One whose withdrawal was lost, as when the tablet died, may be of another record than this one.
    const isSame = (fact: Fact): boolean => now !== null && isSameJson(fact.said, now);
    if (standing.length > 0 ? standing.every(isSame) : now === null) return ok(null);
    for (const { id } of standing) {
      const said = { what: 'bonding-withdrawn', of: id, reason: REOPENED } as const;
      const withdrawn = await this.#say({ caseId, by: null }, said);
      if (!withdrawn.ok) return withdrawn;
    }
    if (now === null) return ok(null);
    const about = { caseId, log, zone, known: this.#memory.entriesOf(caseId) };
    const said = await sayBonded(this.#parts, about);
    if (!said.ok) return said;
    this.#memory.took(said.value ?? []);
    this.#memory.tell();
    return ok(null);
  }

  /**
   * What is followed under a case that may be deleted: then people say what becomes of it. `left-before`: it was deleted
   * on another tablet, and its lives are among those that were left.
   */
  async livesOf(caseId: string): Promise<'none' | 'followed' | 'left-before'> {
    const ready = await this.#memory.ready();
    const { bonded } = this.#memory.followUpOf(caseId) ?? {};
    if (!ready.ok || (bonded?.units.length ?? 0) === 0) return 'none';
    const { livesLeft } = this.state.getState().reviews;
    return livesLeft.includes(caseId) ? 'left-before' : 'followed';
  }

  /**
   * What the lives of a case leave behind when it is deleted: counts that lead to nobody, and that they were left. Both are
   * to be kept in one step with the deletion. None where nothing is followed, or where they were left before. Errors: the journal's.
   */
  async livesToLeave(caseId: string): Done<readonly Fact[]> {
    const ready = await this.#memory.ready();
    if (!ready.ok) return ready;
    const followUp = this.#memory.followUpOf(caseId);
    if (followUp === undefined || (await this.livesOf(caseId)) !== 'followed') return ok([]);
    const { leftFacts, livesLeftFact } = await import('./forget-follow-up.ts');
    const { newId, tablet, nowWallMs } = this.#parts;
    const known = this.#memory.reviewsOf(LIVES_LEFT);
    const about = { caseId, known, tablet: tablet(), atWallMs: nowWallMs() };
    return ok([
      ...leftFacts(followUp, { newId, today: this.#memory.today() }),
      livesLeftFact(about),
    ]);
  }

  /** A case was deleted: nothing of it is followed any more, but what it left. */
  async deleted(caseId: string, left: readonly Fact[]): Promise<void> {
    this.#memory.forgotten(caseId);
    await this.#memory.lookFor(left);
  }

  /** The case was deleted: nothing of it is followed any more. */
  forgotten(caseId: string): void {
    this.#memory.forgotten(caseId);
  }

  /** Notes a visit. Errors: the codes of `checkVisit`, `no-such-case`, `not-writer`, the journal's. */
  async noteVisit(o: { readonly caseId: string; readonly visit: Visit } & By): Done<string> {
    const known = await this.#known(o.caseId);
    if (!known.ok) return known;
    const [first] = checkVisit(o.visit, { followUp: known.value, today: this.#memory.today() });
    if (first !== undefined) return err(first);
    return this.#say(o, { what: 'visited', visit: o.visit });
  }

  /** Everything that is wrong with a visit as it stands in a form. */
  faultsOf(o: {
    readonly caseId: string;
    readonly visit: Visit;
    readonly replaces?: string;
  }): readonly Problem[] {
    const followUp = this.#memory.followUpOf(o.caseId);
    if (!followUp?.bonded) return [unknownCase(o.caseId)];
    const { visit, caseId: _, ...replaces } = o;
    return checkVisit(visit, { followUp, today: this.#memory.today(), ...replaces });
  }

  /** Corrects a visit; what it was stays told. Settles one that two tablets tell differently. Errors: as of `noteVisit`, `no-such-visit`. */
  async correctVisit(o: CorrectedVisit): Done<string> {
    const known = await this.#visit(o);
    if (!known.ok) return known;
    const { visit, of, reason } = o;
    const about = {
      followUp: known.value,
      today: this.#memory.today(),
      replaces: this.#standing(o),
    };
    const [first] = checkVisit(visit, about);
    if (first !== undefined) return err(first);
    return this.#say(o, { what: 'visit-corrected', of, visit, reason });
  }

  /** Takes a visit out that was noted by mistake; it stays told. Errors: as of `correctVisit`. */
  async strikeVisit(o: VisitChange): Done<string> {
    const known = await this.#visit(o);
    if (!known.ok) return known;
    return this.#say(o, { what: 'visit-struck', of: o.of, reason: o.reason });
  }

  /** Nobody is asked for any more: moved away, declined. */
  endRecalls(o: { readonly caseId: string; readonly reason: string } & By): Done<string> {
    return this.#sayOfKnown(o, {
      what: 'recalls-ended',
      reason: o.reason,
      onDay: this.#memory.today(),
    });
  }

  resumeRecalls(o: { readonly caseId: string } & By): Done<string> {
    return this.#sayOfKnown(o, { what: 'recalls-resumed', onDay: this.#memory.today() });
  }

  /** Notes units from before the app was used; returns the id under which they are followed. */
  async addEarlier(o: { readonly bonding: EarlierBonding } & By): Done<string> {
    const ready = await this.#memory.ready();
    if (!ready.ok) return ready;
    const { bondedOn, seenFrom } = o.bonding;
    const today = this.#memory.today();
    const isOrdered = bondedOn <= seenFrom && seenFrom <= today;
    if (!isOrdered)
      return err(problem('seenFrom', 'a day from the bonding to today', seenFrom, 'not-a-day'));
    const caseId = `earlier-${this.#parts.newId()}`;
    const said = await this.#say({ ...o, caseId }, { what: 'bonded', ...o.bonding });
    return said.ok ? ok(caseId) : said;
  }

  /** Takes units from before the app out again that were noted by mistake. Errors: `no-such-case` of a bonding of the app. */
  async withdrawEarlier(
    o: { readonly caseId: string; readonly reason: string } & By,
  ): Done<string> {
    const known = await this.#known(o.caseId);
    if (!known.ok) return known;
    const [bonded] = standingBonded(this.#memory.entriesOf(o.caseId));
    if (originOf(o.caseId) !== 'earlier' || !bonded) return err(unknownCase(o.caseId));
    return this.#say(o, { what: 'bonding-withdrawn', of: bonded.id, reason: o.reason });
  }

  /** The recalls of a case that are to come, as an iCalendar file; null where none is. */
  async calendarOf(caseId: string): Promise<string | null> {
    const { list, today } = this.state.getState();
    const row = list.find((each) => each.caseId === caseId);
    if (row === undefined) return null;
    const [{ recallCalendar }, { clinicOf }] = await Promise.all([
      import('../../export/recall-calendar.ts'),
      import('../../export/export-clinic.ts'),
    ]);
    const { settings } = this.#parts.store.getState();
    const teeth = row.units.flatMap((unit) => unit.teeth);
    const about = { stampedAtMs: this.#parts.nowWallMs(), today, zone: settings.zone };
    return recallCalendar([{ ...row, teeth }], { ...about, clinic: clinicOf(settings) });
  }

  /** Fixes what is asked of the outcomes, before anything is counted. */
  fixQuestion(o: { readonly question: Omit<Question, 'onDay'> } & By): Done<string> {
    const question = { ...o.question, onDay: this.#memory.today() };
    return this.#sayReview(QUESTION, o.by, { what: 'question-fixed', question });
  }

  noteReview(o: { readonly review: Review } & By): Done<string> {
    return this.#sayReview('review', o.by, { what: 'reviewed', review: o.review });
  }

  /** Somebody has looked at a flag; its chart begins again today. */
  noteFlagLooked(o: { readonly flag: Omit<FlagLooked, 'lookedOn'> } & By): Done<string> {
    const flag = { ...o.flag, lookedOn: this.#memory.today() };
    return this.#sayReview('flag', o.by, { what: 'flag-looked', flag });
  }

  /** Somebody agrees that something is shown under the own name, or withdraws it. Errors: `empty`, `not-writer`, the journal's. */
  async agree(o: Omit<AgreementSaid, 'onDay'>): Done<string> {
    const said = agreementSaid({ ...o, onDay: this.#memory.today() });
    return said.ok ? this.#sayReview(agreementItem(o), o.person, said.value) : said;
  }

  /** The entries of one case as they are kept, or of every case. Call after `open`. */
  entries(caseId?: string): readonly Fact[] {
    const items = caseId === undefined ? this.#memory.items : [caseId];
    return items.flatMap((item) => this.#memory.entriesOf(item));
  }

  async #known(caseId: string): Done<FollowUp> {
    const ready = await this.#memory.ready();
    if (!ready.ok) return ready;
    const followUp = this.#memory.followUpOf(caseId);
    return followUp?.bonded ? ok(followUp) : err(unknownCase(caseId));
  }

  async #visit({ caseId, of }: Pick<VisitChange, 'caseId' | 'of'>): Done<FollowUp> {
    const known = await this.#known(caseId);
    if (!known.ok) return known;
    const { visits, differing } = known.value;
    const isThere =
      visits.some(({ id }) => id === of) ||
      differing.some(({ sides }) => sides.some(({ id }) => id === of));
    return isThere ? known : err(problem('of', 'a visit of the case', of, 'no-such-visit'));
  }

  /** The entry of the same visit that stands among the visits: of one that differs it may be another side. */
  #standing({ caseId, of }: Pick<VisitChange, 'caseId' | 'of'>): string {
    const { differing = [], visits = [] } = this.#memory.followUpOf(caseId) ?? {};
    const sides = differing.find((one) => one.sides.some(({ id }) => id === of))?.sides ?? [];
    return sides.find(({ id }) => visits.some((kept) => kept.id === id))?.id ?? of;
  }

  async #sayOfKnown(o: { readonly caseId: string } & By, said: FollowUpSaid): Done<string> {
    const known = await this.#known(o.caseId);
    return known.ok ? this.#say(o, said) : known;
  }

  async #say(
    o: { readonly caseId: string; readonly seen?: readonly string[] } & By,
    said: FollowUpSaid,
  ): Done<string> {
    const { caseId: item, by, seen } = o;
    const known = () => this.#memory.entriesOf(item);
    const about = { kind: FOLLOW_UP, item, said: [said], by, known } as const;
    const kept = await say(
      this.#parts,
      seen === undefined ? about : { ...about, seen: () => seen },
    );
    if (!kept.ok) return kept;
    this.#memory.took(kept.value);
    this.#memory.tell();
    return ok(kept.value[0]?.id ?? '');
  }

  async #sayReview(item: string, by: string | null, said: ReviewSaid): Done<string> {
    const ready = await this.#memory.ready();
    if (!ready.ok) return ready;
    const known = () => this.#memory.reviewsOf(item);
    const kept = await say(this.#parts, { kind: OUTCOME_REVIEW, item, said: [said], by, known });
    if (!kept.ok) return kept;
    this.#memory.tookReviews(kept.value);
    this.#memory.tell();
    return ok(kept.value[0]?.id ?? '');
  }
}
