/**
 * One window of the app: opens the journal, becomes the writer if nobody else is, and opens,
 * resumes and leaves cases. Screens call its methods and read its store.
 */
import { oneByOne } from '../base/one-by-one.ts';
import { type Problem, problemLine } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import type { Command, Refusal } from '../engine/commands.ts';
import { extend, recordPress } from '../engine/log.ts';
import { journalJson } from '../export/journal-text.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { CaseReading } from '../storage/journal-types.ts';
import { keepHeads, readRecord } from './anchors/anchors.ts';
import type { Fault, Settings } from './app-state.ts';
import { CasesList } from './cases/cases-list.ts';
import { holderOf, writerOf } from './cases/pen-hold.ts';
import { Pens } from './cases/pens.ts';
import { followClosing } from './cases/watch-closing.ts';
import type { Chair } from './chair.ts';
import type { RehearsalSpeed } from './device/clock.ts';
import { drillsOpener } from './drills/drills-open.ts';
import type { Emergencies } from './emergency/emergencies.ts';
import { emergencyOpener } from './emergency/emergency-open.ts';
import { followUpOpener } from './follow-up/follow-up-open.ts';
import type { LeadDesk } from './lead/lead.ts';
import { leadOpener } from './lead/lead-open.ts';
import { ClinicPeople } from './library/clinic-people.ts';
import { furnish, putCaseAway, saveCase, saveSettings } from './library/library.ts';
import { readLists } from './library/read-lists.ts';
import { SettingsOnWay } from './library/settings-on-way.ts';
import { oneAtATime } from './one-at-a-time.ts';
import { lastSeen, readCase, readStanding } from './read-case.ts';
import { caseClock, explainedPlan, type RunningCase, runningCase } from './running-case.ts';
import {
  type CaseOpened,
  type CaseOpening,
  factParts,
  notWriter,
  openingCode,
  type SessionParts,
} from './session-parts.ts';
import { linesOf, sharingOf } from './sharing/sharing-open.ts';
import type { Sharing } from './sharing/sharing-state.ts';
import { Stock } from './stock/stock.ts';
import type { AppStore } from './store.ts';
import { readAlong } from './windows/begin-along.ts';
import type { ReadAlong } from './windows/read-along.ts';

export class Session {
  /** The clinic lead's desk of this window. */
  readonly lead: () => Promise<LeadDesk>;
  /** The emergency cards of this window. */
  readonly emergencies: () => Promise<Emergencies>;
  /** Materials on the shelf, and the readings of the lights. */
  readonly stock: Stock;
  /** Who works at the clinic, on every tablet of it. */
  readonly people: ClinicPeople;
  /** The cases as files: found, exported, backed up, deleted. */
  readonly casesList: CasesList;
  /** Cases that go from one tablet to another. */
  readonly pens: Pens;
  /** Rehearsals in which something goes wrong. */
  readonly drills: ReturnType<typeof drillsOpener>;
  /** What became of the units. */
  readonly followUps: ReturnType<typeof followUpOpener>;
  /** What takes part in the clinic's store; absent where this window has none. */
  readonly sharing?: () => Promise<Sharing>;
  readonly #parts: SessionParts;
  readonly #facts: ReturnType<typeof factParts>;
  #epoch: number | null = null;
  #running: RunningCase | null = null;
  readonly #settingsOnWay = new SettingsOnWay();
  #reading: ReadAlong | null = null;
  #opening: Promise<CaseOpened> | null = null;
  /** Cases are opened one after the other, so that none puts down what another has just opened. */
  readonly #inTurn = oneByOne();

