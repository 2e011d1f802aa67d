/** What the stock list and the log of the lights hold, and how it is read back from the store. */
import * as v from 'valibot';
import { parsedOr } from '../../protocol/read-outside.ts';

export const MATERIAL = 'material';
export const LIGHT_READING = 'light-reading';

/** One lot of a material on the shelf. Generic class and own label; never a product. */
export interface Material {
  readonly id: string;
  readonly materialClass: string;
  readonly label: string;
  readonly lot: string;
  /** ISO 8601 date, the last day on which it may be used. */
  readonly expiry?: string;
  readonly openedOn?: string;
  /** Days after opening within which it is to be used, from its instructions. */
  readonly useWithinDays?: number;
  readonly refrigerated: boolean;
  readonly warmUpMinutes?: number;
  /** When it was last taken out of the refrigerator, by the wall clock. */
  readonly takenOutWallMs?: number;
  readonly note?: string;
  readonly recalled?: {
    readonly onWallMs: number;
    readonly reason: string;
    /** What the mark was said of, where the lot of this box was corrected since. */
    readonly lot?: string;
  };
  /** Used up or thrown away: no longer offered, still known to the cases that used it. */
  readonly goneOnWallMs?: number;
  readonly scanned?: { readonly text: string; readonly issuer: string };
  readonly deviceIdentifier?: string;
  readonly serial?: string;
}

/** One reading of a curing light with one instrument. */
export interface LightReading {
  readonly id: string;
  readonly light: string;
  readonly instrument: string;
  readonly onWallMs: number;
  readonly irradianceMwPerCm2: number;
  /** The reading that later ones are measured against. */
  readonly isBaseline: boolean;
  readonly note?: string;
}

/** What does not fit is as good as not said: the rest of the row is still of use. */
const mayBe = <const Schema extends v.GenericSchema>(schema: Schema) =>
  v.fallback(v.optional(schema), undefined);

const dateSchema = v.pipe(v.string(), v.regex(/^\d{4}-\d{2}-\d{2}$/));
const amountSchema = v.pipe(v.number(), v.finite(), v.minValue(0));
const isTrueSchema = v.fallback(v.boolean(), false);

const materialSchema = v.object({
  id: v.string(),
  materialClass: v.string(),
  label: v.string(),
  lot: v.string(),
  refrigerated: isTrueSchema,
  expiry: mayBe(dateSchema),
  openedOn: mayBe(dateSchema),
  useWithinDays: mayBe(amountSchema),
  warmUpMinutes: mayBe(amountSchema),
  takenOutWallMs: mayBe(amountSchema),
  note: mayBe(v.string()),
  recalled: mayBe(
    v.object({ onWallMs: v.number(), reason: v.string(), lot: v.exactOptional(v.string()) }),
  ),
  goneOnWallMs: mayBe(amountSchema),
  scanned: mayBe(v.object({ text: v.string(), issuer: v.string() })),
  deviceIdentifier: mayBe(v.string()),
  serial: mayBe(v.string()),
});

const readingSchema = v.object({
  id: v.string(),
  light: v.string(),
  instrument: v.string(),
  onWallMs: v.number(),
  irradianceMwPerCm2: v.pipe(v.number(), v.finite(), v.gtValue(0)),
  isBaseline: isTrueSchema,
  note: mayBe(v.string()),
});

/** Leaves out what is undefined, so that it is left out of what is stored too. */
function known<T extends object>(fields: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };
}

/** A stored material; null when it is damaged. */
export function parseMaterial(value: unknown): Material | null {
  const parsed = parsedOr(materialSchema, value);
  if (parsed === null) return null;
  const { id, materialClass, label, lot, refrigerated, ...more } = parsed;
  return { id, materialClass, label, lot, refrigerated, ...known(more) };
}

/** A stored reading; null when it is damaged. */
export function parseLightReading(value: unknown): LightReading | null {
  const parsed = parsedOr(readingSchema, value);
  if (parsed === null) return null;
  const { note, ...reading } = parsed;
  return { ...reading, ...known({ note }) };
}
