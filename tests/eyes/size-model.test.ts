// Character heights after ISO 9241-303:2011, h = 2 D tan(angle / 2). Worked by hand for 2 m: 22
// minutes of arc are 0.0063995 rad, so 12.80 mm; 16 are 0.0046542 rad, so 9.31 mm.
import { describe, expect, it } from 'vitest';
import { farthestM, tooFarFor, wantedMm } from '../../src/ui/shared/size-model.ts';

describe('what a distance asks for', () => {
  it('is 12.80 mm for the seconds and 9.31 mm for the step at 2 m', () => {
    expect(wantedMm(2).seconds).toBeCloseTo(12.8, 2);
    expect(wantedMm(2).step).toBeCloseTo(9.31, 2);
  });
});

describe('whether a screen is too small', () => {
  it.each([
    // what                       seconds  step   distance  farthest
    ['both large enough', 12.8, 9.31, 2, null],
    ['seconds too small', 6.4, 9.31, 2, 1],
    ['step too small', 20, 4.655, 2, 1],
    ['the same screen, nearer', 6.4, 4.655, 1, null],
  ])('%s', (_, secondsMm, stepMm, distanceM, farthest) => {
    const near = tooFarFor({ secondsMm, stepMm }, distanceM);
    if (farthest === null) expect(near).toBeNull();
    else expect(Math.abs((near ?? 0) - farthest)).toBeLessThanOrEqual(0.1);
  });

  it('says nothing where nothing is shown', () => {
    expect(farthestM({ secondsMm: null, stepMm: null })).toBeNull();
    expect(tooFarFor({ secondsMm: null, stepMm: 9.4 }, 2)).toBeNull();
  });
});
