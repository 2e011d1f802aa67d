/** An entry of the stock list while it is typed. Pure. */
import type { ScannedLabel } from '../../../runtime/scanner/scanner-label.ts';
import { isDeviceIdentifier } from '../../../runtime/stock/stock-history.ts';
import type { Material } from '../../../runtime/stock/stock-types.ts';
import type { Times } from '../../../words/date-words.ts';
import { materialFormWords } from '../../../words/material-stock-words.ts';

/** An entry while it is typed: every field as text. */
export interface MaterialFields {
  readonly materialClass: string;
  readonly label: string;
  readonly lot: string;
  readonly expiry: string;
  readonly openedOn: string;
  readonly useWithinDays: string;
  readonly refrigerated: boolean;
  readonly warmUpMinutes: string;
  readonly note: string;
  readonly deviceIdentifier: string;
}

export const EMPTY_DRAFT: MaterialFields = {
  materialClass: '',
  label: '',
  lot: '',
  expiry: '',
  openedOn: '',
  useWithinDays: '',
  refrigerated: false,
  warmUpMinutes: '60',
  note: '',
  deviceIdentifier: '',
};

export function draftOf(material: Material): MaterialFields {
  return {
    materialClass: material.materialClass,
    label: material.label,
    lot: material.lot,
    expiry: material.expiry ?? '',
    openedOn: material.openedOn ?? '',
    useWithinDays: material.useWithinDays?.toString() ?? '',
    refrigerated: material.refrigerated,
    warmUpMinutes: material.warmUpMinutes?.toString() ?? '60',
    note: material.note ?? '',
    deviceIdentifier: material.deviceIdentifier ?? '',
  };
}

export type DraftProblems = Partial<Record<keyof typeof materialFormWords.problems, string>>;

/** A whole day of this millennium, or none: a year of two digits, or of five, is a slip. */
const isDay = (text: string, times: Times): boolean =>
  text === '' || (/^2\d{3}-\d{2}-\d{2}$/.test(text) && times.instantOf(text) !== null);

const isWhole = (text: string): boolean => /^\d{1,4}$/.test(text.trim());

export function draftProblems(
  draft: MaterialFields,
  nowWallMs: number,
  times: Times,
): DraftProblems {
  const words = materialFormWords.problems;
  const today = times.isoDay(nowWallMs);
  return {
    ...(draft.materialClass.trim() === '' ? { class: words.class } : {}),
    ...(draft.label.trim() === '' ? { label: words.label } : {}),
    ...(draft.lot.trim() === '' ? { lot: words.lot } : {}),
    ...(isDay(draft.expiry, times) ? {} : { expiry: words.expiry }),
    ...(isDay(draft.openedOn, times) && draft.openedOn <= today ? {} : { opened: words.opened }),
    ...(draft.useWithinDays.trim() !== '' && !isWhole(draft.useWithinDays)
      ? { within: words.within }
      : {}),
    ...(draft.refrigerated && !isWhole(draft.warmUpMinutes) ? { warm: words.warm } : {}),
    ...(isDeviceIdentifier(draft.deviceIdentifier) ? {} : { device: words.device }),
  };
}

const unlessEmpty = <K extends string>(key: K, value: string): { [P in K]?: string } => {
  const kept: { [P in K]?: string } = {};
  if (value.trim() !== '') kept[key] = value.trim();
  return kept;
};

/** The entry that a draft without problems stands for, on top of what was there before. */
export function materialOf(
  draft: MaterialFields,
  before: Pick<Material, 'id'> & Partial<Material>,
): Material {
  const { recalled, goneOnWallMs, takenOutWallMs, scanned, serial } = before;
  // A lot, a date or an identifier that was typed over is no longer what the code says.
  const isFromCode =
    scanned !== undefined &&
    (before.lot ?? draft.lot) === draft.lot.trim() &&
    (before.expiry ?? draft.expiry) === draft.expiry &&
    (before.deviceIdentifier ?? '') === draft.deviceIdentifier.trim();
  return {
    id: before.id,
    materialClass: draft.materialClass.trim(),
    label: draft.label.trim(),
    lot: draft.lot.trim(),
    refrigerated: draft.refrigerated,
    ...unlessEmpty('expiry', draft.expiry),
    ...unlessEmpty('openedOn', draft.openedOn),
    ...unlessEmpty('note', draft.note),
    ...unlessEmpty('deviceIdentifier', draft.deviceIdentifier),
    ...(draft.useWithinDays.trim() === '' ? {} : { useWithinDays: Number(draft.useWithinDays) }),
    ...(draft.refrigerated ? { warmUpMinutes: Number(draft.warmUpMinutes) } : {}),
    ...(recalled === undefined ? {} : { recalled }),
    ...(goneOnWallMs === undefined ? {} : { goneOnWallMs }),
    ...(takenOutWallMs === undefined ? {} : { takenOutWallMs }),
    ...(isFromCode ? { scanned } : {}),
    ...(isFromCode && serial !== undefined ? { serial } : {}),
  };
}

/** What an accepted label gives to a new entry. */
export function fromLabel(scan: ScannedLabel): Partial<Material> {
  const { label, text } = scan;
  const { lot, expiry, issuer, deviceIdentifier, serial } = label;
  return {
    ...(lot === null ? {} : { lot }),
    ...(expiry === null ? {} : { expiry }),
    ...(issuer === null ? {} : { scanned: { text, issuer } }),
    ...(deviceIdentifier === null ? {} : { deviceIdentifier }),
    ...(serial === null ? {} : { serial }),
  };
}
