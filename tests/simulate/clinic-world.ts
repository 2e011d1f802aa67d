/** What a world of several tablets and one store adds: who said what, and whether the tablets end alike. */
import type { AppendBatch, JournalEntry } from '../../src/storage/journal-types.ts';
import { SimulatedClinic } from './clinic.ts';
import {
  type Acknowledged,
  checkAtOnce,
  checkConverged,
  checkNobodyElse,
  checkNothingLost,
  fetchOld,
  type ToldFold,
  toldBy,
} from './clinic-checks.ts';
import { ClinicFaults } from './clinic-faults.ts';
import type { ClinicSpoil } from './clinic-spoil.ts';
import type { Dice } from './dice.ts';
import { Broken } from './invariants.ts';
import { OLD_JOURNALS } from './old-journals.ts';
import type { Page } from './page.ts';
import type { Tablet } from './tablet.ts';
import type { World } from './world.ts';

/** How often it is looked whether everything is shared. */
const LOOK_MS = 20_000;
/** A window has opened everything after so long. */
const OPENED_MS = 3000;
/**
 * Everything is shared so long after every line is whole: full readings are a minute apart, and who failed often
 * waits half a minute.
 */
const SHARED_MS = 130_000;
const WITHIN_MS = 600_000;

const OLD: ReadonlySet<string> = new Set(OLD_JOURNALS.map(({ caseId }) => caseId));

export class ClinicWorld {
  readonly clinic: SimulatedClinic;
  readonly faults: ClinicFaults;
  readonly #world: World;
  readonly #acknowledged: Acknowledged[] = [];
  /** Kind and item of what people said beside the chair, by tablet. */
  readonly #said = new Map<Tablet, Set<string>>();
  readonly #asked = new WeakMap<AppendBatch, number>();

  constructor(world: World, o: { readonly dice: Dice; readonly spoil: ClinicSpoil }) {
    this.#world = world;
    this.clinic = new SimulatedClinic({ loop: world.loop, dice: o.dice, spoil: o.spoil });
    this.faults = new ClinicFaults(world, this.clinic, o.dice.branch());
  }

  /** Every tablet is opened and let in. */
  async begin(): Promise<void> {
    const { loop, tablets } = this.#world;
    await loop.awaited(this.clinic.found());
    for (const tablet of tablets) this.#world.open(tablet);
    await loop.runTo(loop.nowMs + OPENED_MS);
    await this.#letIn();
  }

