/** What the stock list and the log of the lights hold, and how it is read back from the store. */
import { fieldsOf } from '../lead/lead-documents.ts';

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
  readonly recalled?: { readonly onWallMs: number; readonly reason: string };
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

const DATE = /^\d{4}-\d{2}-\d{2}$/;

const text = (value: unknown): string | undefined =>
  typeof value === 'string' ? value : undefined;
const date = (value: unknown): string | undefined =>
  typeof value === 'string' && DATE.test(value) ? value : undefined;
const amount = (value: unknown): number | undefined =>
  typeof value === 'number' && Number.isFinite(value) && value >= 0 ? value : undefined;

/** Leaves out what is undefined, so that it is left out of what is stored too. */
function known<T extends object>(fields: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };
}

function parseScanned(value: unknown): Material['scanned'] {
  const { text: code, issuer } = fieldsOf(value);
  return typeof code === 'string' && typeof issuer === 'string'
    ? { text: code, issuer }
    : undefined;
}

function parseRecall(value: unknown): Material['recalled'] {
  const { onWallMs, reason } = fieldsOf(value);
  return typeof onWallMs === 'number' && typeof reason === 'string'
    ? { onWallMs, reason }
    : undefined;
}

/** A stored material; null when it is damaged. */
export function parseMaterial(value: unknown): Material | null {
  const f = fieldsOf(value);
  const { id, materialClass, label, lot } = f;
  if (typeof id !== 'string' || typeof materialClass !== 'string') return null;
  if (typeof label !== 'string' || typeof lot !== 'string') return null;
  return {
    id,
    materialClass,
    label,
    lot,
    refrigerated: f['refrigerated'] === true,
    ...known({
      expiry: date(f['expiry']),
      openedOn: date(f['openedOn']),
      useWithinDays: amount(f['useWithinDays']),
      warmUpMinutes: amount(f['warmUpMinutes']),
      takenOutWallMs: amount(f['takenOutWallMs']),
      note: text(f['note']),
      recalled: parseRecall(f['recalled']),
      goneOnWallMs: amount(f['goneOnWallMs']),
      scanned: parseScanned(f['scanned']),
      deviceIdentifier: text(f['deviceIdentifier']),
      serial: text(f['serial']),
    }),
  };
}

/** A stored reading; null when it is damaged. */
export function parseLightReading(value: unknown): LightReading | null {
  const { id, light, instrument, onWallMs, irradianceMwPerCm2, isBaseline, note } = fieldsOf(value);
  if (typeof id !== 'string' || typeof light !== 'string') return null;
  if (typeof instrument !== 'string' || typeof onWallMs !== 'number') return null;
  const irradiance = amount(irradianceMwPerCm2);
  if (irradiance === undefined || irradiance === 0) return null;
  return {
    id,
    light,
    instrument,
    onWallMs,
    irradianceMwPerCm2: irradiance,
    isBaseline: isBaseline === true,
    ...known({ note: text(note) }),
  };
}
