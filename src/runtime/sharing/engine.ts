/**
 * One tablet's part in the clinic's store, from the moment it takes part until it stops. It runs in the window
 * that writes. Nothing waits for it: it hears what was stored after it was stored.
 */
import { oneByOne } from '../../base/one-by-one.ts';
import { err } from '../../base/result.ts';
import type { JournalNews } from '../../storage/journal-types.ts';
import { CaseKeyRing } from '../../sync/case-key-ring.ts';
import { Intake, MEMBERSHIP } from '../../sync/intake.ts';
import { LiveCount } from '../../sync/live-count.ts';
import { Outbox } from '../../sync/outbox.ts';
import type { PutOutPlan } from '../../sync/rotation.ts';
import type { Members, Membership, Sealer, SignedStatement } from '../../sync/sealed-types.ts';
import { Sharer, type SharerState } from '../../sync/sharer.ts';
import { keepOne, readOne } from '../../sync/sharing-database.ts';
import type { ClinicStore, StoredMessage } from '../../sync/store-types.ts';
import { partsOf } from '../../sync/subjects.ts';
import { Turns } from '../../sync/turns.ts';
import type { BrokenChain } from '../anchors/broken-chains.ts';
import { ClinicHeads } from '../anchors/clinic-heads.ts';
import { Brought } from './brought.ts';
import { AGAIN_MS, BUSY_PACE, CLOSED, type EngineParts, QUIET_PACE } from './engine-parts.ts';
import { type Fork, lookForForks } from './forks.ts';
import type { Writes } from './join-entries.ts';
import { knownStatements } from './known-statements.ts';
import { forgottenOf, tombstoneMark } from './marks.ts';
import { OwnThings } from './own-things.ts';
import { type HeardTablet, isOpenHere, Presence, runsHere } from './presence.ts';
import { readAnewIfOther } from './read-anew.ts';
import { readRefused, waits } from './refused-rows.ts';
import { turned } from './secret-messages.ts';
import type { RefusedRow } from './sharing-state.ts';
import { StoreOnlyCount } from './store-only-lines.ts';
import { TakeIn } from './take-in.ts';
import { WritesAs } from './writes-as.ts';

