import { describe, expect, it } from 'vitest';
import { findingCodes } from '../../src/protocol/finding.ts';
import { findingWords } from '../../src/words/finding-words.ts';

/** Something for every value that any check hands over. */
const VALUES = {
  id: 'x',
  title: 'Rinse',
  link: 'same',
  from: 'unit',
  to: 'mix',
  chain: ['Rinse', 'Etch'],
  low: 'minMs',
  lowValue: 2000,
  high: 'maxMs',
  highValue: 1000,
  surface: 'facial',
  limitSeconds: 60,
  missingSeconds: 5,
  steps: ['Etch'],
  stepSeconds: [65],
  otherWindows: ['Wet'],
  on: 'Case',
  material: 'zirconia',
  materials: ['leucite'],
  restoration: 'crown',
  restorations: ['veneer'],
  fact: 'substrate',
  mm: 2,
  mostMm: 1.5,
  cause: 'ceramic',
  wayOut: 'dual-cured-cement',
  reachedJPerCm2: 4.2,
  seconds: 60,
  mostSeconds: 40,
  dose: 20,
  most: 16,
  length: 40,
  way: 'list',
  limitMs: 20_000,
  before: 'Etch',
  max: 34,
  value: 22_000,
  unit: 'ms',
  said: ['25 s'],
  least: 1_000,
  hazard: 'light',
  signature: 'Sign',
};

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('what the checks say', () => {
  it.each(findingCodes)('%s is told as a sentence, and not by its code', (code) => {
    const told = findingWords({ code, values: VALUES });
    expect(told).toMatch(/^[A-Z“].*\.$/u);
    expect(told).not.toContain(code);
    expect(told).not.toMatch(/undefined|NaN|\[object|“”|\?| {2}/);
  });

  it('tells crossed limits by their names and in words, not in milliseconds', () => {
    const values = { low: 'minMs', lowValue: 30_000, high: 'targetMs', highValue: 20_000 };
    const told = findingWords({ code: 'bounds-crossed', values });
    expect(plain(told)).toBe('The minimum, 30 s, is above the target, 20 s.');
  });

  it('tells what a link joins in words, not in codes of the document', () => {
    const values = { link: 'same', from: 'tooth', to: 'mix' };
    expect(findingWords({ code: 'link-needs-same-scope', values })).toBe(
      '“the same subject” does not fit: one step is done to each tooth, the other to each portion.',
    );
  });
});
