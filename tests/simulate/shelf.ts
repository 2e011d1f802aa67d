/**
 * The shelves of the tablets: lots that people enter and recall, and the backups that carry them and the
 * cases from one tablet to another. What a tablet was told it must know for ever, and whoever takes its
 * backup in as well.
 */
import { backupLines, JournalFault } from '../../src/runtime/backup/backup-lines.ts';
import { checkLines, Merger } from '../../src/runtime/backup/backup-merge.ts';
import type { Dice } from './dice.ts';
import { Broken, type Invariant } from './invariants.ts';
import type { Page } from './page.ts';
import type { Tablet } from './tablet.ts';

/** By id of the lot: whether it is recalled. */
type Shelf = ReadonlyMap<string, boolean>;

interface Backup {
  readonly from: string;
  readonly lines: readonly string[];
  readonly shelf: Shelf;
}

/** Older ones than these are no longer at hand. */
const BACKUPS_KEPT = 6;

async function* oneByOne(lines: readonly string[]): AsyncGenerator<string> {
  for (const line of lines) yield line.replace(/\n$/, '');
}

const lotOf = (id: string, note: string) => ({
  id,
  materialClass: 'resin cement',
  label: 'Cement',
  lot: id,
  refrigerated: false,
  note,
});

export class Shelves {
  readonly #dice: Dice;
  readonly #shelves = new Map<string, Map<string, boolean>>();
  readonly #backups: Backup[] = [];
  #lots = 0;

  readonly #o;

  constructor(
    dice: Dice,
    o: {
      /** A case may have two ends. */
      readonly mayDiffer: boolean;
      /** Whether anybody takes in what the tablet of this name wrote. */
      readonly isTaken: (from: string) => boolean;
    },
  ) {
    this.#o = o;
    this.#dice = dice;
  }

  shelfOf(tablet: Tablet): Map<string, boolean> {
    const shelf = this.#shelves.get(tablet.name) ?? new Map<string, boolean>();
    this.#shelves.set(tablet.name, shelf);
    return shelf;
  }

  /** Enters a lot, changes one, or recalls one. */
  async keep(page: Page): Promise<void> {
    const { stock } = page.session;
    const shelf = this.shelfOf(page.tablet);
    const known = this.#dice.of([...shelf.keys()]);
    const drawn = this.#dice.unit();
    if (known === undefined || drawn < 0.4) {
      this.#lots += 1;
      const id = `${page.tablet.name}-lot-${this.#lots}`;
      const kept = await stock.receive(lotOf(id, 'new'));
      if (kept.ok && !page.isDead) shelf.set(id, false);
      return;
    }
    const before = stock.state.getState().materials.find(({ id }) => id === known);
    if (before === undefined) return;
    if (drawn < 0.7) {
      await stock.correct(stock.opened(before), {
        ...before,
        note: `seen ${Math.round(page.realNowMs())}`,
      });
      return;
    }
    const recalled = await stock.recallLot({ lot: before.lot, reason: 'as its maker says' });
    if (recalled.ok && !page.isDead) shelf.set(known, true);
  }

  async #written(page: Page): Promise<Backup | null> {
    const shelf = new Map(this.shelfOf(page.tablet));
    const lines: string[] = [];
    try {
      for await (const line of backupLines(page.journal)) lines.push(line);
    } catch (cause) {
      // The journal did not answer; people are told, and there is no file.
      if (cause instanceof JournalFault) return null;
      throw cause;
    }
    return page.isDead ? null : { from: page.tablet.name, lines, shelf };
  }

  /** Writes everything of a tablet down. */
  async backUp(page: Page): Promise<boolean> {
    const written = await this.#written(page);
    if (written === null) return false;
    this.#backups.push(written);
    if (this.#backups.length > BACKUPS_KEPT) this.#backups.shift();
    return true;
  }

  /** Takes a backup in, an old one or one of the other tablet. */
  async bring(page: Page): Promise<boolean> {
    const backup = this.#dice.of(this.#backups.filter(({ from }) => this.#o.isTaken(from)));
    return backup !== undefined && (await this.#take(backup, page));
  }

  /** Everything of a page's tablet, to be brought to another's. */
  async whole(page: Page): Promise<Backup> {
    const written = await this.#written(page);
    if (written === null) throw new Broken('I4', `${page.name} cannot be backed up`);
    return written;
  }

  async bringAll(backup: Backup, page: Page): Promise<void> {
    if (await this.#take(backup, page)) return;
    throw new Broken('I4', `${page.name} does not take in what ${backup.from} has`);
  }

  async #take(backup: Backup, page: Page): Promise<boolean> {
    const { epoch } = page;
    if (epoch === null) return false;
    const found = await checkLines(oneByOne(backup.lines));
    const merger = new Merger({
      journal: page.watched,
      epoch,
      found,
      onAdded: async () => undefined,
    });
    const merged = await merger.run(oneByOne(backup.lines), () => undefined);
    if (page.isDead || !merged.ok) return false;
    const { casesDiffering } = merged.value;
    if (casesDiffering > 0 && !this.#o.mayDiffer) {
      throw new Broken('I6', `${casesDiffering} cases of ${backup.from} are told in two ways`);
    }
    const shelf = this.shelfOf(page.tablet);
    for (const [id, isRecalled] of backup.shelf) {
      shelf.set(id, isRecalled || shelf.get(id) === true);
    }
    await page.session.refreshLists();
    await this.check(page);
    return true;
  }

  /** I4: every lot that was entered stands there, and every recall. */
  async check(
    page: Page,
    o: { readonly shelf?: Shelf; readonly invariant?: Invariant } = {},
  ): Promise<void> {
    const { invariant = 'I4' } = o;
    const shelf = new Map(o.shelf ?? this.shelfOf(page.tablet));
    await page.session.stock.refresh();
    const { materials, isRead } = page.session.stock.state.getState();
    if (page.isDead || !isRead) return;
    for (const [id, isRecalled] of shelf) {
      const shown = materials.find((material) => material.id === id);
      if (shown === undefined)
        throw new Broken(invariant, `${id} was entered and is gone from ${page.name}`);
      if (isRecalled && shown.recalled === undefined) {
        throw new Broken(invariant, `${id} was recalled, and nothing says so`);
      }
    }
  }
}