  async #letIn(): Promise<void> {
    const { loop, tablets } = this.#world;
    for (const tablet of tablets) {
      const page = this.#world.pagesOf(tablet).find(({ epoch }) => epoch !== null);
      if (page !== undefined)
        await loop.awaited(
          page.do(() => this.clinic.letIn(page)),
          WITHIN_MS,
        );
    }
  }

  saidOf(tablet: Tablet): Set<string> {
    const said = this.#said.get(tablet) ?? new Set();
    this.#said.set(tablet, said);
    return said;
  }

  asked(page: Page, batch: AppendBatch): void {
    if (page.tablet.isPrompt) this.#asked.set(batch, this.#world.loop.nowMs);
  }

  kept(page: Page, batch: AppendBatch, entries: readonly JournalEntry[]): void {
    const { tablet } = page;
    const atMs = this.#world.loop.nowMs;
    for (const { caseId, hash, seq } of entries) {
      this.#acknowledged.push({ tablet, caseId, hash, seq, atMs });
    }
    const askedAtMs = this.#asked.get(batch);
    const isSlow =
      askedAtMs === undefined || tablet.troubledAtMs >= askedAtMs || page.heldUntilMs > askedAtMs;
    if (!isSlow) checkAtOnce(atMs - askedAtMs, `entry ${entries[0]?.seq} of ${batch.caseId}`);
  }

  /** Prepares a case for another day. */
  async prepare(page: Page, spec: Parameters<Page['session']['saveCase']>[0]): Promise<void> {
    const saved = await page.session.saveCase(spec);
    if (saved.ok && !page.isDead) this.saidOf(page.tablet).add(`prepared-case ${spec.id}`);
  }

  /** The case that runs here is for whoever takes it. */
  async give(page: Page): Promise<void> {
    const { running } = page.session.store.getState();
    if (running === null || running.isViewOnly) return;
    const given = await page.session.pens.give({ tablet: null, name: 'whoever is free' });
    if (!given.ok || page.isDead) return;
    this.#world.givenUp(running.caseId);
    this.#world.faults.count('handed over');
  }

  /** Goes on with a case of another tablet: one that was given up, or, with a reason, one whose tablet is not heard of. */
  async take(page: Page, o: { readonly caseId: string; readonly reason?: string }): Promise<void> {
    const taken = await page.session.pens.take(o);
    if (!taken.ok || page.isDead) return;
    this.#world.takenBy(page.tablet, o.caseId);
    this.#world.faults.count(o.reason === undefined ? 'taken' : 'taken over');
  }

  /**
   * Every line is whole: after a while all tablets that belong to the clinic show the same.
   * @param o.isLast it is waited for all of that while: what would come late has come then.
   */
  async converge(o: { readonly isLast: boolean }): Promise<void> {
    const { loop, tablets } = this.#world;
    for (const tablet of tablets) {
      const pages = this.#world.pagesOf(tablet);
      if (pages.some((page) => page.session.store.getState().standing === 'writer')) continue;
      for (const page of pages) this.#world.kill(page, { commits: true });
      this.#world.open(tablet);
    }
    await loop.runTo(loop.nowMs + OPENED_MS);
    await this.#letIn();
    if (this.clinic.outTablet !== null && this.clinic.out === null) {
      await loop.runTo(loop.nowMs + SHARED_MS);
      const isOut = await loop.awaited(this.faults.tryPutOut(), WITHIN_MS);
      if (!isOut) throw new Broken('I13', 'a tablet cannot be put out');
    }
    const untilMs = loop.nowMs + SHARED_MS;
    if (o.isLast) await loop.runTo(untilMs);
    while (loop.nowMs < untilMs) {
      await loop.runTo(Math.min(untilMs, loop.nowMs + LOOK_MS));
      if (loop.nowMs < untilMs && (await this.#holds())) return;
    }
    await this.#check();
  }

  /** Whether everything holds already. */
  async #holds(): Promise<boolean> {
    try {
      await this.#check();
      return true;
    } catch (cause) {
      if (cause instanceof Broken) return false;
      throw cause;
    }
  }

  async #check(): Promise<void> {
    const { loop, truth, shelves } = this.#world;
    const told: ToldFold[] = [];
    const isIn = this.#world.tablets.filter((tablet) => this.clinic.isIn(tablet));
    const pages = isIn.flatMap((tablet) => this.#world.pagesOf(tablet).slice(0, 1));
    for (const page of pages) {
      await loop.awaited(
        page.do(() => fetchOld(page)),
        WITHIN_MS,
      );
    }
    for (const page of pages) {
      const { standing, line, owed, problem, refused, catchUp } =
        page.session.store.getState().sharing;
      this.#world.tell(
        `${page.name} ${JSON.stringify({ standing, line, owed, problem, refused, catchUp })}`,
      );
      const fold = await loop.awaited(
        page.do(() => toldBy(page)),
        WITHIN_MS,
      );
      told.push(this.clinic.spoil.shown?.(fold) ?? fold);
    }
    const isShared = new Set(told.flatMap(({ cases }) => [...cases.keys()]));
    const said = isIn.flatMap((tablet) => [
      ...this.saidOf(tablet),
      ...[...shelves.shelfOf(tablet).keys()].map((id) => `material ${id}`),
    ]);
    const { out } = this.clinic;
    const late = this.#acknowledged.filter(
      (each) => out?.tablet === each.tablet && each.atMs > out.atMs,
    );
    checkConverged(told);
    checkNothingLost(told, {
      acknowledged: this.#acknowledged.filter(
        ({ tablet, caseId }) => isIn.includes(tablet) && isShared.has(caseId),
      ),
      said: new Set(said),
    });
    checkNobodyElse(told, {
      isPressed: (caseId, entry) =>
        OLD.has(caseId) || truth.pressedAtMs(caseId, entry) !== undefined,
      late: new Set(late.map(({ hash }) => hash)),
    });
    for (const page of pages) {
      for (const tablet of isIn) {
        const shelf = shelves.shelfOf(tablet);
        await loop.awaited(
          page.do(() => shelves.check(page, { shelf, invariant: 'I14' })),
          WITHIN_MS,
        );
      }
    }
  }
}
