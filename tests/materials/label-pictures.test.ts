/**
 * Labels drawn by a general-purpose barcode writer (bwip-js, which follows BWIPP), seen turned, out
 * of focus and in low light, read by the bundled decoder and then by this project's own reader: what
 * comes out is what was put in.
 */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { beforeAll, describe, expect, it } from 'vitest';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import type { DeviceLabel } from '../../src/calc/udi/label.ts';
import { readScans } from '../../src/runtime/scanner/scanner-label.ts';
import type { Pixels } from '../../src/runtime/scanner/scanner-messages.ts';
import { decoderOptions } from '../../src/runtime/scanner/scanner-messages.ts';
import { FURTHER_LOOKS } from '../../src/runtime/scanner/scanner-pixels.ts';
import { blurred, dim, drawn, imageOf, type Picture, shaded, turned } from './pictures.ts';

const PRESENT_YEAR = 2026;

beforeAll(async () => {
  const path = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm');
  const bytes = new Uint8Array(await readFile(path));
  await prepareZXingModule({ overrides: { wasmBinary: bytes.buffer }, fireImmediately: true });
});

async function found(image: Pixels): Promise<readonly string[]> {
  const input = { ...image, colorSpace: 'srgb' as const, pixelFormat: 'rgba-unorm8' as const };
  const codes = await readBarcodes(input, decoderOptions({ isStill: false }));
  return codes.filter((c) => c.isValid).map((c) => `${c.symbologyIdentifier}${c.text}`);
}

/** As the worker does it: as it is, then as it may be easier to read. */
async function textsIn(picture: Picture): Promise<readonly string[]> {
  const image = imageOf(picture);
  for (const look of [(p: Pixels) => p, ...FURTHER_LOOKS]) {
    const texts = await found(look(image));
    if (texts.length > 0) return texts;
  }
  return [];
}

interface Row {
  readonly bcid: string;
  readonly text: string;
  readonly is: Partial<DeviceLabel>;
}

const ROWS: readonly Row[] = [
  {
    bcid: 'gs1datamatrix',
    text: '(01)04012345678901(17)281100(10)AB-12(21)77',
    is: {
      issuer: 'GS1',
      deviceIdentifier: '04012345678901',
      lot: 'AB-12',
      // Day 00 is the last day of the month: GS1 General Specifications, section 3.4.7.
      expiry: '2028-11-30',
      expiryStatedTo: 'month',
      serial: '77',
    },
  },
  {
    bcid: 'gs1-128',
    text: '(01)04012345678901(17)281130(10)LOT7',
    is: { issuer: 'GS1', deviceIdentifier: '04012345678901', lot: 'LOT7', expiry: '2028-11-30' },
  },
  {
    bcid: 'gs1qrcode',
    text: '(01)04012345678901(11)260102(10)K/9(21)0001',
    is: {
      issuer: 'GS1',
      deviceIdentifier: '04012345678901',
      lot: 'K/9',
      produced: '2026-01-02',
      serial: '0001',
    },
  },
  {
    bcid: 'hibcdatamatrix',
    text: 'A99912345/$$52829310X3',
    is: { issuer: 'HIBC', deviceIdentifier: 'A99912345', lot: '10X3', expiry: '2028-10-19' },
  },
  {
    bcid: 'hibccode128',
    text: 'A99912345/$$1128LOT5',
    is: { issuer: 'HIBC', deviceIdentifier: 'A99912345', lot: 'LOT5', expiry: '2028-11-30' },
  },
  {
    bcid: 'hibccode39',
    text: 'A99912345/$$7LOT5',
    is: { issuer: 'HIBC', deviceIdentifier: 'A99912345', lot: 'LOT5', expiry: null },
  },
  {
    bcid: 'hibcqrcode',
    text: 'A99912345/$LOT5',
    is: { issuer: 'HIBC', deviceIdentifier: 'A99912345', lot: 'LOT5' },
  },
];

const VIEWS: readonly (readonly [string, (p: Picture) => Picture])[] = [
  ['as drawn', (p) => p],
  ['turned by 8 degrees', (p) => turned(p, 8)],
  ['turned by 90 degrees', (p) => turned(p, 90)],
  ['turned by 173 degrees', (p) => turned(p, 173)],
  ['out of focus', (p) => blurred(p, 1)],
  ['in low light', (p) => dim(p, 12)],
  ['turned, out of focus and in low light', (p) => dim(blurred(turned(p, 5), 1), 8)],
];

describe.each(VIEWS)('a label %s', (_, view) => {
  it.each(ROWS)('in $bcid reads back as it was written', async ({ bcid, text, is }) => {
    const texts = await textsIn(view(await drawn(bcid, text)));
    expect(texts).toHaveLength(1);
    const { label, isWhole } = readScans(texts, { presentYear: PRESENT_YEAR });
    expect(label).toMatchObject({ ...is, faults: [] });
    expect(isWhole).toBe(true);
  });
});

// A shadow with a sharp and with a soft edge, across the bars and slanting over them.
const SHADES = [0.4, 0.25].flatMap((light) =>
  [0.01, 0.2].flatMap((edge) => [0, 45].map((degrees) => [light, edge, degrees] as const)),
);

describe.each(ROWS.filter((r) => /128|39/.test(r.bcid)))('half in shade, $bcid', (row) => {
  it.each(SHADES)('at %d of the light, edge %d of the width, %d degrees', async (...shade) => {
    const [light, edge, degrees] = shade;
    const label = await drawn(row.bcid, row.text);
    for (const seen of [label, blurred(label, 1)]) {
      const texts = await textsIn(shaded(seen, { light, edge, degrees }));
      expect(readScans(texts, { presentYear: PRESENT_YEAR }).label).toMatchObject(row.is);
    }
  });
});

it('matrix codes half in shade are read as long as the shadow has a soft edge', async () => {
  for (const { bcid, text, is } of ROWS.filter((r) => /matrix|qr/.test(r.bcid))) {
    for (const light of [0.4, 0.25]) {
      const seen = shaded(await drawn(bcid, text), { light, edge: 0.2, degrees: 0 });
      const { label } = readScans(await textsIn(seen), { presentYear: PRESENT_YEAR });
      expect({ bcid, light, lot: label.lot }).toEqual({ bcid, light, lot: is.lot });
    }
  }
});

it('matrix codes are read at any angle', async () => {
  for (const { bcid, text, is } of ROWS.filter((r) => /matrix|qr/.test(r.bcid))) {
    for (const degrees of [30, 45, 60, 200, 305]) {
      const texts = await textsIn(turned(await drawn(bcid, text), degrees));
      const { label } = readScans(texts, { presentYear: PRESENT_YEAR });
      expect({ bcid, degrees, lot: label.lot }).toEqual({ bcid, degrees, lot: is.lot });
    }
  }
});

it('two linear codes of one label are read together, in either order', async () => {
  const device = await textsIn(await drawn('gs1-128', '(01)04012345678901'));
  const batch = await textsIn(await drawn('gs1-128', '(17)281130(10)LOT7'));
  for (const scans of [
    [...device, ...batch],
    [...batch, ...device],
  ]) {
    const read = readScans(scans, { presentYear: PRESENT_YEAR });
    expect(read.label).toMatchObject({
      lot: 'LOT7',
      deviceIdentifier: '04012345678901',
      faults: [],
    });
    expect(read.isWhole).toBe(true);
  }
  expect(readScans(batch, { presentYear: PRESENT_YEAR }).isWhole).toBe(false);
});
