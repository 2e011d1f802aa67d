/**
 * The product sheets of this clinic. Each revision is a fact of its sheet, named by its content, so
 * that two tablets meet as the union of what both wrote. What is read of them needs no open desk.
 */

import * as v from 'valibot';
import { MS_PER_MINUTE } from '../../base/units.ts';
import { canonicalText } from '../../protocol/canonical-text.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import { parseSheet } from '../../protocol/sheet-schema.ts';
import { DAYS_PER_MONTH, type ProductSheet, UNIT_MS } from '../../protocol/sheet-types.ts';
import { hashText } from '../../storage/hash-chain.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { type Fact, listFacts } from '../facts/fact.ts';
import { byItem, FactHistory } from '../facts/fact-history.ts';
import { isOfThisDesk, readThisTablet, type ThisTablet } from '../facts/this-tablet.ts';
import { deviceKey } from '../stock/stock-history.ts';

export const SHEET = 'sheet';

export const sheetSaidSchema = v.variant('type', [
  v.object({ type: v.literal('written'), sheet: v.unknown() }),
  v.object({ type: v.literal('put-away') }),
]);

export type SheetSaid = v.InferOutput<typeof sheetSaidSchema>;

/** SHA-256 over the RFC 8785 canonical JSON of a sheet, lower-case hex. */
export function sheetHash(sheet: ProductSheet): string {
  return hashText(canonicalText(sheet));
}

/** A sheet as it was kept once. */
export interface KeptSheet {
  readonly sheet: ProductSheet;
  readonly hash: string;
  readonly by: string | null;
  readonly atWallMs: number;
  /** False where another tablet's desk wrote it: its readings count for nothing here. */
  readonly isOwn: boolean;
}

export interface SheetEntry {
  readonly id: string;
  /**
   * What holds now, this desk's own first. More than one where two tablets wrote without knowing of each
   * other, or where another desk wrote a later one: what was read here holds until that is read here.
   */
  readonly current: readonly KeptSheet[];
  /** All that were kept, newest first. */
  readonly all: readonly KeptSheet[];
}

export interface ReadSheets {
  readonly entries: readonly SheetEntry[];
  /** Those that were put away, as they were last. */
  readonly putAway: readonly SheetEntry[];
  /** Facts that cannot be read; they stay stored as they are. */
  readonly damaged: number;
}

/** The same sheet with no line read: what another desk read is read again at this one. */
export function unread(sheet: ProductSheet): ProductSheet {
  return { ...sheet, lines: sheet.lines.map(({ read: _, ...line }) => line) };
}

function keptIn(fact: Fact, here: ThisTablet): KeptSheet | null {
  const said = parsedOr(sheetSaidSchema, fact.said);
  const parsed = said?.type === 'written' ? parseSheet(said.sheet) : null;
  if (!parsed?.ok || parsed.value.id !== fact.item) return null;
  const isOwn = isOfThisDesk(fact, here);
  const sheet = isOwn ? parsed.value : unread(parsed.value);
  const { by, atWallMs } = fact;
  return { sheet, hash: sheetHash(parsed.value), by, atWallMs, isOwn };
}

const isPutAway = ({ said }: Fact): boolean => parsedOr(sheetSaidSchema, said)?.type === 'put-away';

interface Told {
  readonly entry: SheetEntry;
  readonly isPutAway: boolean;
}

/** What was said last of one sheet, with what this desk said last where another one wrote after it. */
function lastSaid(history: FactHistory, here: ThisTablet): readonly Fact[] {
  const last = history.lastOf(history.inOrder).filter((fact) => !isPutAway(fact));
  if (last.every((fact) => isOfThisDesk(fact, here))) return last;
  const own = history.lastOf(history.inOrder.filter((fact) => isOfThisDesk(fact, here)));
  const isOwn = new Set(own.filter((fact) => !isPutAway(fact)));
  return [...isOwn, ...last.filter((fact) => !isOwn.has(fact))];
}

