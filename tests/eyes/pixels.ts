/** Reads screenshots: light of their pixels, contrast of what is written, and what a blur leaves. */
import { PNG } from 'pngjs';

export interface Pixels {
  readonly width: number;
  readonly height: number;
  /** Red, green, blue and alpha of each pixel, 0 to 255. */
  readonly data: Uint8Array;
}

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export function decode(png: Uint8Array): Pixels {
  return PNG.sync.read(png);
}

/** Linear light of one channel (IEC 61966-2-1:1999). */
const LINEAR = Float64Array.from({ length: 256 }, (_, value) => {
  const share = value / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
});
const linear = (value: number | undefined): number => LINEAR[value ?? 0] ?? 0;

/** Means of the linear channels over all pixels, and the highest blue value there is. */
export function lightOf({ data }: Pixels) {
  const sums = { red: 0, green: 0, blue: 0 };
  let blueMost = 0;
  for (let at = 0; at < data.length; at += 4) {
    sums.red += linear(data[at]);
    sums.green += linear(data[at + 1]);
    sums.blue += linear(data[at + 2]);
    blueMost = Math.max(blueMost, data[at + 2] ?? 0);
  }
  const count = data.length / 4;
  return {
    means: { red: sums.red / count, green: sums.green / count, blue: sums.blue / count },
    blueMost,
  };
}

/** Relative luminance (WCAG 2.2) of every pixel of a box. */
export function luminances(pixels: Pixels, box: Box): Float64Array {
  const { width, height } = { width: Math.floor(box.width), height: Math.floor(box.height) };
  const found = new Float64Array(width * height);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const at = ((Math.floor(box.y) + y) * pixels.width + Math.floor(box.x) + x) * 4;
      const [red, green, blue] = pixels.data.subarray(at, at + 3);
      found[y * width + x] = 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
    }
  }
  return found;
}

/** Contrast ratio (WCAG 2.2) between the ground of a text, which is most of it, and its ink. */
export function inkContrast(values: Float64Array): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  const ground = [...counts].reduce((most, each) => (each[1] > most[1] ? each : most))[0];
  // A single pixel is no ink: what covers less than this share of the box is left out.
  const leastCount = Math.max(2, values.length * 0.002);
  let best = 1;
  for (const [value, count] of counts) {
    if (count < leastCount) continue;
    const [light, dark] = [Math.max(value, ground), Math.min(value, ground)];
    best = Math.max(best, (light + 0.05) / (dark + 0.05));
  }
  return best;
}

/** A Gaussian blur of linear light, as an eye that is out of focus would see it. */
export function blurred(
  values: Float64Array,
  o: { readonly width: number; readonly sigmaPx: number },
): Float64Array {
  const { width, sigmaPx } = o;
  const height = values.length / width;
  const reach = Math.ceil(3 * sigmaPx);
  const weights = Array.from({ length: 2 * reach + 1 }, (_, at) =>
    Math.exp(-((at - reach) ** 2) / (2 * sigmaPx ** 2)),
  );
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const pass = (from: Float64Array, dx: number, dy: number): Float64Array => {
    const to = new Float64Array(from.length);
    for (let y = 0; y < height; y += 1) {
      for (let x = 0; x < width; x += 1) {
        let sum = 0;
        for (let k = -reach; k <= reach; k += 1) {
          const atX = Math.min(width - 1, Math.max(0, x + k * dx));
          const atY = Math.min(height - 1, Math.max(0, y + k * dy));
          sum += (weights[k + reach] ?? 0) * (from[atY * width + atX] ?? 0);
        }
        to[y * width + x] = sum / total;
      }
    }
    return to;
  };
  return pass(pass(values, 1, 0), 0, 1);
}

/** Root mean square difference of two pictures of one size. */
export function rmsDifference(a: Float64Array, b: Float64Array): number {
  const sum = a.reduce((total, value, at) => total + (value - (b[at] ?? 0)) ** 2, 0);
  return Math.sqrt(sum / a.length);
}
