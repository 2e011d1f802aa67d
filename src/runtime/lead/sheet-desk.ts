/**
 * Product sheets at the open desk: drafts are kept as they are typed, a finished one becomes a fact,
 * and both are there again after a reload.
 */
import * as v from 'valibot';
import { createStore, type StoreApi } from 'zustand/vanilla';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import {
  DRAFT_KINDS,
  LINE_ANSWERS,
  newSheetDraft,
  type SheetDraft,
} from '../../protocol/sheet-draft.ts';
import { finishSheet } from '../../protocol/sheet-finish.ts';
import {
  sheetLineSchema,
  sheetReadingSchema,
  sheetSpotSchema,
} from '../../protocol/sheet-schema.ts';
import {
  type ProductSheet,
  SHEET_BOUNDS,
  SHEET_GROUPS,
  SHEET_UNITS,
} from '../../protocol/sheet-types.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { LeadDeed, LeadValues } from '../../words/codes.ts';
import { say } from '../facts/fact-writer.ts';
import { readThisTablet } from '../facts/this-tablet.ts';
import type { Readable } from '../readable.ts';
import { SHEET_DRAFT } from './lead-documents.ts';
import { readSheets, SHEET, type SheetEntry, type SheetSaid, sheetHash, unread } from './sheets.ts';

export interface SheetState {
  readonly isRead: boolean;
  readonly entries: readonly SheetEntry[];
  readonly putAway: readonly SheetEntry[];
  readonly drafts: readonly SheetDraft[];
  readonly damaged: number;
}

interface SheetDeskParts {
  readonly journal: Journal;
  readonly newId: () => string;
  readonly nowWallMs: () => number;
  /** The writer's epoch while the desk is open. Errors: `desk-closed`, `not-writer`. */
  readonly atDesk: () => Result<number, Problem>;
  readonly by: () => string;
  readonly log: (deed: LeadDeed, values: LeadValues) => Promise<Result<null, Problem>>;
}

type Done<T> = Promise<Result<T, Problem>>;

const draftSchema = v.object({
  id: v.string(),
  kind: v.picklist(DRAFT_KINDS),
  materialClass: v.string(),
  document: v.string(),
  revision: v.string(),
  date: v.string(),
  pages: v.string(),
  identifiers: v.string(),
  before: v.string(),
  readOf: v.exactOptional(v.object({ document: v.string(), materialClass: v.string() })),
  lines: v.array(
    v.object({
      id: v.string(),
      group: v.picklist(SHEET_GROUPS),
      title: v.string(),
      bound: v.picklist(SHEET_BOUNDS),
      unit: v.picklist(SHEET_UNITS),
      temperature: v.string(),
      text: v.string(),
      asWritten: v.string(),
      page: v.string(),
      spots: v.array(sheetSpotSchema),
      was: v.nullable(sheetLineSchema),
      answer: v.picklist(LINE_ANSWERS),
      areWordsRead: v.boolean(),
      read: v.nullable(sheetReadingSchema),
    }),
  ),
});

