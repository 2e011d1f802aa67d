/** Pictures of label codes as a camera would see them: turned, out of focus, in bad light. */
import { toBuffer } from 'bwip-js/node';
import { PNG } from 'pngjs';
import { lehmer } from '../backup/filled-journal.ts';

/** Grey values from 0 to 255, row by row. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly grey: Float64Array;
}

const WHITE = 255;

/** Draws a code with a general-purpose barcode writer, black on white with a quiet zone. */
export async function drawn(bcid: string, text: string): Promise<Picture> {
  const options = { bcid, text, scale: 4, paddingwidth: 8, paddingheight: 8 };
  const png = PNG.sync.read(await toBuffer({ ...options, backgroundcolor: 'FFFFFF' }));
  const grey = new Float64Array(png.width * png.height);
  for (let i = 0; i < grey.length; i += 1) grey[i] = png.data[i * 4] ?? WHITE;
  return { width: png.width, height: png.height, grey };
}

const at = (p: Picture, x: number, y: number): number =>
  x < 0 || y < 0 || x >= p.width || y >= p.height ? WHITE : (p.grey[y * p.width + x] ?? WHITE);

/** Turned about its middle, on a white ground large enough for it. Bilinear. */
export function turned(picture: Picture, degrees: number): Picture {
  const angle = (degrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const { width, height } = picture;
  const w = Math.ceil(Math.abs(width * cos) + Math.abs(height * sin)) + 8;
  const h = Math.ceil(Math.abs(width * sin) + Math.abs(height * cos)) + 8;
  const grey = new Float64Array(w * h);
  for (let y = 0; y < h; y += 1) {
    for (let x = 0; x < w; x += 1) {
      const [dx, dy] = [x - w / 2, y - h / 2];
      const fromX = dx * cos + dy * sin + width / 2;
      const fromY = -dx * sin + dy * cos + height / 2;
      const [x0, y0] = [Math.floor(fromX), Math.floor(fromY)];
      const [fx, fy] = [fromX - x0, fromY - y0];
      const top = at(picture, x0, y0) * (1 - fx) + at(picture, x0 + 1, y0) * fx;
      const low = at(picture, x0, y0 + 1) * (1 - fx) + at(picture, x0 + 1, y0 + 1) * fx;
      grey[y * w + x] = top * (1 - fy) + low * fy;
    }
  }
  return { width: w, height: h, grey };
}

/** Out of focus: the mean of a square around each point. */
export function blurred(picture: Picture, radiusPx: number): Picture {
  const { width, height } = picture;
  const grey = new Float64Array(width * height);
  const count = (2 * radiusPx + 1) ** 2;
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      let sum = 0;
      for (let dy = -radiusPx; dy <= radiusPx; dy += 1) {
        for (let dx = -radiusPx; dx <= radiusPx; dx += 1) sum += at(picture, x + dx, y + dy);
      }
      grey[y * width + x] = sum / count;
    }
  }
  return { width, height, grey };
}

/** Low light: little contrast, a quarter darker to one side, and noise. */
export function dim(picture: Picture, noise: number): Picture {
  const next = lehmer(41);
  const { width, height } = picture;
  const grey = picture.grey.map((value, i) => {
    const light = 0.75 + (0.25 * (i % width)) / width;
    return 18 + (value / WHITE) * 55 * light + (next() - 0.5) * noise;
  });
  return { width, height, grey };
}

/**
 * One half in shade: there `light` of the light is left, the edge of the shadow is `edge` of the
 * width soft and lies at `degrees` to the upright.
 */
export function shaded(
  picture: Picture,
  o: { readonly light: number; readonly edge: number; readonly degrees: number },
): Picture {
  const next = lehmer(7);
  const angle = (o.degrees * Math.PI) / 180;
  const { width, height } = picture;
  const grey = picture.grey.map((value, i) => {
    const x = (i % width) / width - 0.5;
    const y = Math.floor(i / width) / height - 0.5;
    const across = x * Math.cos(angle) + y * Math.sin(angle);
    const lit = Math.min(1, Math.max(0, across / o.edge + 0.5));
    const light = o.light + (1 - o.light) * lit;
    return (18 + (value / WHITE) * 200) * light + (next() - 0.5) * 6;
  });
  return { width, height, grey };
}

/** As the decoder takes it. */
export function imageOf(picture: Picture): {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray<ArrayBuffer>;
} {
  const data = new Uint8ClampedArray(picture.grey.length * 4);
  picture.grey.forEach((value, i) => {
    data.fill(value, i * 4, i * 4 + 3);
    data[i * 4 + 3] = WHITE;
  });
  return { width: picture.width, height: picture.height, data };
}