/** What is known of one sheet; null where nothing of it can be read. */
function toldOf(id: string, facts: readonly Fact[], here: ThisTablet): Told | null {
  const history = new FactHistory(facts);
  const all: KeptSheet[] = [];
  for (const fact of history.inOrder) {
    const kept = keptIn(fact, here);
    if (kept !== null) all.unshift(kept);
  }
  const current = lastSaid(history, here).flatMap((fact) => keptIn(fact, here) ?? []);
  // The same sheet twice, as where two tablets took over the same file, is one.
  const distinct = current.filter(
    ({ hash }, at) => current.findIndex((kept) => kept.hash === hash) === at,
  );
  const [newest] = all;
  if (newest === undefined) return null;
  const isAway = distinct.length === 0;
  return { entry: { id, current: isAway ? [newest] : distinct, all }, isPutAway: isAway };
}

const nameOf = ({ current: [first] }: SheetEntry): string => first?.sheet.document ?? '';

/** Every sheet, by the name of its document. */
export async function readSheets(journal: Pick<Journal, 'documents'>): Promise<ReadSheets> {
  const [listed, here] = await Promise.all([listFacts(journal, SHEET), readThisTablet(journal)]);
  if (!listed.ok || !here.ok) return { entries: [], putAway: [], damaged: 0 };
  const items = [...byItem(listed.value.facts)];
  const told = items
    .flatMap(([id, facts]) => toldOf(id, facts, here.value) ?? [])
    .toSorted((a, b) => nameOf(a.entry).localeCompare(nameOf(b.entry)));
  const those = (isAway: boolean) =>
    told.flatMap(({ entry, isPutAway: away }) => (away === isAway ? [entry] : []));
  const lost = listed.value.facts.filter(
    (fact) => !isPutAway(fact) && keptIn(fact, here.value) === null,
  );
  return {
    entries: those(false),
    putAway: those(true),
    damaged: listed.value.damaged.length + lost.length,
  };
}

/** The sheets that name this device identifier, as a label carries it or as it was typed. */
export function sheetsOf(
  entries: readonly SheetEntry[],
  deviceIdentifier: string,
): readonly SheetEntry[] {
  const key = deviceKey(deviceIdentifier);
  return entries.filter(({ current }) =>
    current.some(({ sheet }) => sheet.deviceIdentifiers?.some((one) => deviceKey(one) === key)),
  );
}

/**
 * The sheet of a device identifier, before all others that of this desk; null where there is none, or
 * more than one says so.
 */
export async function sheetFor(
  journal: Pick<Journal, 'documents'>,
  deviceIdentifier: string,
): Promise<ProductSheet | null> {
  const { entries } = await readSheets(journal);
  const found = sheetsOf(entries, deviceIdentifier).flatMap(({ current }) => current);
  const own = found.filter(({ isOwn }) => isOwn);
  const [only, ...others] = own.length > 0 ? own : found;
  return only !== undefined && others.length === 0 ? only.sheet : null;
}

/** What a sheet says about keeping a box of its material. Absent is what it does not say. */
export interface StockDefaults {
  readonly materialClass: string;
  readonly refrigerated?: boolean;
  readonly useWithinDays?: number;
  readonly warmUpMinutes?: number;
}

/** "In a refrigerator" is 2 to 8 °C (European Pharmacopoeia, general notices, storage). */
const REFRIGERATOR_C_MAX = 8;

/** What the stock form may be offered for a box with this sheet: what somebody read at this desk. */
export function stockDefaultsOf(sheet: ProductSheet): StockDefaults {
  const { materialClass } = sheet;
  const lines = sheet.lines.filter(({ read }) => read !== undefined);
  const storage = lines.filter(({ group, bound }) => group === 'storage' && bound !== 'least');
  const opened = lines
    .filter(({ group }) => group === 'opened-for')
    .map(({ value, unit }) => Math.floor(value * (unit === 'months' ? DAYS_PER_MONTH : 1)));
  const warm = lines
    .filter(({ group, bound }) => group === 'warm-up' && bound !== 'most')
    .map(({ value, unit }) => Math.ceil((value * (UNIT_MS[unit] ?? 0)) / MS_PER_MINUTE));
  return {
    materialClass,
    ...(storage.length > 0 && {
      refrigerated: storage.some(({ value }) => value <= REFRIGERATOR_C_MAX),
    }),
    ...(opened.length > 0 && { useWithinDays: Math.min(...opened) }),
    ...(warm.length > 0 && { warmUpMinutes: Math.max(...warm) }),
  };
}
