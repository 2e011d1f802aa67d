/** The stock list as it is shown, and an entry of it while it is typed. Pure. */

import type { Protocol } from '../../protocol/types.ts';
import type { ScannedLabel } from '../../runtime/scanner/scanner-label.ts';
import type { Material } from '../../runtime/stock/stock-types.ts';
import { lastDayOpen, materialWarnings } from '../../runtime/stock/stock-warnings.ts';
import type { Times } from '../../words/date-words.ts';
import { materialFormWords, stockWords } from '../../words/material-stock-words.ts';
import { warningWords } from '../../words/material-warning-words.ts';
import type { MarkShape } from '../parts/StateMark.tsx';

/** Said before the last day, so that the next box is ordered (common practice, no source). */
const SOON_DAYS = 30;

export interface StockRow {
  readonly material: Material;
  readonly expiry: string;
  readonly opened: string;
  readonly mark: MarkShape;
  /** The gravest first; what comes after is in `more`. */
  readonly words: string;
  readonly more: readonly string[];
}

interface StockGroup {
  readonly materialClass: string;
  readonly rows: readonly StockRow[];
}

function soonWords(material: Material, nowWallMs: number, times: Times): string | null {
  const lastDays = [material.expiry, lastDayOpen(material) ?? undefined].filter(
    (day) => day !== undefined,
  );
  const left = Math.min(...lastDays.map((day) => -times.daysFrom(day, nowWallMs)));
  return left <= SOON_DAYS ? stockWords.soon(left) : null;
}

/** One line of the list. */
export function stockRow(material: Material, nowWallMs: number, times: Times): StockRow {
  const warnings = materialWarnings(material, nowWallMs, times);
  const [first, ...more] = warnings.map(warningWords);
  const isGrave = warnings.some((w) => w.code !== 'still-cold');
  const soon = soonWords(material, nowWallMs, times);
  const until = lastDayOpen(material);
  const opened = material.openedOn === undefined ? null : times.dateOf(material.openedOn);
  return {
    material,
    expiry: material.expiry === undefined ? stockWords.noExpiry : times.dateOf(material.expiry),
    opened:
      opened === null
        ? stockWords.notOpened
        : until === null
          ? opened
          : stockWords.openedUntil({ opened, until: times.dateOf(until) }),
    mark: isGrave ? 'broken' : first !== undefined ? 'part' : soon !== null ? 'target' : 'full',
    words:
      first ??
      soon ??
      (material.expiry === undefined ? stockWords.noRecall : stockWords.notExpired),
    more: first !== undefined && soon !== null && !isGrave ? [...more, soon] : more,
  };
}

/** The list by class, found by words. */
export function stockGroups(
  materials: readonly Material[],
  o: {
    readonly nowWallMs: number;
    readonly times: Times;
    readonly search: string;
    readonly withGone: boolean;
  },
): readonly StockGroup[] {
  const words = o.search.toLowerCase().split(/\s+/).filter(Boolean);
  const shown = materials.filter((m) => {
    const text = `${m.materialClass} ${m.label} ${m.lot} ${m.note ?? ''}`.toLowerCase();
    return (o.withGone || m.goneOnWallMs === undefined) && words.every((w) => text.includes(w));
  });
  const classes = [...new Set(shown.map((m) => m.materialClass))].sort();
  return classes.map((materialClass) => ({
    materialClass,
    rows: shown
      .filter((m) => m.materialClass === materialClass)
      .toSorted((a, b) => (a.expiry ?? '9').localeCompare(b.expiry ?? '9'))
      .map((m) => stockRow(m, o.nowWallMs, o.times)),
  }));
}

/** Classes that the protocols ask for, and those already on the list. */
export function knownClasses(
  protocols: readonly Pick<Protocol, 'slots'>[],
  materials: readonly Material[],
): readonly string[] {
  const asked = protocols.flatMap((p) => p.slots.map((s) => s.materialClass));
  return [...new Set([...asked, ...materials.map((m) => m.materialClass)])].sort();
}

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
  const { recalled, goneOnWallMs, takenOutWallMs, scanned, deviceIdentifier, serial } = before;
  // A lot or a date that was typed over is no longer what the code says.
  const isFromCode =
    scanned !== undefined &&
    (before.lot ?? draft.lot) === draft.lot.trim() &&
    (before.expiry ?? draft.expiry) === draft.expiry;
  return {
    id: before.id,
    materialClass: draft.materialClass.trim(),
    label: draft.label.trim(),
    lot: draft.lot.trim(),
    refrigerated: draft.refrigerated,
    ...unlessEmpty('expiry', draft.expiry),
    ...unlessEmpty('openedOn', draft.openedOn),
    ...unlessEmpty('note', draft.note),
    ...(draft.useWithinDays.trim() === '' ? {} : { useWithinDays: Number(draft.useWithinDays) }),
    ...(draft.refrigerated ? { warmUpMinutes: Number(draft.warmUpMinutes) } : {}),
    ...(recalled === undefined ? {} : { recalled }),
    ...(goneOnWallMs === undefined ? {} : { goneOnWallMs }),
    ...(takenOutWallMs === undefined ? {} : { takenOutWallMs }),
    ...(isFromCode ? { scanned } : {}),
    ...(isFromCode && deviceIdentifier !== undefined ? { deviceIdentifier } : {}),
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
