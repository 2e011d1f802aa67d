/**
 * Whether the sizes that a screen has room for can be read from where the dentist sits. Heights in mm,
 * distances in m; angles after ISO 9241-303: 22 minutes of arc for the seconds, 16 for the rest.
 */
import { ARC_MINUTES_MIN, characterHeightMm } from '../../calc/legibility.ts';

/** The upper end of what the standard prefers, for the one number. */
const ARC_MINUTES_SECONDS = 22;
/** A font size is rounded by the browser; a hundredth of the height is below what anyone can see. */
const ROUNDING = 0.01;

export interface ChairSizes {
  /** Height of the digits of the clock; null where no clock runs. */
  readonly secondsMm: number | null;
  /** Height of the capitals of the step. */
  readonly stepMm: number | null;
}

/** Distance in m at which a character of this height has this angle: h is in proportion to D. */
function reachM(heightMm: number, arcMinutes: number): number {
  return heightMm / characterHeightMm({ distanceM: 1, arcMinutes });
}

/** The farthest distance in m from which both can be read; null when nothing is shown. */
export function farthestM({ secondsMm, stepMm }: ChairSizes): number | null {
  const reaches = [
    ...(secondsMm === null ? [] : [reachM(secondsMm, ARC_MINUTES_SECONDS)]),
    ...(stepMm === null ? [] : [reachM(stepMm, ARC_MINUTES_MIN)]),
  ];
  return reaches.length === 0 ? null : Math.min(...reaches);
}

/** The distance to step up to, in m to one place, when `distanceM` is too far; else null. */
export function tooFarFor(sizes: ChairSizes, distanceM: number): number | null {
  const farthest = farthestM(sizes);
  if (farthest === null || farthest >= distanceM * (1 - ROUNDING)) return null;
  return Math.floor(farthest * 10) / 10;
}

/** Heights that are wanted at a distance. */
export function wantedMm(distanceM: number): { readonly seconds: number; readonly step: number } {
  return {
    seconds: characterHeightMm({ distanceM, arcMinutes: ARC_MINUTES_SECONDS }),
    step: characterHeightMm({ distanceM, arcMinutes: ARC_MINUTES_MIN }),
  };
}
