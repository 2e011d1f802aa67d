/**
 * A picture in bad light, made ready for the decoder. In low light: grey, averaged over three by
 * three points against noise, and spread from the darkest to the brightest share of its own values.
 * Half in shade: each point is black or white by whether it is darker than the mean around it.
 */
import type { Pixels } from './scanner-messages.ts';

/** Share of the points at either end that may be noise. */
const TAIL_SHARE = 0.02;
const LEVELS = 256;

function greyOf({ width, height, data }: Pixels): Uint8Array {
  const grey = new Uint8Array(width * height);
  for (let i = 0; i < grey.length; i += 1) {
    const at = i * 4;
    // Weights of ITU-R BT.601, in parts of 256.
    grey[i] = ((data[at] ?? 0) * 77 + (data[at + 1] ?? 0) * 150 + (data[at + 2] ?? 0) * 29) >> 8;
  }
  return grey;
}

function smoothed(grey: Uint8Array, o: { readonly width: number; readonly height: number }) {
  const { width, height } = o;
  const result = new Uint8Array(grey);
  for (let y = 1; y < height - 1; y += 1) {
    for (let x = 1; x < width - 1; x += 1) {
      let sum = 0;
      for (let dy = -1; dy <= 1; dy += 1) {
        const row = (y + dy) * width + x;
        sum += (grey[row - 1] ?? 0) + (grey[row] ?? 0) + (grey[row + 1] ?? 0);
      }
      result[y * width + x] = sum / 9;
    }
  }
  return result;
}

/** The grey values that leave a small share of all points below and above them. */
function endsOf(grey: Uint8Array): { readonly dark: number; readonly bright: number } {
  const counts = new Uint32Array(LEVELS);
  for (const value of grey) counts[value] = (counts[value] ?? 0) + 1;
  const tail = grey.length * TAIL_SHARE;
  let dark = 0;
  for (let sum = 0; dark < LEVELS - 1; dark += 1) {
    sum += counts[dark] ?? 0;
    if (sum > tail) break;
  }
  let bright = LEVELS - 1;
  for (let sum = 0; bright > 0; bright -= 1) {
    sum += counts[bright] ?? 0;
    if (sum > tail) break;
  }
  return { dark, bright };
}

/** The same picture, easier to read; a new one. */
function withContrast(pixels: Pixels): Pixels {
  const { width, height } = pixels;
  const grey = smoothed(greyOf(pixels), { width, height });
  const { dark, bright } = endsOf(grey);
  const span = Math.max(1, bright - dark);
  const data = new Uint8ClampedArray(grey.length * 4);
  grey.forEach((value, i) => {
    data.fill(((value - dark) * (LEVELS - 1)) / span, i * 4, i * 4 + 3);
    data[i * 4 + 3] = LEVELS - 1;
  });
  return { width, height, data };
}

/**
 * How far around a point its light is measured, as a share of the longer side, and how much darker
 * than that mean a point must be. Bars of linear codes want a near look; the solid squares of matrix
 * codes a far one. Chosen by measuring labels half in shade (no source).
 */
const NEAR = { radiusShare: 0.015, darkShare: 0.92 } as const;
const FAR = { radiusShare: 0.06, darkShare: 0.85 } as const;
const RADIUS_PX_MIN = 6;

/** Sums over all points above and to the left, one row and one column wider than the picture. */
function sumsOf(grey: Uint8Array, o: { readonly width: number; readonly height: number }) {
  const stride = o.width + 1;
  const sums = new Float64Array(stride * (o.height + 1));
  for (let y = 0; y < o.height; y += 1) {
    let row = 0;
    for (let x = 0; x < o.width; x += 1) {
      row += grey[y * o.width + x] ?? 0;
      const at = (y + 1) * stride + x + 1;
      sums[at] = (sums[at - stride] ?? 0) + row;
    }
  }
  return sums;
}

/** Black and white by the light around each point; a new picture. */
function byLocalLight(pixels: Pixels, look: typeof NEAR | typeof FAR): Pixels {
  const { width, height } = pixels;
  const grey = greyOf(pixels);
  const sums = sumsOf(grey, { width, height });
  const stride = width + 1;
  const radius = Math.round(Math.max(width, height) * look.radiusShare);
  const reach = Math.max(RADIUS_PX_MIN, radius);
  const data = new Uint8ClampedArray(grey.length * 4);
  for (let y = 0; y < height; y += 1) {
    const top = Math.max(0, y - reach) * stride;
    const bottom = Math.min(height, y + reach + 1) * stride;
    for (let x = 0; x < width; x += 1) {
      const left = Math.max(0, x - reach);
      const right = Math.min(width, x + reach + 1);
      const lower = (sums[bottom + right] ?? 0) - (sums[bottom + left] ?? 0);
      const upper = (sums[top + right] ?? 0) - (sums[top + left] ?? 0);
      const mean = (lower - upper) / (((bottom - top) / stride) * (right - left));
      const i = y * width + x;
      const isBright = (grey[i] ?? 0) > mean * look.darkShare;
      data.fill(isBright ? LEVELS - 1 : 0, i * 4, i * 4 + 3);
      data[i * 4 + 3] = LEVELS - 1;
    }
  }
  return { width, height, data };
}

/**
 * What is tried, in this order, when nothing is found in a picture as it is. A photograph is given
 * all of them, a frame of the camera one, and the next frame the next one.
 */
export const FURTHER_LOOKS: readonly ((pixels: Pixels) => Pixels)[] = [
  withContrast,
  (pixels) => byLocalLight(pixels, NEAR),
  (pixels) => byLocalLight(pixels, FAR),
];
