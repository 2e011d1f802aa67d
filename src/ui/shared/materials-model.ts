/** The stock list as it is shown. Pure. */

import type { Protocol } from '../../protocol/types.ts';
import { byLastDay, lastDayOf } from '../../runtime/stock/last-day.ts';
import type { Material } from '../../runtime/stock/stock-types.ts';
import { materialWarnings } from '../../runtime/stock/stock-warnings.ts';
import type { Times } from '../../words/date-words.ts';
import { stockWords } from '../../words/material-stock-words.ts';
import { warningWords } from '../../words/material-warning-words.ts';
import type { MarkShape } from '../parts/StateMark.tsx';

/** Where recall marks are made and removed, at the lead's desk. */
export const RECALLS = '/lead/recalls';
/** Where the cases of a lot are listed that have to be called. */
export const callsPlace = (lot: string): string => `/materials/calls/${encodeURIComponent(lot)}`;

/** Said before the last day, so that the next box is ordered (common practice, no source). */
const SOON_DAYS = 30;

export interface StockRow {
  readonly material: Material;
  /** The last day of use: of the label, or after opening. */
  readonly useBy: string;
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
  const last = lastDayOf(material);
  if (last === null) return null;
  const left = -times.daysFrom(last.day, nowWallMs);
  return left <= SOON_DAYS ? stockWords.soon(left) : null;
}

/** One line of the list. */
export function stockRow(material: Material, nowWallMs: number, times: Times): StockRow {
  const warnings = materialWarnings(material, nowWallMs, times);
  const [first, ...more] = warnings.map(warningWords);
  const isGrave = warnings.some((w) => w.code !== 'still-cold');
  const soon = soonWords(material, nowWallMs, times);
  const last = lastDayOf(material);
  const opened = material.openedOn === undefined ? null : times.dateOf(material.openedOn);
  return {
    material,
    useBy: last === null ? stockWords.useByNone : times.dateOf(last.day),
    expiry: material.expiry === undefined ? stockWords.noExpiry : times.dateOf(material.expiry),
    opened: opened ?? stockWords.notOpened,
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
      .toSorted(byLastDay)
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