export class SheetDesk {
  readonly #parts: SheetDeskParts;
  readonly #state: StoreApi<SheetState> = createStore<SheetState>(() => ({
    isRead: false,
    entries: [],
    putAway: [],
    drafts: [],
    damaged: 0,
  }));
  /** What waits to be kept while the one before is: only the last state of a draft matters. */
  readonly #waiting = new Map<string, SheetDraft>();
  #keeping: Done<null> | null = null;

  constructor(parts: SheetDeskParts) {
    this.#parts = parts;
  }

  get state(): Readable<SheetState> {
    return this.#state;
  }

  /** Reads sheets and drafts again. */
  async refresh(): Promise<void> {
    const { journal } = this.#parts;
    const [read, listed] = await Promise.all([
      readSheets(journal),
      journal.documents.list(SHEET_DRAFT),
    ]);
    const stored = (listed.ok ? listed.value : []).flatMap(
      ({ value }) => parsedOr(draftSchema, value) ?? [],
    );
    // What is on its way to the store is newer than what is there, and stays where the store is full.
    const drafts = new Map([
      ...stored.map((draft) => [draft.id, draft] as const),
      ...this.#waiting,
    ]);
    this.#state.setState({ isRead: true, ...read, drafts: [...drafts.values()] });
  }

  draftOf(id: string): SheetDraft | null {
    return this.#state.getState().drafts.find((draft) => draft.id === id) ?? null;
  }

  /** Begins to type a document that was not here. Returns its id. */
  async beginNew(first: Partial<SheetDraft> = {}): Done<string> {
    return this.begin({ ...newSheetDraft(this.#parts.newId()), ...first });
  }

  /** Begins a draft; one of this sheet that is open already goes on. Returns its id. */
  async begin(draft: SheetDraft): Done<string> {
    if (this.draftOf(draft.id) !== null) return ok(draft.id);
    const kept = await this.saveDraft(draft);
    return kept.ok ? ok(draft.id) : kept;
  }

  /** Keeps what was typed. The screen shows it at once; the store follows. */
  saveDraft(draft: SheetDraft): Done<null> {
    const desk = this.#parts.atDesk();
    if (!desk.ok) return Promise.resolve(desk);
    const others = this.#state.getState().drafts.filter(({ id }) => id !== draft.id);
    this.#state.setState({ drafts: [...others, draft] });
    this.#waiting.set(draft.id, draft);
    this.#keeping ??= this.#keepWaiting(desk.value).finally(() => {
      this.#keeping = null;
    });
    return this.#keeping;
  }

  async #keepWaiting(epoch: number): Done<null> {
    for (;;) {
      const [next] = this.#waiting;
      if (next === undefined) return ok(null);
      const [id, draft] = next;
      const value = { ...draft };
      const put = await this.#parts.journal.documents.put({ kind: SHEET_DRAFT, id, value, epoch });
      if (!put.ok) return put;
      if (this.#waiting.get(id) === draft) this.#waiting.delete(id);
    }
  }

  /** Throws away what was typed. Answers with its id. */
  async dropDraft(id: string): Done<string> {
    const desk = this.#parts.atDesk();
    if (!desk.ok) return desk;
    await this.#keeping;
    this.#waiting.delete(id);
    const { documents } = this.#parts.journal;
    const dropped = await documents.delete({ kind: SHEET_DRAFT, id, epoch: desk.value });
    if (!dropped.ok) return dropped;
    await this.refresh();
    return ok(id);
  }

  /** Makes a draft a revision of its sheet. Errors: `sheet-problems`, and what the store refuses. */
  async keep(id: string): Done<ProductSheet> {
    const draft = this.draftOf(id);
    if (draft === null) return err(problem('sheet', 'a draft of this tablet', id));
    const sheet = finishSheet(draft);
    if (!sheet.ok) return sheet;
    const { document, revision } = sheet.value;
    const said = await this.#say(id, { type: 'written', sheet: sheet.value });
    if (!said.ok) return said;
    const hash = sheetHash(sheet.value);
    await this.#parts.log('sheet-kept', { document, revision, hash });
    const dropped = await this.dropDraft(id);
    return dropped.ok ? sheet : dropped;
  }

  /** Keeps a sheet as it comes, read by nobody. Answers with its id. */
  async take(sheet: ProductSheet): Done<string> {
    const said = await this.#say(sheet.id, { type: 'written', sheet: unread(sheet) });
    if (!said.ok) return said;
    await this.refresh();
    return ok(sheet.id);
  }

  /** Takes a sheet off the list; its revisions stay stored, and what was confirmed by it stays. Answers with its id. */
  async putAway({ id, current: [first] }: SheetEntry): Done<string> {
    const said = await this.#say(id, { type: 'put-away' });
    if (!said.ok) return said;
    await this.#parts.log('sheet-put-away', { document: first?.sheet.document ?? id });
    await this.refresh();
    return ok(id);
  }

  /** Back on the list as it was last. Answers with its id. */
  async putBack({ id, current: [last] }: SheetEntry): Done<string> {
    if (last === undefined) return err(problem('sheet', 'a sheet of this tablet', id));
    const said = await this.#say(id, { type: 'written', sheet: last.sheet });
    if (!said.ok) return said;
    await this.refresh();
    return ok(id);
  }

  async #say(item: string, said: SheetSaid): Done<null> {
    const desk = this.#parts.atDesk();
    if (!desk.ok) return desk;
    const { journal, nowWallMs, by } = this.#parts;
    const here = await readThisTablet(journal);
    if (!here.ok) return here;
    const { tablet } = here.value;
    const kept = await say(
      { journal, epoch: () => desk.value, nowWallMs, tablet: () => tablet },
      { kind: SHEET, item, said: [said], by: by() },
    );
    return kept.ok ? ok(null) : kept;
  }
}
