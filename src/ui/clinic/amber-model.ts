/**
 * How much less blue the amber screen sends out: both looks as they stand in the style sheet, on a
 * screen of typical primaries. Means of linear sRGB; a chair screen is about one part ink to nine parts
 * ground, as counted on pictures of it in tests/eyes.
 */

import { type LinearMeans, type Primary, screenBlue } from '../../calc/display-light.ts';
import { parseHexColour } from '../../calc/legibility.ts';
import type { BlueLightRow } from '../../calc/tables.ts';

const INK_SHARE = 0.1;
/** White of a tablet in a lit room; common practice, no source. */
export const WHITE_CD_PER_M2 = 400;

export interface Palette {
  readonly ground: string;
  readonly ink: string;
}

/** One channel of sRGB from 0 to 255 as linear light (IEC 61966-2-1:1999). */
function linear(channel: number): number {
  const share = channel / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
}

/** The mean of a picture that is ground and ink; null when a colour cannot be read. */
function meansOf({ ground, ink }: Palette): LinearMeans | null {
  const [under, over] = [parseHexColour(ground), parseHexColour(ink)];
  if (under === null || over === null) return null;
  const mix = (channel: 'red' | 'green' | 'blue'): number =>
    (1 - INK_SHARE) * linear(under[channel]) + INK_SHARE * linear(over[channel]);
  return { red: mix('red'), green: mix('green'), blue: mix('blue') };
}

/** Weighted radiance in W/m2/sr before and after; null when a palette cannot be read. */
export function blueBeforeAndAfter(o: {
  readonly before: Palette;
  readonly after: Palette;
  readonly primaries: readonly Primary[];
  readonly rows: readonly BlueLightRow[];
}): { readonly before: number; readonly after: number } | null {
  const { primaries, rows } = o;
  const [was, is] = [meansOf(o.before), meansOf(o.after)];
  if (was === null || is === null) return null;
  const blue = (means: LinearMeans): number =>
    screenBlue({ means, primaries, rows, whiteCdPerM2: WHITE_CD_PER_M2 });
  return { before: blue(was), after: blue(is) };
}
