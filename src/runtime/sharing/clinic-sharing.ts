/** What a tablet does of its clinic's store: takes part, is let in, lets in and puts out, and tells how it stands. */

import { createStore } from 'zustand/vanilla';
import { oneByOne } from '../../base/one-by-one.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { TabletKeys } from '../../storage/signatures.ts';
import { boxFromText, boxText, openBox, sealBox } from '../../sync/box.ts';
import { type Joined, joinedByBox, newBox, type OwnKeys } from '../../sync/founding.ts';
import { signStatement } from '../../sync/members.ts';
import type { Founding } from '../../sync/pair-messages.ts';
import type { JoinPairing } from '../../sync/pairing.ts';
import { rootKeys } from '../../sync/root-key.ts';
import { planPutOut } from '../../sync/rotation.ts';
import type { LeadBox, SignedStatement } from '../../sync/sealed-types.ts';
import { openSharingDatabase, type SharingDatabase } from '../../sync/sharing-database.ts';
import { STREAMS } from '../../sync/store-types.ts';
import { tabletKeys } from '../anchors/heads.ts';
import { listFacts } from '../facts/fact.ts';
import { setIfChanged } from '../readable.ts';
import { readBox, sayBox, sayPrinted } from './box-facts.ts';
import { type Conflict, forkConflicts } from './conflicts.ts';
import type { Engine } from './engine.ts';
import { dropMembership, keepMembership, readMembership, usedDevices } from './kept-membership.ts';
import { NO_LINE, opens, ownKeys, runInvite, runJoin } from './pairing-runs.ts';
import { readConflicts } from './read-conflicts.ts';
import { RunningEngine } from './running-engine.ts';
import { sayStatements } from './say-statements.ts';
import type { SharingParts } from './sharing-parts.ts';
import { NOT_SHARING, type Pairing, type Sharing, type SharingState } from './sharing-state.ts';
import { StoreOnlyLines } from './store-only-lines.ts';
import { browserStore, type Erased, type StorePlatform } from './store-platform.ts';

type Done<T = null> = Promise<Result<T, Problem>>;

const refused = (code: string, expected: string): { ok: false; error: Problem } =>
  err(problem('sharing', expected, 'not so', code));

