/**
 * One episode: two tablets, the people at them, and everything that goes wrong, on one line of
 * simulated time. After each step what must hold is looked at.
 */
import type { Refusal } from '../../src/engine/commands.ts';
import type { CaseLog } from '../../src/engine/log.ts';
import type { View } from '../../src/engine/view-types.ts';
import type { AppendBatch, JournalEntry } from '../../src/storage/journal-types.ts';
import { parseEntry } from '../../src/storage/parse-stored.ts';
import { ClinicWorld } from './clinic-world.ts';
import { Dice } from './dice.ts';
import { Faults } from './faults.ts';
import { installPlatform } from './globals.ts';
import {
  Broken,
  checkAlarms,
  checkClocks,
  checkElapsed,
  checkExport,
  checkOld,
  checkReading,
  checkReplay,
  checkSaved,
  checkSound,
  checkStored,
  checkUndo,
  undoable,
} from './invariants.ts';
import { Loop } from './loop.ts';
import { OLD_JOURNALS } from './old-journals.ts';
import { Page, type PageNews } from './page.ts';
import { People } from './people.ts';
import { Shelves } from './shelf.ts';
import type { Spoil } from './spoil.ts';
import { Tablet } from './tablet.ts';
import { type Standing, standingAfter, Truth } from './truth.ts';

/** What was seen and done in a run. */
export interface Tally {
  presses: number;
  refused: number;
  pictures: number;
  kills: number;
  cases: number;
  entries: number;
  /** Minutes of simulated time in which somebody pressed, on either tablet. */
  minutes: number;
  readonly faults: Record<string, number>;
}

export const emptyTally = (): Tally => ({
  presses: 0,
  refused: 0,
  pictures: 0,
  kills: 0,
  cases: 0,
  entries: 0,
  minutes: 0,
  faults: {},
});

export interface WorldOptions {
  readonly seed: number;
  readonly hours: number;
  /** Stops after so many steps. */
  readonly steps?: number;
  /** How much of what happened is told with a failure. */
  readonly story?: number;
  /** Breaks a promise on purpose. */
  readonly spoil?: Spoil;
  /** Three tablets that share over one store, instead of two that do not. */
  readonly isClinic?: boolean;
}

/** Of how long an episode's last part people no longer press. */
const QUIET_MS = 60_000;
/** A page that was held up has had the time to look around. */
const AWAKE_MS = 2000;
/** What the app notes by itself. */
const OWN_NOTES: ReadonlySet<string> = new Set(['gap-found', 'tones-heard']);
/** What people do with more than one touch, so that it is stored a while after the last. */
const ASKED_FOR: ReadonlySet<string> = new Set(['case-opened', 'pen-given', 'pen-taken']);

interface Held {
  /** The log for which `standing` was worked out. */
  log: CaseLog | null;
  standing: Standing | null;
  /** How much was done, after how many presses of people. */
  done: { readonly pressed: number; readonly done: number; readonly total: number } | null;
}

export class World implements PageNews {
  readonly loop = new Loop();
  readonly truth = new Truth();
  readonly tally = emptyTally();
  readonly tablets: readonly Tablet[];
  readonly faults: Faults;
  readonly shelves: Shelves;
  /** What the tablets share over; null where each is alone. */
  readonly clinic: ClinicWorld | null;
  readonly #people: readonly People[];
  broken: Broken | null = null;
  isOver = false;
  readonly #options: WorldOptions;
  readonly #front = new Map<Tablet, Page>();
  readonly #pages = new Set<Page>();
  readonly #held = new WeakMap<Page, Held>();
  readonly #homes = new Map<string, Tablet>();
  readonly #exports = new Map<string, string>();
  readonly #epochs = new Map<string, string>();
  readonly #minutes = new Set<string>();
  readonly #newestEpoch = new Map<Tablet, number>();
  #actor: Page | null = null;
  #pageCount = 0;

  constructor(options: WorldOptions) {
    this.#options = options;
    const dice = new Dice(options.seed);
    const { isClinic = false } = options;
    this.tablets = (isClinic ? ['A', 'B', 'C'] : ['A', 'B']).map(
      (name) => new Tablet({ name, loop: this.loop, dice: dice.branch() }),
    );
    this.faults = new Faults(this, dice.branch());
    this.shelves = new Shelves(dice.branch(), {
      mayDiffer: isClinic,
      isTaken: (from) => this.clinic?.clinic.outTablet?.name !== from,
    });
    this.#people = this.tablets.map((tablet) => new People(this, tablet, dice.branch()));
    installPlatform(this.loop, dice.branch());
    const spoil = options.spoil?.clinic ?? {};
    this.clinic = isClinic ? new ClinicWorld(this, { dice: dice.branch(), spoil }) : null;
    this.loop.onStep = () => this.#afterStep();
  }