export class Engine {
  readonly #parts: EngineParts;
  readonly #outbox: Outbox;
  readonly #sharer: Sharer;
  readonly #own: OwnThings;
  readonly #ownTurns: Turns;
  readonly #brought = new Brought();
  readonly #writesAs = new WritesAs();
  readonly #count: LiveCount;
  readonly #stops: (() => void)[] = [];
  #intake: Intake | null = null;
  #take: TakeIn | null = null;
  #presence: Presence | null = null;
  #heads: ClinicHeads | null = null;
  /** One after the other: what is taken in and what is offered note the same things. */
  readonly #inLine = oneByOne();
  #state: SharerState = CLOSED;
  #refused: readonly RefusedRow[] = [];
  #forks: readonly Fork[] = [];
  #wentBackAtWallMs: number | null = null;
  #isTooLarge = false;
  #isDirty = { refused: true, forks: true };
  readonly storeOnly = new StoreOnlyCount(() => this.#changed({ isUrgent: false }));

  constructor(parts: EngineParts) {
    this.#parts = parts;
    this.#count = new LiveCount(parts.database, parts.nowWallMs);
    const { database, store, journal, timers, random } = parts;
    const later = { later: (ms: number, run: () => void) => timers.after(ms, run) };
    this.#outbox = new Outbox(database, {
      onAdded: () => this.#sharer.owes(),
      onChange: () => this.#sharer.tell(),
    });
    this.#sharer = new Sharer({
      store,
      database,
      outbox: this.#outbox,
      timers: later,
      random,
      take: (portion) => this.#inLine(() => this.#takePortion(portion)),
      isErased: (subject) => this.#isDeleted(partsOf(subject).item),
      // In line with what is offered: nothing may be noted by what was known of the store before.
      wentBack: (stream, along) =>
        this.#inLine(() =>
          database.change([...along, ...forgottenOf(stream), this.#noteWentBack()]),
        ),
      onRead: ({ isFirst }) => this.#wasRead(isFirst),
      pace: () => (parts.running() === null ? QUIET_PACE : BUSY_PACE),
      onState: (state) => this.#stateIs(state),
    });
    this.#own = new OwnThings({
      journal,
      database,
      outbox: this.#outbox,
      keys: () => this.#opened.keys,
      sealer: () => this.sealer,
      brought: this.#brought,
      onTooLarge: () => {
        this.#isTooLarge = true;
        this.#changed({ isUrgent: false });
      },
    });
    this.#ownTurns = new Turns(later, () => this.#ownTurn());
  }

  get #opened(): Intake {
    if (this.#intake === null) throw new Error('the engine was not started');
    return this.#intake;
  }

  get sealer(): Sealer {
    const { keys, crypto } = this.#parts;
    return { membership: this.membership, keys, crypto };
  }

  get membership(): Membership {
    return this.#intake?.membership ?? this.#parts.membership;
  }

  get members(): Members {
    return this.#intake?.members ?? new Map();
  }

  get store(): ClinicStore {
    return this.#parts.store;
  }

  /** Everything that is said of tablets, verified. */
  get statements(): readonly SignedStatement[] {
    return this.#intake?.statements ?? this.#parts.statements;
  }

  get caseKeys(): CaseKeyRing {
    return this.#opened.keys;
  }

  get state(): SharerState {
    const { problem } = this.#state;
    return { ...this.#state, problem: problem ?? (this.#isTooLarge ? 'too-large' : null) };
  }

  /** Everything was read, and everything of this tablet is in the store. */
  get isShared(): boolean {
    const { line, isRead, owed } = this.#state;
    return line === 'open' && isRead && owed === 0 && this.#own.isDone;
  }

  get refused(): readonly RefusedRow[] {
    return this.#refused;
  }

  get forks(): readonly Fork[] {
    return this.#forks;
  }

  /** Fetches a case that lies on the store alone, and keeps it. Errors: a stable code. */
  bringHere(...asked: Parameters<TakeIn['bringHere']>): ReturnType<TakeIn['bringHere']> {
    return this.#inLine(async () => {
      const done = await this.#take?.bringHere(...asked);
      await this.storeOnly.look(this.#parts.database);
      return done ?? err('not-connected');
    });
  }

  get brokenChains(): readonly BrokenChain[] {
    return this.#heads?.broken ?? [];
  }

  get wentBackAtWallMs(): number | null {
    return this.#wentBackAtWallMs;
  }

  /** Of this tablet what others are told of it. */
  get own(): { readonly tablet: string; readonly runs: ReturnType<typeof runsHere> } {
    return { tablet: this.#parts.tablet(), runs: runsHere(this.#parts.running()) };
  }

  get writesAs(): ReadonlyMap<string, string> {
    return this.#writesAs.known;
  }

  /** Numbers what is sent and not kept; it rises over a restart too. */
  nextCount(): number {
    return this.#count.next();
  }

  get heard(): ReadonlyMap<string, HeardTablet> {
    return this.#presence?.heard ?? new Map();
  }

  async start(): Promise<void> {
    const { crypto, database, journal, membership, epoch, bring } = this.#parts;
    await readAnewIfOther(database, this.#parts.version);
    const at = await readOne(database, 'went-back-at');
    this.#wentBackAtWallMs = typeof at === 'number' ? at : null;
    const heads = new ClinicHeads({
      ...this.#parts,
      sealer: () => this.sealer,
      members: () => this.members,
      isShared: () => this.isShared,
      send: (messages) => this.send(messages),
      onChange: () => this.#changed({ isUrgent: false }),
    });
    this.#heads = heads;
    const take = new TakeIn({
      ...this.#parts,
      open: (message) => this.#opened.open(message),
      isCatchingUp: () => !this.#state.isRead,
      onStoreOnly: () => this.storeOnly.changed(),
      keys: () => this.#opened.keys,
      membership: () => this.membership,
      members: () => this.members,
      brought: this.#brought,
      writes: this.#writes,
      learn: (statements) => this.#opened.learn(statements),
      isBusy: (caseId) => isOpenHere(this.#parts.running(), caseId),
      tell: (news) => {
        for (const one of news) bring(one);
        for (const one of news) heads.brought(one);
      },
      onHeld: () => {
        this.#isDirty.forks = true;
      },
      onDeleted: (caseId) => {
        this.#own.hear({ type: 'case-deleted', caseId });
        this.#ownTurns.now();
      },
      hearHeads: (came) => heads.hear(came),
    });
    this.#take = take;
    this.#intake = new Intake({
      crypto,
      database,
      membership,
      keys: (secrets) => new CaseKeyRing({ database, crypto, secrets }),
      statements: await knownStatements(this.#parts),
      take: (messages) => take.take(messages),
      isDeleted: (caseId) => this.#isDeleted(caseId),
      onChange: () => {
        this.#isDirty.refused = true;
        this.#changed({ isUrgent: false });
      },
    });
    this.#stops.push(this.#parts.onOwn((news) => this.#stored(news)));
    await Promise.all([this.#outbox.open(), this.#writesAs.read(journal), this.#count.read()]);
    await this.#lookAgain();
    await heads.start();
    await this.#sharer.start();
    this.#presence = new Presence({
      ...this.#parts,
      live: this.#parts.store.live,
      sealer: () => this.sealer,
      members: () => this.members,
      owed: () => this.#outbox.owed,
      heads: () => heads.known,
      isOpen: () => this.#state.line === 'open',
      onHeard: () => {
        if (this.#writesAs.hear(this.heard, { journal, epoch: epoch() })) this.#joinAgain();
        this.#changed({ isUrgent: false });
      },
      nextCount: () => this.#count.next(),
      onHeads: (device, known) => heads.knownBy(device, known),
    });
  }

  /** This window has stored something. */
  #stored(news: JournalNews): void {
    this.#own.hear(news);
    this.#heads?.stored(news);
    this.#take?.stored(news);
    this.#ownTurns.now();
  }

  async stop(): Promise<void> {
    for (const stop of this.#stops) stop();
    this.#presence?.stop();
    this.#heads?.stop();
    await Promise.all([this.#ownTurns.stop(), this.#sharer.stop()]);
    // What is under way comes to its end.
    await this.#inLine(async () => undefined);
  }

  /** Reads and sends at once. */
  now(): void {
    this.#own.compareAll();
    this.#ownTurns.now();
    this.#sharer.now();
  }

  /** Sends messages of other parts, after what is owed already. */
  async send(messages: Parameters<Outbox['add']>[0]): Promise<void> {
    await this.#outbox.add(messages);
  }

  /** Statements that were made at this tablet. */
  learn(statements: readonly SignedStatement[]): void {
    this.#opened.learn(statements);
  }

  /** A tablet was put out: what is new is sealed by another secret, which those that stay are handed. */
  async turnKeys(plan: Pick<PutOutPlan, 'secrets' | 'secretMessage' | 'keys'>): Promise<void> {
    // What was said before it is sealed so that everybody can open it.
    await this.#inLine(() => this.#own.turn());
    const membership = { ...this.membership, secrets: plan.secrets };
    await this.#inLine(async () => {
      const { messages, along } = await turned(this.#parts.database, this.caseKeys, plan);
      await this.#outbox.add(messages, [keepOne(MEMBERSHIP, membership), ...along]);
      this.#opened.setMembership(membership);
    });
  }

  async #takePortion(portion: readonly StoredMessage[]): Promise<[]> {
    await this.#parts.database.change(await this.#opened.take(portion));
    // In a long reading it is enough to look at its end.
    if (this.#state.isRead) await this.#lookAgain();
    return [];
  }

  async #ownTurn(): Promise<void> {
    try {
      await this.#inLine(() => this.#own.turn());
    } catch {
      this.#ownTurns.in(AGAIN_MS);
    }
    this.#changed({ isUrgent: false });
  }

  /** Everything of the store was read: now it can be told what it lacks. */
  #wasRead(isFirst: boolean): void {
    if (isFirst) this.#own.compareAll();
    this.#ownTurns.now();
    void this.#inLine(async () => {
      await this.#opened.retry();
      await this.#parts.database.change((await this.#take?.again()) ?? []);
      await this.#opened.prune();
      await this.#lookAgain();
      this.#heads?.wasRead();
    }).catch(() => undefined);
    this.#changed({ isUrgent: false });
  }

  readonly #writes: Writes = (device, tablet) => {
    const own = { device: this.membership.device, tablet: this.#parts.tablet() };
    return this.#writesAs.isWriter({ device, tablet }, { members: this.members, own });
  };

  /** It is known better who writes as whom: what was kept apart may follow after all. */
  #joinAgain(): void {
    void this.#inLine(async () => {
      await this.#parts.database.change((await this.#take?.again()) ?? []);
      this.#isDirty.forks = true;
      await this.#lookAgain();
    }).catch(() => undefined);
  }

  async #isDeleted(caseId: string): Promise<boolean> {
    return (await this.#parts.database.get('offered', tombstoneMark(caseId))) !== undefined;
  }

  #noteWentBack() {
    this.#wentBackAtWallMs = this.#parts.nowWallMs();
    this.#changed({ isUrgent: true });
    return keepOne('went-back-at', this.#wentBackAtWallMs);
  }

  #stateIs(state: SharerState): void {
    const isUrgent = state.line !== this.#state.line;
    this.#state = state;
    // What waited for room in the outbox goes on.
    if (this.#own.isDue) this.#ownTurns.now();
    this.#changed({ isUrgent });
  }

  #changed(o: { readonly isUrgent: boolean }): void {
    this.#parts.onChange(o);
  }

  /** Counts again what may have changed of refused messages and forks. */
  async lookAgain(): Promise<void> {
    await this.#inLine(() => this.#lookAgain()).catch(() => undefined);
  }

  async #lookAgain(): Promise<void> {
    const { database } = this.#parts;
    const { refused, forks } = this.#isDirty;
    // What waits may open by any portion that comes, or wait from it on.
    if (refused || (await waits(database, this.#refused))) {
      this.#refused = await readRefused(database, { isRead: this.#state.isRead });
      this.#isDirty.refused = false;
      this.#changed({ isUrgent: false });
    }
    await this.storeOnly.look(database);
    if (!forks) return;
    const of = { device: this.membership.device, members: this.members, writes: this.#writes };
    this.#forks = await lookForForks({ ...this.#parts, ...of });
    this.#isDirty.forks = false;
  }
}