export class ClinicSharing implements Sharing {
  readonly #parts: SharingParts;
  readonly #platform: StorePlatform;
  readonly #database: SharingDatabase;
  readonly #storeOnlyLines: StoreOnlyLines;
  readonly #state = createStore<SharingState>(() => NOT_SHARING);
  /** The part that goes on; null while this window does not write, or the tablet takes no part. */
  #running: RunningEngine | null = null;
  #founding: {
    readonly founding: Founding;
    readonly end: JoinPairing;
    readonly own: OwnKeys;
  } | null = null;
  readonly #inTurn = oneByOne();

  constructor(parts: SharingParts) {
    this.#parts = parts;
    this.#platform = parts.platform ?? browserStore(parts.origin);
    this.#database = openSharingDatabase(parts.databaseName);
    this.#storeOnlyLines = new StoreOnlyLines(this.#database);
    this.#state.subscribe((sharing) => parts.store.setState({ sharing }));
  }

  get state() {
    return this.#state;
  }

  /** Goes on where this tablet took part. */
  async begin(): Promise<this> {
    await this.turned();
    return this;
  }

  /** This window writes from now on, or no more: only the one that writes shares. */
  turned(): Promise<void> {
    return this.#inTurn(() => this.#turned());
  }

  async #turned(): Promise<void> {
    await this.#rest();
    const kept = await readMembership(this.#database);
    this.#parts.mark.set(kept !== null);
    if (kept === null) return this.#show(NOT_SHARING);
    const keys = await this.#keys();
    if (keys === null) return this.#show({ ...NOT_SHARING, problem: 'no-keys' });
    const running = new RunningEngine({
      ...this.#parts,
      platform: this.#platform,
      database: this.#database,
      keys,
      kept,
      onState: (state) => this.#show(state),
    });
    this.#running = running;
    await running.start();
  }

  async #rest(): Promise<void> {
    const running = this.#running;
    this.#running = null;
    await running?.stop();
  }

  #show(state: SharingState): void {
    setIfChanged(this.#state, state);
  }

  #keys(): Promise<TabletKeys | null> {
    return this.#parts.keys?.() ?? tabletKeys(this.#parts.crypto);
  }

  get #run() {
    const { crypto, timers, clock } = this.#parts;
    const nowWallMs = (): number => clock.stamp().wallMs;
    return { crypto, timers, nowWallMs, platform: this.#platform, keys: () => this.#keys() };
  }

  /**
   * A tablet that belonged to a clinic before comes as another one: also where it has lost what it was there, and
   * its records alone say so. Its keys are others then, and nobody would believe what they sign in its old name.
   */
  async #newOwn(name: string): Promise<Result<OwnKeys, Problem>> {
    const { store, newId, journal } = this.#parts;
    const { tablet } = store.getState().settings;
    const [used, said] = await Promise.all([
      usedDevices(this.#database),
      listFacts(journal, 'tablet'),
    ]);
    const isSaid = !said.ok || said.value.facts.some(({ item }) => item === tablet);
    const isUsed = tablet === '' || used.includes(tablet) || isSaid;
    const device = isUsed ? newId() : tablet;
    const own = await ownKeys(this.#run, { device, name: name.trim() });
    return own === null ? refused('no-keys', 'a browser that makes keys') : ok(own);
  }

  #whyNotAlone(): { ok: false; error: Problem } | null {
    if (this.#parts.epoch() === null) return refused('not-writer', 'the window that writes');
    return this.#running === null ? null : refused('already-paired', 'a tablet that is alone');
  }

  async join({ code, name }: Parameters<Sharing['join']>[0]): Done<Pairing> {
    const against = this.#whyNotAlone();
    if (against !== null) return against;
    if (name.trim() === '') return refused('name-missing', 'a name for this tablet');
    const own = await this.#newOwn(name);
    if (!own.ok) return own;
    return runJoin(this.#run, {
      code,
      own: own.value,
      onJoined: (joined) => this.#takePart(joined),
      onFounding: (founding, end) => {
        this.#founding = { founding, end, own: own.value };
      },
    });
  }

  async #takePart(joined: Joined): Promise<void> {
    await keepMembership(this.#database, joined);
    this.#parts.mark.set(true);
    await this.turned();
  }

  async found({ passphrase }: Parameters<Sharing['found']>[0]): Done {
    const given = this.#founding;
    if (given === null) return refused('not-first', 'a code of a clinic that nobody founded');
    const { crypto } = this.#parts;
    const first = await this.#isFirst(given);
    if (!first.ok) return first;
    const box = newBox(crypto, given.founding);
    const said = await this.#sayBox(box, passphrase);
    if (!said.ok) return said;
    const joined = await this.#joinByBox({ box, own: given.own, isDemo: given.founding.isDemo });
    this.#founding = null;
    await given.end.finish();
    return joined;
  }

  /** The terminal may have given the keys to another tablet since, which has founded the clinic. */
  async #isFirst({ founding, own }: { readonly founding: Founding; readonly own: OwnKeys }): Done {
    const { user, seed } = own.user;
    const jwt = await this.#platform.jwtFor(founding.seeds, { user, device: own.device });
    const store = await this.#platform.open({ login: { jwt, seed }, name: own.device });
    try {
      if (!(await opens(store, this.#parts))) return NO_LINE;
      const last = await store.last('F');
      if (!last.ok) return last;
      return last.value === null ? ok(null) : refused('not-first', 'a store that nobody founded');
    } finally {
      await store.close();
    }
  }

  async #sayBox(box: LeadBox, passphrase: string): ReturnType<typeof sayBox> {
    const { crypto, facts } = this.#parts;
    return sayBox(facts, { site: box.site, box: await sealBox(crypto, { box, passphrase }) });
  }

  /** The box of the clinic that this tablet belongs to; while it is alone, any that it has. */
  #box(): ReturnType<typeof readBox> {
    return readBox(this.#parts.journal, this.#running?.site ?? null);
  }

  async #joinByBox(o: {
    readonly box: LeadBox;
    readonly own: OwnKeys;
    readonly isDemo: boolean;
  }): Done {
    const { jwtFor } = this.#platform;
    const nowWallMs = this.#run.nowWallMs();
    const joined = await joinedByBox(this.#parts.crypto, { ...o, nowWallMs, jwtFor });
    await this.#takePart(joined);
    return this.#publish(joined.statements);
  }

  async #publish(statements: readonly SignedStatement[]): Done {
    const said = await sayStatements(this.#parts.facts, statements);
    this.#running?.engine?.learn(statements);
    return said;
  }

  async #opened(passphrase: string): Done<{ readonly box: LeadBox; readonly engine: Engine }> {
    if (this.#running === null) return refused('not-paired', 'a tablet that takes part');
    const { engine } = this.#running;
    if (engine === null) return refused('not-writer', 'the window that writes');
    const kept = await this.#box();
    if (kept === null) return refused('no-box', "the lead's box on this tablet");
    const box = await openBox(this.#parts.crypto, { sealed: kept.sealed, passphrase });
    if (!box.ok) return box;
    const isOpen = engine.state.line === 'open';
    return isOpen
      ? ok({ box: box.value, engine })
      : refused('not-connected', 'a line to the store');
  }

  async invite({ passphrase }: Parameters<Sharing['invite']>[0]): Done<Pairing> {
    const opened = await this.#opened(passphrase);
    if (!opened.ok) return opened;
    const { box, engine } = opened.value;
    return runInvite(this.#run, {
      box,
      statements: () => engine.statements,
      isDemo: engine.membership.isDemo,
      // What cannot be kept here is said by the tablet itself.
      onLetIn: async (statement) => void (await this.#publish([statement])),
    });
  }

  async putOut({ device, reason, passphrase }: Parameters<Sharing['putOut']>[0]): Done {
    const opened = await this.#opened(passphrase);
    if (!opened.ok) return opened;
    const { box, engine } = opened.value;
    if (device === engine.membership.device) return refused('own-tablet', 'another tablet');
    const after = { J: 0, F: 0, K: 0 };
    for (const stream of STREAMS) {
      const last = await engine.store.last(stream);
      if (!last.ok) return last;
      after[stream] = last.value?.seq ?? 0;
    }
    const plan = await planPutOut(engine.sealer, {
      box,
      statements: engine.statements,
      device,
      reason,
      nowWallMs: this.#run.nowWallMs(),
      after,
      caseKeys: await engine.caseKeys.kept(),
    });
    const { site } = engine.membership;
    const shut = await this.#platform.shutOut(box, { site, users: plan.shutOut });
    if (!shut.ok) return shut;
    // A secret that is in no box must not be handed out: the box first.
    const said = await this.#sayBox(plan.box, passphrase);
    if (!said.ok) return said;
    // The statement last: as long as it is not said the tablet can be put out once more.
    const isTurned = await engine.turnKeys(plan).then(
      () => true,
      () => false,
    );
    if (!isTurned) return refused('not-kept', 'room for the new keys');
    return this.#publish([plan.statement]);
  }

  async rename({ device, name, passphrase }: Parameters<Sharing['rename']>[0]): Done {
    if (name.trim() === '') return refused('name-missing', 'a name for the tablet');
    const opened = await this.#opened(passphrase);
    if (!opened.ok) return opened;
    const { box } = opened.value;
    const { crypto } = this.#parts;
    const root = await rootKeys(crypto, box.rootSeed);
    const atWallMs = this.#run.nowWallMs();
    const statement = { type: 'renamed', device, name: name.trim(), atWallMs } as const;
    return this.#publish([await signStatement(crypto, { site: box.site, root, statement })]);
  }

  async eraseDeleted({ passphrase }: Parameters<Sharing['eraseDeleted']>[0]): Done<Erased> {
    const opened = await this.#opened(passphrase);
    if (!opened.ok) return opened;
    const { journal } = this.#parts;
    const { eraseDeleted } = await import('./erase.ts');
    return eraseDeleted({ box: opened.value.box, journal, platform: this.#platform });
  }

  async boxText(): Promise<string | null> {
    const kept = await this.#box();
    return kept === null ? null : boxText(kept.sealed);
  }

  async boxPrinted(): Done {
    const kept = await this.#box();
    if (kept === null) return refused('no-box', "the lead's box on this tablet");
    const said = await sayPrinted(this.#parts.facts, {
      site: this.#running?.site ?? null,
      of: kept.id,
    });
    return said.ok ? ok(null) : said;
  }

  async recover({ boxText: typed, passphrase, name }: Parameters<Sharing['recover']>[0]): Done {
    const against = this.#whyNotAlone();
    if (against !== null) return against;
    if (name.trim() === '') return refused('name-missing', 'a name for this tablet');
    const { journal, facts } = this.#parts;
    const door = await this.#platform.door();
    const ofSite = door && (await readBox(journal, door.site));
    const kept = ofSite ?? (await readBox(journal, null));
    const sealed = typed === null ? kept && ok(kept.sealed) : boxFromText(typed);
    if (sealed === null) return refused('no-box', "the lead's box on this tablet");
    if (!sealed.ok) return sealed;
    const box = await openBox(this.#parts.crypto, { sealed: sealed.value, passphrase });
    if (!box.ok) return box;
    if (door === null) return refused('no-store', 'a store at this address');
    const own = await this.#newOwn(name);
    if (!own.ok) return own;
    if (door.site !== box.value.site)
      return refused('other-clinic', "the box of this store's clinic");
    if (ofSite?.sealed.sealed !== sealed.value.sealed) {
      const said = await sayBox(facts, { site: door.site, box: sealed.value });
      if (!said.ok) return said;
    }
    return this.#joinByBox({ box: box.value, own: own.value, isDemo: door.isDemo });
  }

  leave(): Promise<void> {
    return this.#inTurn(async () => {
      await this.#rest();
      await dropMembership(this.#database);
      this.#parts.mark.set(false);
      this.#show(NOT_SHARING);
    });
  }

  async conflicts(): Done<readonly Conflict[]> {
    const read = await readConflicts(this.#parts.journal);
    return read.ok
      ? ok([...read.value, ...forkConflicts(this.#running?.engine?.forks ?? [])])
      : read;
  }

  storeOnly(): ReturnType<Sharing['storeOnly']> {
    const revision = this.#running?.engine?.storeOnly.state.revision ?? 0;
    return this.#storeOnlyLines.read(revision);
  }

  async bringHere({ caseId, onProgress }: Parameters<Sharing['bringHere']>[0]): Done {
    if (this.#running === null) return refused('not-paired', 'a tablet that takes part');
    const { engine } = this.#running;
    if (engine === null) return refused('not-writer', 'the window that writes');
    const brought = await engine.bringHere(caseId, onProgress).catch(() => err('not-kept'));
    return brought.ok ? ok(null) : refused(brought.error, 'the entries of the case');
  }

  now(): void {
    this.#running?.engine?.now();
  }
}