  constructor(parts: SessionParts) {
    this.#parts = parts;
    const { journal, clock, store } = parts;
    const epoch = (): number | null => this.#epoch;
    this.lead = leadOpener(parts, { epoch, onChanged: () => this.refreshLists() });
    this.emergencies = emergencyOpener({ store, journal, clock, epoch, do: (c) => this.do(c) });
    this.#facts = factParts(parts, epoch);
    this.stock = new Stock(this.#facts);
    this.people = new ClinicPeople(this.#facts);
    this.followUps = followUpOpener({ ...this.#facts, store, newId: parts.newId });
    this.casesList = new CasesList({
      journal,
      clock,
      epoch,
      crypto: parts.crypto ?? null,
      ...linesOf(parts, () => this.sharing),
      pen: () => writerOf(parts.store.getState()),
      followUps: () => this.followUps(),
      cache: async () => (await import('../storage/facts-cache.ts')).openFactsCache(),
      onChanged: async () => {
        const desk = await this.lead();
        await Promise.all([this.refreshLists(), this.stock.refresh(), desk.refresh()]);
      },
    });
    const sharing = sharingOf(parts, { epoch, facts: this.#facts, desk: this.lead });
    if (sharing !== null) this.sharing = sharing;
    const host = {
      epoch,
      chair: () => this.#chair,
      run: (o: Parameters<typeof runningCase>[1]) => this.#run(o),
      leave: () => this.leaveCase(),
      endDrill: () => this.#endDrill(),
      inTurn: this.#inTurn,
      refresh: () => this.refreshLists(),
    };
    const resume = (caseId: string) => this.resumeCase(caseId);
    this.pens = new Pens(parts, { ...host, reading: () => this.#reading, resume });
    this.drills = drillsOpener(parts, { ...host, desk: this.lead });
    parts.journal.onStatus((journal) => parts.store.setState({ journal }));
    const refreshSoon = oneAtATime(() => this.refreshLists());
    parts.journal.subscribe((news) => {
      this.#reading?.hear(news);
      if (!this.#chair) refreshSoon();
      void this.pens.hear(news);
    });
    followClosing(this, parts.newId);
  }

  get store(): AppStore {
    return this.#parts.store;
  }

  get #chair(): Chair | null {
    return this.#running?.chair ?? null;
  }

  /** Opens everything. Resolves when the first screen can be drawn. */
  async start(): Promise<void> {
    const { journal, seat, store } = this.#parts;
    const opened = await journal.open();
    if (!opened.ok) this.#fault(opened.error.code, opened.error);
    if (await seat.acquire()) await this.#beginWriting();
    else store.setState({ standing: 'reader' });
    await this.refreshLists();
    store.setState({ phase: 'ready' });
    // Only screens of the desk wait for it; what is not as it was confirmed is logged here.
    const desk = this.lead().catch(() => null);
    void desk.then((opened) => opened?.refresh());
    void this.stock.refresh();
  }

  async #beginWriting(): Promise<void> {
    const { journal, store, shipped, newId } = this.#parts;
    const begun = await journal.startWriting();
    if (!begun.ok) {
      this.#fault(begun.error.code, begun.error);
      store.setState({ standing: 'none' });
      return;
    }
    const { epoch, report } = begun.value;
    this.#epoch = epoch;
    this.#reading?.stop();
    this.#reading = null;
    store.setState({ standing: 'writer', report });
    const { zone } = store.getState().tablet;
    const furnished = await furnish(shipped, { facts: this.#facts, zone, newId });
    if (!furnished.ok) this.#fault(furnished.error.code, furnished.error);
  }

  /** Reads the lists of cases, protocols and settings again. */
  async refreshLists(): Promise<void> {
    this.#parts.store.setState(await readLists(this.#parts, this.#settingsOnWay));
  }

  /** Asks the writing window to let go, or takes its place when it is silent. */
  async becomeWriter(o: { readonly force: boolean }): Promise<'held' | 'refused' | 'silent'> {
    const { seat } = this.#parts;
    const outcome = o.force && (await seat.takeOver()) ? 'held' : await seat.requestHandover();
    if (outcome === 'held') {
      await this.#beginWriting();
      await this.refreshLists();
    }
    return outcome;
  }

  /** Another window asks to write. Granted only while no case runs here. */
  async yieldSeat(): Promise<boolean> {
    if (this.#chair) return false;
    this.#epoch = null;
    await this.#parts.journal.stopWriting();
    this.#parts.store.setState({ standing: 'reader' });
    return true;
  }

  /** Another window took the seat by force: this one was silent too long. It reads from now on. */
  async loseSeat(): Promise<void> {
    this.#running?.stop();
    this.#running = null;
    this.#epoch = null;
    await this.#parts.journal.stopWriting();
    this.#parts.store.setState({ standing: 'reader', running: null });
    await this.refreshLists();
  }

  /**
   * Opens a case from its file. The first person of the case presses until another takes over.
   * A second tap while one is being opened gets the same case, not another one. A patient's case on
   * what the clinic lead has not answered is begun only by people who were told.
   */
  openCase(o: CaseOpening): Promise<CaseOpened> {
    this.#opening ??= this.#inTurn(() => this.#openCase(o)).finally(() => {
      this.#opening = null;
    });
    return this.#opening;
  }

  async #openCase(o: CaseOpening): Promise<CaseOpened> {
    const { journal, clock, newId } = this.#parts;
    const epoch = this.#epoch;
    if (epoch === null) return err(notWriter(this.store.getState()));
    const { keepSpeed } = await openingCode();
    const { decidedOpening } = await import('./cases/decided-opening.ts');
    const decided = await decidedOpening(this.#parts, o, this.#chair);
    if (!decided.ok) return decided;
    if (o.mode === 'patient') await this.#endDrill();
    const caseId = newId();
    const startWallMs = clock.stamp().wallMs;
    const ownClock = caseClock(this.#parts, { speed: o.speed, startWallMs });
    const by = o.spec.people[0]?.id ?? '';
    const batch = recordPress({ log: null, events: decided.value, stamp: ownClock.stamp(), by });
    const stored = await journal.append({ caseId, epoch, recorded: batch });
    if (!stored.ok) return err(stored.error);
    // A case that was left standing in this window keeps its clocks, but no longer draws here.
    this.leaveCase();
    const { entries } = stored.value;
    this.#run({ caseId, log: extend(null, batch), by, clock: ownClock, epoch, stored: entries });
    if (o.speed > 1) await keepSpeed(journal, { caseId, speed: o.speed, epoch });
    return ok(caseId);
  }

  /** Takes a case up again where it was. The dead time in between becomes a gap. */
  resumeCase(caseId: string): Promise<Result<null, Problem>> {
    return this.#inTurn(() => this.#resumeCase(caseId));
  }

  async #resumeCase(caseId: string): Promise<Result<null, Problem>> {
    if (this.#chair?.caseId === caseId) return ok(null);
    const { journal } = this.#parts;
    const epoch = this.#epoch;
    const { tablet } = this.store.getState().settings;
    const read = await readStanding(journal, { caseId, epoch, tablet });
    if (!read.ok) return read;
    const { log, reading, isElsewhere } = read.value;
    const device = isElsewhere ? holderOf(this.store.getState(), log) : undefined;
    if (epoch === null) return this.#readAlong(reading, device);
    const { inTheWay, readSpeed } = await openingCode();
    const runs = await inTheWay(journal, { chair: this.#chair, log, tablet });
    if (runs !== null) return err(runs);
    if (log.state.opened.mode === 'patient') await this.#endDrill();
    if (device !== undefined) return this.#readAlong(reading, device);
    this.leaveCase();
    const before = await lastSeen(journal, { caseId, log });
    const speed = log.state.opened.mode === 'rehearsal' ? await readSpeed(journal, caseId) : 1;
    // A fast rehearsal stands still while nobody watches, and goes on from where it was last seen.
    const startWallMs = speed > 1 ? before.wallMs : this.#parts.clock.stamp().wallMs;
    const clock = caseClock(this.#parts, { speed, startWallMs });
    const by = log.records.findLast((r) => r.by !== null)?.by ?? '';
    const chair = this.#run({ caseId, log, by, clock, epoch, stored: reading.entries });
    if (!log.state.closed) chair.noteGap({ before, after: clock.stamp(), cause: 'closed' });
    return ok(null);
  }

  /** A drill never stands beside a patient's case: it is ended first, and that is said. */
  async #endDrill(): Promise<void> {
    const chair = this.#chair;
    if (!chair?.log.state.opened.drill) return;
    const ended = await this.drills()
      .then((drills) => drills.end())
      .catch(() => null);
    this.store.setState({ drillEnded: { caseId: chair.caseId, isKept: ended?.ok === true } });
  }

  /**
   * Nobody looks at the chair any more. An open case runs on in this window: its clocks, sounds and words;
   * one that is closed, or only read along, is put down.
   */
  leaveChair(): void {
    if (this.#chair?.log.state.closed === null) void this.refreshLists();
    else this.leaveCase();
  }

  /** Puts the case down: nobody watches its clocks from now on. */
  leaveCase(): void {
    this.#running?.stop();
    this.#reading?.stop();
    this.#running = null;
    this.#reading = null;
    this.#parts.pictures?.rest();
    this.#parts.store.setState({ running: null });
    void this.refreshLists();
    void keepHeads(this.#parts, this.#epoch);
  }

  do(command: Command): Refusal | null {
    return this.#chair?.do(command) ?? null;
  }

  /** The running case as this page holds it, as a journal file; null when none runs here. */
  readonly heldCase = (): string | null => this.#chair && journalJson(this.#chair);

  pressNext(): Refusal | null {
    return this.#chair?.pressNext() ?? null;
  }

  /** What is typed for a step of the running case; null when the field is empty. */
  readonly keepTyped: Chair['keepTyped'] = (typed) => this.#chair?.keepTyped(typed);
  /** What is ticked or answered on a line of the list in hand. */
  readonly keepLine: Chair['keepLine'] = (line, draft) => this.#chair?.keepLine(line, draft);
  /** Unticks a place of the pass of light, or ticks it again. */
  readonly turnPlace: Chair['turnPlace'] = (id) => this.#chair?.turnPlace(id);
  readonly setBy: Chair['setBy'] = (person) => this.#chair?.setBy(person);

  /** Changes how fast a rehearsal runs; a patient's case and a drill always run at 1. */
  setSpeed(speed: RehearsalSpeed): void {
    const opened = this.#chair?.log.state.opened;
    if (!this.#running || opened?.mode === 'patient' || opened?.drill) return;
    this.#running.clock.setSpeed(speed);
    const kept = { caseId: this.#running.chair.caseId, speed, epoch: this.#epoch };
    void openingCode().then(({ keepSpeed }) => keepSpeed(this.#parts.journal, kept));
    this.#running.chair.refresh();
  }

  /** Reads a case without running it. */
  readonly readCase = (caseId: string) => readCase(this.#parts.journal, caseId);
  /** The same with what is known of how long it was. */
  readonly readRecord = (caseId: string) => readRecord(this.#parts, caseId);

  /** How each number of the plan came about that the running case was opened with. */
  readonly explainPlan = () => explainedPlan(this.#parts, this.#chair);

  readonly saveCase = (spec: CaseFile, over?: CaseFile) =>
    this.#keep(() => saveCase(this.#facts, spec, over));
  readonly deletePrepared = (id: string) => this.#keep(() => putCaseAway(this.#facts, id));

  /** People have seen what is missing. The cases themselves go on telling it. */
  async noteDamage(): Promise<void> {
    await this.#parts.journal.damage.note();
    await this.refreshLists();
  }

  async saveSettings(settings: Settings): Promise<Result<null, Problem>> {
    this.#settingsOnWay.typed();
    this.#parts.store.setState({ settings });
    return this.#keep((epoch) =>
      this.#settingsOnWay.writing(() => saveSettings(this.#parts.journal, settings, epoch)),
    );
  }

  async #keep(
    write: (epoch: number) => Promise<Result<unknown, Problem>>,
  ): Promise<Result<null, Problem>> {
    if (this.#epoch === null) return err(notWriter(this.store.getState()));
    const kept = await write(this.#epoch);
    if (!kept.ok) return kept;
    await this.refreshLists();
    return ok(null);
  }

  #run(o: Parameters<typeof runningCase>[1]): Chair {
    this.#running = runningCase(this.#parts, o);
    this.#running.start();
    return this.#running.chair;
  }

  /**
   * Follows a case that another tablet of the clinic runs, as far as its entries are here. Nothing while a
   * case runs here. Errors: those of the journal, `no-such-case`.
   */
  async follow(o: {
    readonly device: string;
    readonly caseId: string;
  }): Promise<Result<null, Problem>> {
    const read = await readCase(this.#parts.journal, o.caseId);
    if (!read.ok) return read;
    return this.#chair ? ok(null) : this.#readAlong(read.value.reading, o.device);
  }

  /** @param device of the tablet that writes the case; absent where another window of this one does. */
  #readAlong(reading: CaseReading, device?: string): Result<null, Problem> {
    this.leaveCase();
    this.#reading = readAlong(this.#parts, { reading, device: device ?? null });
    return ok(null);
  }

  #fault(code: Extract<Fault, { kind: 'journal' }>['code'], problem: Problem): void {
    this.#parts.store.setState({ fault: { kind: 'journal', code, line: problemLine(problem) } });
  }
}
