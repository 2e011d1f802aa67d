/**
 * A picture in bad light, made ready for the decoder: grey, averaged over three by three points
 * against noise, and spread from the darkest to the brightest share of its own values.
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
export function withContrast(pixels: Pixels): Pixels {
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