  /** Minutes of simulated time in which somebody pressed. */
  get minutesWorked(): number {
    return this.#minutes.size;
  }

  /** Runs the episode. Rejects with what was broken, if anything was. */
  async run(): Promise<void> {
    const endMs = this.#options.hours * 3_600_000;
    await this.#begin();
    this.faults.start();
    this.clinic?.faults.start();
    await this.#runTo(endMs);
    this.isOver = true;
    this.faults.stop();
    this.clinic?.faults.stop();
    const heldMs = [...this.#pages, ...this.tablets].map((owner) => owner.heldUntilMs);
    await this.#runTo(Math.max(endMs, ...heldMs) + QUIET_MS);
    await this.clinic?.converge({ isLast: false });
    await this.#end();
  }

  async #begin(): Promise<void> {
    if (this.clinic === null) for (const tablet of this.tablets) this.open(tablet);
    else await this.clinic.begin();
    for (const people of this.#people) people.start();
    for (const tablet of this.tablets) this.inspectIn(tablet, 4000);
  }

  async #runTo(untilMs: number): Promise<void> {
    while (await this.loop.step(untilMs)) {
      if (this.broken !== null) throw this.broken;
      if (this.loop.steps >= (this.#options.steps ?? Number.POSITIVE_INFINITY)) return;
    }
    this.loop.nowMs = Math.max(this.loop.nowMs, untilMs);
  }

  /** The last things that happened, for whoever looks into a failure. */
  readonly story: string[] = [];

  tell(what: string): void {
    this.story.push(`${Math.round(this.loop.nowMs)} ${what}`);
    if (this.story.length > (this.#options.story ?? 40)) this.story.shift();
  }

  /** Opens another window on a tablet and brings it to the front. */
  open(tablet: Tablet): Page {
    this.#pageCount += 1;
    const name = `${tablet.name}${this.#pageCount}`;
    const { spoil } = this.#options;
    const page = this.loop.as(
      tablet,
      () =>
        new Page({
          tablet,
          name,
          news: this,
          spoil,
          sharing: this.clinic?.clinic.sharing,
        }),
    );
    this.#pages.add(page);
    this.#front.set(tablet, page);
    this.tell(`${name} opened`);
    page.start();
    return page;
  }

  /** The page that people of a tablet look at, once it can be used. */
  inFront(tablet: Tablet): Page | null {
    const page = this.#front.get(tablet);
    return page === undefined || page.isDead || !page.isReady ? null : page;
  }

  /** People turn to the window that writes, where there is one. */
  turnTo(tablet: Tablet): void {
    const writer = this.pagesOf(tablet).find(
      (page) => page.session.store.getState().standing === 'writer',
    );
    if (writer !== undefined) this.#front.set(tablet, writer);
  }

  pagesOf(tablet: Tablet): readonly Page[] {
    return [...this.#pages].filter((page) => page.tablet === tablet && !page.isDead);
  }

  isOf(tablet: Tablet, caseId: string): boolean {
    return this.#homes.get(caseId) === tablet;
  }

  /** Nobody goes on with a case until somebody takes it. */
  givenUp(caseId: string): void {
    this.#homes.delete(caseId);
  }

  takenBy(tablet: Tablet, caseId: string): void {
    this.#homes.set(caseId, tablet);
  }

  opened(tablet: Tablet, caseId: string): void {
    this.#homes.set(caseId, tablet);
    this.tally.cases += 1;
  }

  kill(page: Page, o: { readonly commits: boolean }): void {
    const { running } = page.session.store.getState();
    this.#guard(() => {
      if (running && !running.isViewOnly)
        checkReplay(this.#options.spoil?.log?.(running.log) ?? running.log);
    });
    page.kill(o);
    this.clinic?.clinic.network.gone(page);
    this.tell(`${page.name} killed`);
    this.tally.kills += 1;
    this.#pages.delete(page);
  }

  /** People press now: whatever the page records meanwhile is theirs. True when it was refused. */
  acting(page: Page, act: () => Refusal | null): boolean {
    const before = page.session.store.getState().running;
    page.touch();
    this.#actor = page;
    const no = page.do(act);
    this.#actor = null;
    this.tally.presses += 1;
    this.#minutes.add(`${Math.floor(this.loop.nowMs / 60_000)}`);
    if (no !== null) this.tally.refused += 1;
    if (before) this.faults.afterPress(page);
    return no !== null;
  }

  /** How much longer it truly was than is known for certain, when one gap alone is open. */
  unknownMs(log: CaseLog, view: View): number | null {
    const open = log.state.gaps.filter((g) => !g.settled && g.hiMs > 0);
    const [first] = log.records;
    const [gap] = open;
    const page = [...this.#pages].find((p) => p.session.store.getState().running?.log === log);
    const isFast = page?.session.store.getState().running?.speed !== 1;
    if (open.length !== 1 || !first || !gap || !page || isFast) return null;
    const caseId = page.session.store.getState().running?.caseId ?? '';
    const openedMs = this.truth.pressedAtMs(caseId, first);
    if (openedMs === undefined) return null;
    const drawnMs = this.#drawnAtMs.get(page) ?? this.loop.nowMs;
    const missing = Math.round(drawnMs - openedMs - view.at.loMs);
    return Math.max(gap.loMs, Math.min(gap.hiMs, missing));
  }

  readonly #drawnAtMs = new WeakMap<Page, number>();

  appending(page: Page, batch: AppendBatch): void {
    const { caseId, recorded } = batch;
    this.clinic?.asked(page, batch);
    this.#guard(() => {
      for (const entry of recorded) {
        const { press, by, event } = entry;
        // What was refused is written again, later.
        const isAgain = this.truth.pressedAtMs(caseId, entry) !== undefined;
        this.truth.pressed(caseId, entry, this.#caseNowMs(page, caseId));
        if (!isAgain)
          this.tell(`${page.name} ${caseId} ${press} ${JSON.stringify(event).slice(0, 240)}`);
        const isPressed = this.#actor === page || isAgain || ASKED_FOR.has(event.type);
        if (event.type === 'gap-found' && event.cause === 'closed' && !isAgain) {
          const byMs = this.#wentBackMs(page.tablet, caseId);
          this.#hiddenMs.set(caseId, (this.#hiddenMs.get(caseId) ?? 0) + byMs);
        }
        if (by === null && !OWN_NOTES.has(event.type)) {
          throw new Broken('I8', `${event.type} was noted by nobody`);
        }
        if (by !== null && !isPressed) {
          throw new Broken('I8', `${event.type} counts, and nobody pressed`);
        }
      }
    });
  }

  /**
   * A case that was put down, and taken up again when the wall clock had gone back meanwhile by less
   * than it lay: two clocks cannot tell that from a shorter time, and nothing else was watched.
   */
  #wentBackMs(tablet: Tablet, caseId: string): number {
    const seenMs = this.#seenAtMs.get(caseId) ?? 0;
    return tablet.setBack.reduce((sum, s) => (s.atMs > seenMs ? sum + s.byMs : sum), 0);
  }

  /**
   * What time it is in a case: true time, and in a fast rehearsal as much more as it is fast. Not a number once
   * such a one was taken up again: it goes on from where it was last seen, which nobody saw.
   */
  #caseNowMs(page: Page, caseId: string): number {
    const { running } = page.session.store.getState();
    const speed = running?.caseId === caseId ? running.speed : 1;
    if (speed === 1) return this.loop.nowMs;
    const begun = this.#fast.get(caseId) ?? { page, atMs: page.realNowMs() };
    this.#fast.set(caseId, begun);
    return begun.page === page ? (page.realNowMs() - begun.atMs) * speed : Number.NaN;
  }

  readonly #fast = new Map<string, { readonly page: Page; readonly atMs: number }>();
  readonly #seenAtMs = new Map<string, number>();
  readonly #hiddenMs = new Map<string, number>();

  read(page: Page, entries: readonly JournalEntry[]): void {
    this.truth.keep(page.tablet.name, entries);
    const last = entries.at(-1);
    if (last !== undefined) this.tell(`${page.name} reads ${last.caseId} up to ${last.seq}`);
  }

  adopted(page: Page, entries: readonly unknown[]): void {
    this.truth.keep(
      page.tablet.name,
      entries.flatMap((entry) => parseEntry(entry) ?? []),
    );
  }

  acknowledged(page: Page, entries: readonly JournalEntry[], batch: AppendBatch): void {
    this.#guard(() => {
      checkStored(batch.recorded, entries);
      this.tell(`${page.name} has ${entries.map(({ seq }) => seq).join(' ')} of ${batch.caseId}`);
      const { tablet, name } = page;
      this.truth.keep(tablet.name, entries);
      this.tally.entries += entries.length;
      this.clinic?.kept(page, batch, entries);
      for (const { epoch, caseId, seq } of entries) {
        const key = `${tablet.name}#${epoch}`;
        const writer = this.#epochs.get(key) ?? name;
        this.#epochs.set(key, writer);
        if (writer !== name) {
          throw new Broken('I7', `${writer} and ${name} both write with epoch ${epoch}`);
        }
        const newest = this.#newestEpoch.get(tablet) ?? 0;
        if (epoch < newest) {
          throw new Broken('I7', `${name} stored entry ${seq} of ${caseId} after epoch ${newest}`);
        }
        this.#newestEpoch.set(tablet, epoch);
      }
    });
  }

