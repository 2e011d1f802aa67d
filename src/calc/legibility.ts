/**
 * Whether people can read and press what the screen shows: character height at a distance,
 * contrast of two colours, and the size of touch targets.
 */
import * as v from 'valibot';
import { present } from '../base/assert.ts';
import type { Problem } from '../base/problem.ts';
import { ok, type Result } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { type Read, readNumber, readObject } from './reading.ts';

const ARC_MINUTES_PER_TURN = 360 * 60;
const MM_PER_M = 1000;
const MM_PER_INCH = 25.4;

/** Least character height in minutes of arc (ISO 9241-303, which prefers 20). */
export const ARC_MINUTES_MIN = 16;

/**
 * Height in mm of a character that subtends `arcMinutes` at `distanceM`: h = 2 D tan(theta / 2).
 * @param view distance above 0 m; angle above 0 arc minutes.
 */
export function characterHeightMm(view: {
  readonly distanceM: number;
  readonly arcMinutes: number;
}): number {
  const angle = (view.arcMinutes / ARC_MINUTES_PER_TURN) * 2 * Math.PI;
  return 2 * view.distanceM * MM_PER_M * Math.tan(angle / 2);
}

export interface Rgb {
  /** Each channel from 0 to 255. */
  readonly red: number;
  readonly green: number;
  readonly blue: number;
}

/** Reads `#rgb` or `#rrggbb`; null for anything else. */
export function parseHexColour(text: string): Rgb | null {
  const short = /^#([0-9a-f])([0-9a-f])([0-9a-f])$/i.exec(text);
  const long = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(text);
  const parts = short?.slice(1).map((digit) => digit + digit) ?? long?.slice(1);
  if (parts === undefined) return null;
  const [red = 0, green = 0, blue = 0] = parts.map((pair) => Number.parseInt(pair, 16));
  return { red, green, blue };
}

function linearChannel(channel: number): number {
  const share = channel / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
}

/** Relative luminance, 0 (black) to 1 (white), as WCAG 2.2 defines it for sRGB. */
function relativeLuminance({ red, green, blue }: Rgb): number {
  return 0.2126 * linearChannel(red) + 0.7152 * linearChannel(green) + 0.0722 * linearChannel(blue);
}

/** Contrast ratio of two colours, 1 to 21, the same in either order (WCAG 2.2). */
function contrastRatio(a: Rgb, b: Rgb): number {
  const one = relativeLuminance(a);
  const other = relativeLuminance(b);
  return (Math.max(one, other) + 0.05) / (Math.min(one, other) + 0.05);
}

/** Least contrast for text, for large text and parts of controls, and for enhanced text (AAA). */
const CONTRAST_TEXT = 4.5;
const CONTRAST_LARGE = 3;
const CONTRAST_ENHANCED = 7;

/** Least target sides in CSS px: 24 (AA, 2.5.8) and 44 (AAA, 2.5.5). */
const TARGET_MIN_PX = 24;
const TARGET_ENHANCED_PX = 44;

const readColour: Read<Rgb> = v.pipe(
  v.custom<string>(
    (came) => typeof came === 'string' && parseHexColour(came) !== null,
    'a colour such as "#0a4" or "#00aa44"',
  ),
  v.transform((text) => present(parseHexColour(text), 'a colour that was just checked')),
);

/** `legibility`: character height at a distance. */
export const legibilityCalc: Calc = defineCalc(
  {
    name: 'legibility',
    about: 'character height in mm for an angle at a distance',
    source: 'ISO 9241-303 (16 arc minutes at least, 20-22 preferred): h = 2 D tan(theta / 2)',
  },
  readObject({
    distanceM: readNumber({ above: 0, sane: 1000 }),
    arcMinutes: readNumber({ above: 0, sane: 5400 }),
  }),
  (input) => ok({ heightMm: characterHeightMm(input) }),
);

/** `contrast`: contrast ratio of two colours and the levels it reaches. */
export const contrastCalc: Calc = defineCalc(
  {
    name: 'contrast',
    about: 'contrast ratio of two colours',
    source: 'WCAG 2.2, success criteria 1.4.3, 1.4.6 and 1.4.11',
  },
  readObject({ foreground: readColour, background: readColour }),
  ({ foreground, background }) => {
    const ratio = contrastRatio(foreground, background);
    return ok({
      ratio,
      text: ratio >= CONTRAST_TEXT,
      large: ratio >= CONTRAST_LARGE,
      enhanced: ratio >= CONTRAST_ENHANCED,
    });
  },
);

function targetSize(target: {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pxPerInch: number;
}): Result<object, Problem> {
  const side = Math.min(target.widthPx, target.heightPx);
  return ok({
    sideMm: (side / target.pxPerInch) * MM_PER_INCH,
    minimum: side >= TARGET_MIN_PX,
    enhanced: side >= TARGET_ENHANCED_PX,
  });
}

/** `target-size`: the levels that a touch target reaches, and its smaller side in mm. */
export const targetSizeCalc: Calc = defineCalc(
  {
    name: 'target-size',
    about: 'levels reached by a touch target, and its smaller side in mm',
    source:
      'WCAG 2.2, success criteria 2.5.8 (24 px) and 2.5.5 (44 px); performance levels off at 20 mm (Chen et al., Appl Ergon 2013;44:297)',
  },
  readObject({
    widthPx: readNumber({ above: 0, sane: 100_000 }),
    heightPx: readNumber({ above: 0, sane: 100_000 }),
    pxPerInch: readNumber({ above: 0, sane: 2000 }),
  }),
  targetSize,
);
