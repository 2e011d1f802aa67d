import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  archFromFront,
  neighbours,
  palmerPlain,
  TEETH,
  toothByFdi,
  toothByUniversal,
  toothCalc,
} from '../../src/calc/tooth.ts';
import { computed, refused } from './calc-support.ts';
import vectors from './vectors/teeth.json' with { type: 'json' };

describe('tooth notation', () => {
  // Source of every row: vectors/teeth.json names it (HL7 FHIR ex-tooth 4.0.1 and public tables).
  test.each(vectors.teeth)('FDI %i is Universal %i and Palmer %s %i', (...row) => {
    const [fdi, universal, quadrant, position, , name, definition] = row;
    expect(computed(toothCalc, { fdi })).toMatchObject({
      fdi,
      universal,
      palmer: { quadrant, position },
      name,
    });
    expect(computed(toothCalc, { universal })).toMatchObject({ fdi, universal });
    const tooth = toothByFdi(Number(fdi));
    expect(tooth).not.toBeNull();
    if (tooth === null) return;
    expect(palmerPlain(tooth)).toBe(`${quadrant}${position}`);
    const jaw = tooth.jaw === 'upper' ? 'Upper' : 'Lower';
    const side = tooth.side === 'right' ? 'Right' : 'Left';
    expect(definition).toContain(`${jaw} ${side} Tooth ${position} `);
  });

  test('the lower quadrants are not mirrored, as they are in a public conversion function', () => {
    // Universal 17 to 24 run along the lower left from the third molar to the midline.
    expect(computed(toothCalc, { fdi: 38 })['universal']).toBe(17);
    expect(computed(toothCalc, { fdi: 38 })['universal']).not.toBe(24);
    expect(computed(toothCalc, { fdi: 41 })['universal']).toBe(25);
  });

  test('single digits are no teeth: FHIR uses them for quadrants, with 3/4 and 7/8 swapped', () => {
    for (const fdi of [3, 4, 7, 8]) {
      expect(refused(toothCalc, { fdi })).toMatch(/^calc\.tooth\.fdi: expected a permanent tooth/);
    }
  });

  test('codes that came as text go back as text', () => {
    expect(computed(toothCalc, { fdi: '36' })).toMatchObject({ fdi: '36', universal: '19' });
    expect(computed(toothCalc, { universal: '27' })).toMatchObject({ fdi: '43' });
  });

  test.each([
    [
      { fdi: 19 },
      'calc.tooth.fdi: expected a permanent tooth 11-18, 21-28, 31-38 or 41-48, got 19',
    ],
    [
      { fdi: 55 },
      'calc.tooth.fdi: expected a permanent tooth 11-18, 21-28, 31-38 or 41-48, got 55',
    ],
    [{ universal: 33 }, 'calc.tooth.universal: expected a whole number from 1 to 32, got 33'],
    [{ universal: 1.5 }, 'calc.tooth.universal: expected a whole number from 1 to 32, got 1.5'],
    [{ universal: 'A' }, 'calc.tooth.universal: expected a whole number from 1 to 32, got "A"'],
    [{}, 'calc.tooth: expected exactly one of the keys fdi and universal, got nothing'],
    [
      { fdi: 11, universal: 8 },
      'calc.tooth: expected exactly one of the keys fdi and universal, got both',
    ],
    [
      { palmer: 'UR1' },
      'calc.tooth.palmer: expected no such key (known: fdi, universal), got "UR1"',
    ],
    [null, 'calc.tooth: expected an object with the keys fdi, universal, got null'],
    [[11], 'calc.tooth: expected an object with the keys fdi, universal, got [11]'],
  ])('refuses %j', (input, line) => {
    expect(refused(toothCalc, input)).toBe(line);
  });

  test('each notation leads back to the same tooth', () => {
    fc.assert(
      fc.property(fc.constantFrom(...TEETH), (tooth) => {
        expect(toothByFdi(tooth.fdi)).toBe(tooth);
        expect(toothByUniversal(tooth.universal)).toBe(tooth);
      }),
    );
    expect(new Set(TEETH.map((tooth) => tooth.universal)).size).toBe(32);
  });
});

describe('order in the mouth', () => {
  // As on any chart after ISO 3950, the patient's right stands on the viewer's left.
  test('from the front the upper arch reads 18 to 11, then 21 to 28', () => {
    expect(archFromFront('upper').map((tooth) => tooth.fdi)).toEqual([
      18, 17, 16, 15, 14, 13, 12, 11, 21, 22, 23, 24, 25, 26, 27, 28,
    ]);
    expect(archFromFront('lower').map((tooth) => tooth.fdi)).toEqual([
      48, 47, 46, 45, 44, 43, 42, 41, 31, 32, 33, 34, 35, 36, 37, 38,
    ]);
  });

  test('central incisors touch across the midline, and arches end at the third molars', () => {
    const tooth = (fdi: number) => {
      const found = toothByFdi(fdi);
      if (found === null) throw new Error(`no tooth ${fdi}`);
      return found;
    };
    expect(neighbours(tooth(11)).map((each) => each.fdi)).toEqual([12, 21]);
    expect(neighbours(tooth(28)).map((each) => each.fdi)).toEqual([27]);
  });
});