  drawn(page: Page): void {
    this.clinic?.clinic.heed(page);
    const { running: shown, journal } = page.session.store.getState();
    if (shown === null || shown.isViewOnly) return;
    const running = this.#options.spoil?.picture?.(shown, page) ?? shown;
    this.tally.pictures += 1;
    this.#drawnAtMs.set(page, this.loop.nowMs);
    this.#guard(() => {
      const { log, view, caseId, pending, unsaved } = running;
      this.#checkSound(page);
      const held = this.#heldOf(page);
      this.#checkDone(held, running.log, view);
      const kept = this.truth.casesOf(page.tablet.name).get(caseId) ?? [];
      if (journal.saved && journal.queued === 0 && pending === 0 && unsaved === 0) {
        checkSaved(log, kept);
      }
      if (log.state.closed !== null) return;
      if (held.log !== log || held.standing === null) {
        held.standing = standingAfter(this.truth, caseId, log.records);
        this.#checkUndone(page, held.log, log);
        held.log = log;
      }
      let hiddenMs = this.#hiddenMs.get(caseId) ?? 0;
      if (running.now.runId === log.state.anchor.stamp.runId) {
        this.#seenAtMs.set(caseId, this.loop.nowMs);
      } else hiddenMs += this.#wentBackMs(page.tablet, caseId);
      const nowMs = this.#caseNowMs(page, caseId);
      checkClocks(running, held.standing);
      if (Number.isNaN(nowMs)) return;
      checkElapsed(running, held.standing, { nowMs, hiddenMs });
      checkAlarms(view, held.standing, nowMs);
    });
  }

  #checkSound(page: Page): void {
    const { stalledSinceMs } = page.loudspeaker;
    const told = page.sound.status.getState().state;
    const isAwake = page.heldUntilMs + AWAKE_MS < this.loop.nowMs;
    if (stalledSinceMs === null || !isAwake) return;
    const stalledMs = page.realNowMs() - stalledSinceMs;
    checkSound({ state: this.#options.spoil?.sound?.(told) ?? told, stalledMs });
  }

  #heldOf(page: Page): Held {
    const held = this.#held.get(page) ?? { log: null, standing: null, done: null };
    this.#held.set(page, held);
    return held;
  }

  /** I8: no more and no less is done than when somebody pressed last. */
  #checkDone(held: Held, log: CaseLog, { done, total }: View): void {
    const pressed = log.records.filter((r) => r.by !== null).length;
    const first = log.records[0]?.stamp.runId;
    const before = held.log?.records[0]?.stamp.runId === first ? held.done : null;
    if (before?.pressed === pressed && (before.done !== done || before.total !== total)) {
      throw new Broken(
        'I8',
        `${before.done} of ${before.total} became ${done} of ${total} by itself`,
      );
    }
    held.done = { pressed, done, total };
  }

  /** I12, when the newest record takes back the press just before it. */
  #checkUndone(page: Page, before: CaseLog | null, log: CaseLog): void {
    const last = log.records.at(-1);
    if (before === null || last?.event.type !== 'press-retracted') return;
    const { press } = last.event;
    const isLast = log.records.every((r) => r.press <= press || r.by === null || r === last);
    const kept = this.#states.get(`${page.tablet.name}#${log.records[0]?.stamp.runId}#${press}`);
    if (isLast && kept !== undefined) checkUndo(kept, log.state);
  }

  readonly #states = new Map<string, unknown>();

  /** Each step: what people's next undo must give back. */
  #keepState(page: Page, log: CaseLog): void {
    const last = log.records.at(-1);
    if (last === undefined) return;
    const key = `${page.tablet.name}#${log.records[0]?.stamp.runId}#${last.press + 1}`;
    this.#states.set(key, undoable(log.state));
    if (this.#states.size > 200) {
      const [oldest] = this.#states.keys();
      this.#states.delete(oldest ?? '');
    }
  }

  #afterStep(): void {
    for (const page of this.#pages) {
      const { running } = page.session.store.getState();
      if (running && !running.isViewOnly && this.#kept.get(page) !== running.log) {
        this.#kept.set(page, running.log);
        this.#keepState(page, running.log);
      }
      if (page.stepsLeft !== Number.POSITIVE_INFINITY) {
        page.stepsLeft -= 1;
        if (page.stepsLeft <= 0) this.faults.killNow(page);
      }
    }
  }

  readonly #kept = new WeakMap<Page, CaseLog>();

  #guard(check: () => void): void {
    try {
      check();
    } catch (cause) {
      if (!(cause instanceof Broken)) throw cause;
      this.broken ??= cause;
    }
  }

  /** After a while, if the page that is in front then lives and can be used. */
  inspectIn(tablet: Tablet, ms: number): void {
    const look = (): void => {
      const page = this.inFront(tablet);
      page?.do(() => void this.inspect(page));
    };
    this.loop.after(ms, look, null);
  }

  /** Does something that takes its time; what it finds broken is told. */
  async looking(look: Promise<unknown>): Promise<void> {
    try {
      await look;
    } catch (cause) {
      if (!(cause instanceof Broken)) throw cause;
      this.broken ??= cause;
    }
  }

  /** Journals of the first format come to a tablet once, as from a backup. */
  async takeOld(page: Page): Promise<void> {
    const { epoch } = page;
    const known = this.truth.casesOf(page.tablet.name);
    for (const { caseId, entries } of OLD_JOURNALS) {
      if (epoch === null || page.isDead) return;
      if (known.has(caseId)) continue;
      await page.watched.adopt({ caseId, epoch, entries });
    }
  }

  /** Looks at everything that a tablet holds, through a page of it. */
  async inspect(page: Page): Promise<void> {
    await this.takeOld(page);
    await this.clinic?.clinic.letIn(page);
    await this.looking(this.shelves.check(page));
    for (const caseId of [...this.truth.casesOf(page.tablet.name).keys()]) {
      const read = await page.journal.read(caseId);
      const kept = this.truth.casesOf(page.tablet.name).get(caseId);
      if (page.isDead || !read.ok || kept === undefined) continue;
      this.#guard(() => {
        checkReading(read.value, kept);
        const old = OLD_JOURNALS.find((one) => one.caseId === caseId);
        if (old) checkOld(old, { reading: read.value, spoil: this.#options.spoil?.oldText });
        checkExport(read.value, { known: this.#exports, spoil: this.#options.spoil?.text });
      });
    }
  }

  /** I4: what cannot be found in the list is lost to people, whatever lies in the journal. */
  async #checkListed(page: Page): Promise<void> {
    const listed = await page.journal.listCases();
    const ids = new Set(listed.ok ? listed.value.map(({ caseId }) => caseId) : []);
    for (const caseId of this.truth.casesOf(page.tablet.name).keys()) {
      if (!ids.has(caseId))
        this.broken ??= new Broken('I4', `${page.name} does not list ${caseId}`);
    }
  }

  /** Everything is closed, opened again, and looked at. */
  async #end(): Promise<void> {
    for (const tablet of this.tablets) {
      for (const page of this.pagesOf(tablet)) this.kill(page, { commits: true });
      await this.loop.runTo(this.loop.nowMs + 5000);
      this.#options.spoil?.homes?.(tablet);
      const page = this.open(tablet);
      await this.loop.runTo(this.loop.nowMs + 30_000);
      await this.loop.awaited(page.do(() => this.inspect(page)));
      await this.loop.awaited(page.do(() => this.#checkListed(page)));
      for (const caseId of this.truth.casesOf(tablet.name).keys()) {
        const read = await this.loop.awaited(page.do(() => page.session.readCase(caseId)));
        if (!read.ok)
          this.broken ??= new Broken('I4', `${caseId} cannot be read: ${read.error.code}`);
        else this.#guard(() => checkReplay(read.value.log));
      }
      if (this.broken !== null) throw this.broken;
    }
    if (this.clinic === null) await this.#exchange();
    else await this.clinic.converge({ isLast: true });
  }

  /** Each takes in what the other has; then both must tell the same. */
  async #exchange(): Promise<void> {
    const pages = this.tablets.flatMap((tablet) => this.pagesOf(tablet).slice(0, 1));
    const within = 3_600_000;
    for (const [i, to] of pages.entries()) {
      const from = pages[1 - i] ?? to;
      const whole = from.do(() => this.shelves.whole(from));
      const backup = await this.loop.awaited(whole, within);
      const taken = to.do(() => this.looking(this.shelves.bringAll(backup, to)));
      await this.loop.awaited(taken, within);
    }
    for (const page of pages) {
      const looked = page.do(() => this.inspect(page));
      await this.loop.awaited(looked, within);
    }
    if (this.broken !== null) throw this.broken;
  }
}
