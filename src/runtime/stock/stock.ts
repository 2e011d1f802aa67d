/**
 * The stock list of this clinic, the readings of its lights, and how the scanner of this tablet sends a
 * separator. Lots and readings are facts; screens read the state and call the methods.
 */

import * as v from 'valibot';
import { createStore, type StoreApi } from 'zustand/vanilla';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { MS_PER_MINUTE } from '../../base/units.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { type Fact, factKindOf, listFacts } from '../facts/fact.ts';
import { byItem } from '../facts/fact-history.ts';
import { type FactParts, say } from '../facts/fact-writer.ts';
import { isOfThisDesk, readThisTablet } from '../facts/this-tablet.ts';
import { THIS_TABLET } from '../lead/lead-documents.ts';
import type { StockDefaults } from '../lead/sheets.ts';
import type { Readable } from '../readable.ts';
import { lotKey, sameLot } from './same-lot.ts';
import type {
  Differing,
  LotRecall,
  MaterialSaid,
  ReadingSaid,
  StockEntry,
  StockEvent,
} from './stock-facts.ts';
import { LIGHT_READING, type LightReading, MATERIAL, type Material } from './stock-types.ts';

const SCANNER = 'scanner';

/** Wanted once the first screen stands. */
const folding = () => import('./stock-facts.ts');
const telling = () => import('./stock-history.ts');

export interface StockState {
  readonly isRead: boolean;
  readonly materials: readonly Material[];
  /** That stand, of every box; of a lot that has no box here too. */
  readonly recalls: readonly LotRecall[];
  /** By the id of the material: what was written on two tablets that did not know of each other. */
  readonly differing: ReadonlyMap<string, readonly Differing[]>;
  readonly readings: readonly LightReading[];
  /** What the scanner types in place of ASCII 29; empty when it types that. */
  readonly separator: string;
  /** Documents that could not be read; they stay stored as they are. */
  readonly damaged: number;
  /** Who says now what is written; empty while nobody is named. */
  readonly by: string;
  /** Everybody who was named as having done something. */
  readonly people: readonly string[];
}

/** Whoever was named is asked for again once nothing was written for so long. */
export const BY_MS = 15 * MS_PER_MINUTE;

/** The product sheet of a box. */
interface BoxSheet {
  readonly id: string;
  readonly document: string;
  readonly revision: string;
  readonly defaults: StockDefaults;
}

interface StockParts extends FactParts {
  readonly journal: Journal;
}

/** An entry as somebody began to correct it. */
export interface OpenedEntry {
  readonly before: Material;
  readonly differing: readonly Differing[];
  /** What was known of it then. */
  readonly heads: readonly string[];
}

type Done = Promise<Result<null, Problem>>;

const scannerSchema = v.object({ separator: v.string() });

