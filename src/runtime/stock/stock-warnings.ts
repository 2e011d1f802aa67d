/**
 * What has to be said about a material before it is used. Facts of its label and of the clinic's own
 * notes, judged by the clinic's calendar; product instructions govern. Pure.
 */
import { MS_PER_HOUR, MS_PER_MINUTE } from '../../base/units.ts';
import type { MaterialLot } from '../../engine/material-types.ts';
import type { MaterialWarning } from '../../words/codes.ts';
import type { Times } from '../../words/date-words.ts';
import { lastDayOf, lastDayOpen } from './last-day.ts';
import type { Material } from './stock-types.ts';

/** Taken out longer ago than this, it has gone back in meanwhile (common practice, no source). */
const OUT_HOURS_MAX = 12;

function coldness(material: Material, nowWallMs: number): MaterialWarning[] {
  const { refrigerated, takenOutWallMs, warmUpMinutes = 0 } = material;
  if (!refrigerated) return [];
  const outMs = takenOutWallMs === undefined ? null : nowWallMs - takenOutWallMs;
  if (outMs === null || outMs < 0 || outMs > OUT_HOURS_MAX * MS_PER_HOUR) {
    return [{ code: 'still-cold', minutes: null }];
  }
  const minutes = Math.ceil(warmUpMinutes - outMs / MS_PER_MINUTE);
  return minutes > 0 ? [{ code: 'still-cold', minutes }] : [];
}

/** Everything that speaks against using it now, the gravest first. */
export function materialWarnings(
  material: Material,
  nowWallMs: number,
  times: Times,
): readonly MaterialWarning[] {
  const { recalled, expiry } = material;
  const openUntil = lastDayOpen(material);
  const expiredDays = expiry === undefined ? 0 : times.daysFrom(expiry, nowWallMs);
  const openDays = openUntil === null ? 0 : times.daysFrom(openUntil, nowWallMs);
  return [
    ...(recalled === undefined ? [] : [{ code: 'recalled' as const, reason: recalled.reason }]),
    ...(expiredDays > 0 ? [{ code: 'expired' as const, days: expiredDays }] : []),
    ...(openDays > 0 ? [{ code: 'opened-too-long' as const, days: openDays }] : []),
    ...coldness(material, nowWallMs),
  ];
}

/** The lot as it goes into the record of a case, with what was said about it at that moment. */
export function lotOf(material: Material, nowWallMs: number, times: Times): MaterialLot {
  const { materialClass, label, lot, expiry, openedOn, scanned, deviceIdentifier, serial } =
    material;
  const last = lastDayOf(material);
  return {
    materialClass,
    label,
    lot,
    ...(expiry === undefined ? {} : { expiry }),
    ...(openedOn === undefined ? {} : { openedOn }),
    ...(last?.because === 'opened' ? { useBy: last.day } : {}),
    ...(scanned === undefined ? {} : { scanned }),
    ...(deviceIdentifier === undefined ? {} : { deviceIdentifier }),
    ...(serial === undefined ? {} : { serial }),
    warnings: materialWarnings(material, nowWallMs, times).map((w) => w.code),
  };
}
