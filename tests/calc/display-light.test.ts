// Blue light of a screen. Checked against the blue-light hazard efficacy of daylight D65, which a white
// display matches in colour: 0.9 mW/lm, so 0.9 W/m2/sr at 1000 cd/m2 (worked from a flat spectrum
// between 400 and 700 nm and the weights of IEC 62471; from memory). Sums of colours must add up.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parsePrimaries, screenBlue } from '../../src/calc/display-light.ts';
import { TABLES } from './calc-support.ts';

const parsed = parsePrimaries(
  JSON.parse(
    readFileSync(new URL('../../shared/tables/display-primaries.json', import.meta.url), 'utf8'),
  ),
);
if (!parsed.ok) throw new Error('display-primaries.json cannot be read');
const primaries = parsed.value;

const blueOf = (red: number, green: number, blue: number): number =>
  screenBlue({
    means: { red, green, blue },
    primaries,
    rows: TABLES.blueLight,
    whiteCdPerM2: 1000,
  });

describe('blue light of a screen', () => {
  it('of white is that of daylight within a quarter, far below the limit of 100 W/m2/sr', () => {
    expect(blueOf(1, 1, 1)).toBeGreaterThan(0.9 * 0.75);
    expect(blueOf(1, 1, 1)).toBeLessThan(0.9 * 1.25);
  });

  it('is the sum of its primaries, and nearly all from the blue one', () => {
    const [red, green, blue] = [blueOf(1, 0, 0), blueOf(0, 1, 0), blueOf(0, 0, 1)];
    expect(red + green + blue).toBeCloseTo(blueOf(1, 1, 1), 9);
    expect(blue / blueOf(1, 1, 1)).toBeGreaterThan(0.85);
    expect(red).toBeLessThan(green);
    expect(blueOf(0.25, 0.5, 0.125)).toBeCloseTo(red / 4 + green / 2 + blue / 8, 9);
  });

  it('reads no table with a primary missing', () => {
    expect(parsePrimaries({ title: 'two primaries only', rows: [] }).ok).toBe(false);
  });

  it('has primaries whose luminance adds up to white but for what was left out of blue', () => {
    expect(primaries.reduce((sum, p) => sum + p.luminanceShare, 0)).toBeCloseTo(1, 1);
  });
});