export class Stock {
  readonly #parts: StockParts;
  #entries: ReadonlyMap<string, StockEntry> = new Map();
  readonly #state: StoreApi<StockState> = createStore<StockState>(() => ({
    isRead: false,
    materials: [],
    recalls: [],
    differing: new Map(),
    readings: [],
    separator: '',
    damaged: 0,
    by: '',
    people: [],
  }));
  #byAtMs = 0;
  #told: Awaited<ReturnType<typeof telling>> | null = null;

  constructor(parts: StockParts) {
    this.#parts = parts;
    parts.journal.subscribe((news) => {
      if (news.type !== 'document') return;
      const kind = factKindOf(news.kind);
      if (kind === MATERIAL || kind === LIGHT_READING || news.kind === SCANNER) void this.refresh();
    });
  }

  get state(): Readable<StockState> {
    return this.#state;
  }

  /** Reads everything again. */
  async refresh(): Promise<void> {
    const { journal } = this.#parts;
    const [materials, readings, scanner] = await Promise.all([
      listFacts(journal, MATERIAL),
      listFacts(journal, LIGHT_READING),
      journal.documents.get(SCANNER, { id: THIS_TABLET }),
    ]);
    if (!materials.ok || !readings.ok) return;
    const [{ readingFrom, stockEntry }, history, mayLift] = await Promise.all([
      folding(),
      telling(),
      this.#mayLift(),
    ]);
    if (mayLift === null) return;
    this.#told = history;
    const folded = [...byItem(materials.value.facts)].map(
      ([id, facts]) => [id, stockEntry(facts, mayLift)] as const,
    );
    const entries = new Map(folded.flatMap(([id, entry]) => (entry === null ? [] : [[id, entry]])));
    const told = [...byItem(readings.value.facts).values()].map(readingFrom);
    const kept = parsedOr(scannerSchema, scanner.ok ? scanner.value : null);
    const recalls = history.recallsIn([...entries.values()]);
    const listed = [...entries.values()].filter(({ isStruck }) => !isStruck);
    this.#entries = entries;
    this.#state.setState({
      isRead: true,
      materials: history.withRecalls(
        listed.map(({ material }) => material).toSorted((a, b) => (a.id < b.id ? -1 : 1)),
        recalls,
      ),
      recalls,
      differing: new Map(
        listed
          .filter(({ differing }) => differing.length > 0)
          .map(({ material, differing }) => [material.id, differing]),
      ),
      readings: told
        .flatMap((reading) => (reading === null || reading === 'struck' ? [] : [reading]))
        .toSorted((a, b) => (a.id < b.id ? -1 : 1)),
      separator: kept?.separator ?? '',
      damaged:
        materials.value.damaged.length +
        readings.value.damaged.length +
        folded.filter(([, entry]) => entry === null).length +
        told.filter((reading) => reading === null).length,
      people: history.peopleIn([...entries.values()]),
    });
  }

  /** Only this desk lifts a recall: a file that says so waits for the lead. Null when it cannot be told. */
  async #mayLift(): Promise<((fact: Fact) => boolean) | null> {
    const here = await readThisTablet(this.#parts.journal);
    if (!here.ok) return null;
    const own = { ...here.value, tablet: this.#parts.tablet() };
    return (fact) => isOfThisDesk(fact, own);
  }

  /** Who writes from now on; empty when nobody is named. */
  setBy(by: string): void {
    this.#byAtMs = this.#parts.nowWallMs();
    this.#state.setState({ by: by.trim() });
  }

  /** Null where nobody is named, or the one who was may have gone. */
  #by(): string | null {
    const now = this.#parts.nowWallMs();
    const { by } = this.#state.getState();
    if (by === '') return null;
    if (now - this.#byAtMs > BY_MS) {
      this.setBy('');
      return null;
    }
    this.#byAtMs = now;
    return by;
  }

  /** What was done to a box, and what was said of its whole lot, in order. */
  historyOf(id: string): readonly StockEvent[] {
    return this.#told?.historyIn([...this.#entries.values()], id) ?? [];
  }

  /** The box of this device identifier that came last; null where none is known. */
  lastBoxOf(deviceIdentifier: string): Material | null {
    return this.#told?.lastBoxIn([...this.#entries.values()], deviceIdentifier) ?? null;
  }

  /** What the clinic's product sheet of a device identifier says of keeping a box; null without one. */
  async sheetOf(deviceIdentifier: string): Promise<BoxSheet | null> {
    const { sheetFor, stockDefaultsOf } = await import('../lead/sheets.ts');
    const { deviceKey } = await telling();
    for (const name of new Set([deviceIdentifier, deviceKey(deviceIdentifier)])) {
      const sheet = await sheetFor(this.#parts.journal, name);
      if (sheet === null) continue;
      const { id, document, revision } = sheet;
      return { id, document, revision, defaults: stockDefaultsOf(sheet) };
    }
    return null;
  }

  /** A new bottle. */
  async receive(material: Material): Done {
    const { receivedSaid } = await folding();
    return this.#say(material.id, receivedSaid(material, { isDemo: false }));
  }

  /** An entry as it is opened to be corrected. */
  opened(material: Material): OpenedEntry {
    const { differing = [], heads = [] } = this.#entries.get(material.id) ?? {};
    return { before: material, differing, heads };
  }

  /** Keeps what was changed of an opened entry, and nothing else; what came meanwhile stays beside it. */
  async correct({ before, differing, heads }: OpenedEntry, after: Material): Done {
    const { correctedSaid } = await folding();
    return this.#say(after.id, correctedSaid({ before, after, differing }), { seen: () => heads });
  }

  /** Says which value of a field holds where two tablets differ; what else differs stays beside it. */
  async settle(id: string, o: { readonly field: string; readonly value: unknown }): Done {
    const { settledSaid } = await folding();
    return this.#say(id, [settledSaid(o)]);
  }

  openedOn(id: string, on: string): Done {
    return this.#say(id, [{ type: 'opened', on }]);
  }

  takenOut(id: string): Done {
    return this.#say(id, [{ type: 'taken-out', atWallMs: this.#parts.nowWallMs() }]);
  }

  usedUp(id: string): Done {
    return this.#say(id, [{ type: 'used-up', onWallMs: this.#parts.nowWallMs() }]);
  }

  backOnShelf(id: string): Done {
    const of = this.#entries.get(id)?.standing.ends ?? [];
    return this.#say(id, [{ type: 'back-on-shelf', of: [...of] }]);
  }

  /** Marks every box of a lot, or the lot alone where it has none; the reason may come later. Errors: `no-such-lot` where none is named. */
  async recallLot(o: {
    readonly lot: string;
    readonly reason: string;
    readonly by?: string | null;
  }): Done {
    const reason = o.reason.trim();
    const boxes = [...this.#entries.values()].filter(
      ({ material, isStruck }) => !isStruck && sameLot(material.lot, o.lot),
    );
    const lot = o.lot.trim();
    if (lot === '') return err(problem('lot', 'a lot', o.lot, 'no-such-lot'));
    const onWallMs = this.#parts.nowWallMs();
    if (boxes.length === 0) {
      const { lotSaid } = await folding();
      // One item for a lot, whichever tablet says it.
      const item = `lot ${lotKey(lot)}`;
      const all = lotSaid({ lot, onWallMs, reason });
      const said = all.filter(({ type }) => type === 'recalled' || !this.#entries.has(item));
      return this.#say(item, said, o);
    }
    for (const { material } of boxes) {
      const said = { type: 'recalled', onWallMs, reason, lot: material.lot } as const;
      const marked = await this.#say(material.id, [said], o);
      if (!marked.ok) return marked;
    }
    return ok(null);
  }

  /** Lifts the recalls of a lot that are shown, of every box; one that comes from elsewhere later stands. */
  async liftRecall(
    lot: string,
    o: { readonly reason?: string; readonly by?: string | null } = {},
  ): Done {
    for (const { material, recalls } of this.#entries.values()) {
      const of = recalls.filter((recall) => sameLot(recall.lot, lot)).map(({ fact }) => fact);
      if (of.length === 0) continue;
      const { reason } = o;
      const why = reason === undefined ? {} : { reason };
      const said = await this.#say(material.id, [{ type: 'recall-lifted', of, ...why }], o);
      if (!said.ok) return said;
    }
    return ok(null);
  }

  /** Takes an entry off the list that was made by mistake. Cases that named the lot keep it. */
  removeMaterial(id: string): Done {
    return this.#say(id, [{ type: 'struck' }]);
  }

  saveReading(reading: LightReading): Done {
    return this.#sayOfReading(reading.id, { type: 'read', reading });
  }

  removeReading(id: string): Done {
    return this.#sayOfReading(id, { type: 'struck' });
  }

  async saveSeparator(separator: string): Done {
    const epoch = this.#parts.epoch();
    if (epoch === null) {
      return err(
        problem('window', 'this window to be the one that writes', 'reader', 'not-writer'),
      );
    }
    const document = { kind: SCANNER, id: THIS_TABLET, value: { separator }, epoch };
    const put = await this.#parts.journal.documents.put(document);
    if (!put.ok) return put;
    await this.refresh();
    return ok(null);
  }

  #say(
    item: string,
    said: readonly MaterialSaid[],
    o: { readonly seen?: () => readonly string[]; readonly by?: string | null } = {},
  ): Done {
    const { seen, by = this.#by() } = o;
    return this.#keep({ kind: MATERIAL, item, said, by, ...(seen && { seen }) });
  }

  #sayOfReading(item: string, said: ReadingSaid): Done {
    return this.#keep({ kind: LIGHT_READING, item, said: [said], by: this.#by() });
  }

  async #keep(saying: {
    readonly kind: typeof MATERIAL | typeof LIGHT_READING;
    readonly item: string;
    readonly said: readonly unknown[];
    readonly by: string | null;
    readonly seen?: () => readonly string[];
  }): Done {
    const kept = await say(this.#parts, saying);
    if (!kept.ok) return kept;
    await this.refresh();
    return ok(null);
  }
}
