/** The draft of a case. Its file is judged by the parser of the published schema. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { problem } from '../../src/base/problem.ts';
import { CARD_WIDTH_MM, pxPerMmOf, widthOf } from '../../src/ui/clinic/calibration-model.ts';
import { jawTeeth } from '../../src/ui/parts/tooth-order.ts';
import {
  addPerson,
  type CaseDraft,
  draftOf,
  judge,
  newDraft,
  problemsOf,
} from '../../src/ui/set-up/set-up-model.ts';
import { allLikeFirst, moveUnit, toggleTooth } from '../../src/ui/set-up/set-up-units.ts';
import { caseOf } from '../engine/fixture.ts';
import { HERE } from '../tools/here.ts';

const TEETH = [...jawTeeth('upper'), ...jawTeeth('lower')];
const like = caseOf(['11']);
const empty = (): CaseDraft =>
  newDraft({ id: 'case-1', notation: 'fdi', protocol: 'tiny', like: undefined });
const begun = (): CaseDraft => ({
  ...newDraft({ id: 'case-1', notation: 'fdi', protocol: 'tiny', like }),
  irradiance: '1100',
  chartRef: 'SB-0002',
  title: 'Two veneers',
});
const withTeeth = (...teeth: string[]): CaseDraft => teeth.reduce(toggleTooth, begun());
const order = (draft: CaseDraft): string[] => draft.units.map((u) => u.id);
const faults = (draft: CaseDraft): readonly string[] => {
  const judged = judge(draft, HERE);
  return judged.ok ? [] : [...problemsOf(judged.error).keys()];
};

describe('a new case', () => {
  it('has the lamp of the case before it, and no reading until somebody enters one', () => {
    const draft = newDraft({ id: 'case-2', notation: 'fdi', protocol: 'tiny', like });
    expect(draft.light).toBe(like.light.label);
    expect(draft.tip).toBe(String(like.light.tipDiameterMm));
    expect([draft.irradiance, draft.baseline, draft.readOn]).toEqual(['', '', '']);
  });
});

describe('seating order', () => {
  it('takes centrals first, however the teeth were pressed (common practice, no source)', () => {
    expect(order(withTeeth('13', '22', '11', '21', '12', '23'))).toEqual([
      '11',
      '21',
      '12',
      '22',
      '13',
      '23',
    ]);
  });

  it('stays as people moved it, and a further tooth goes to its end', () => {
    const moved = moveUnit(withTeeth('11', '21', '12'), { index: 2, by: -1 });
    expect(order(moved)).toEqual(['11', '12', '21']);
    expect(order(toggleTooth(moved, '22'))).toEqual(['11', '12', '21', '22']);
  });

  it('does not move past either end', () => {
    const draft = withTeeth('11', '21');
    expect(moveUnit(draft, { index: 0, by: -1 })).toBe(draft);
    expect(moveUnit(draft, { index: 1, by: 1 })).toBe(draft);
  });
});

describe('teeth and units', () => {
  it('a tooth pressed twice is out again', () => {
    fc.assert(
      fc.property(fc.subarray(TEETH), fc.constantFrom(...TEETH), (chosen, tooth) => {
        const draft = withTeeth(...chosen.filter((t) => t !== tooth));
        const twice = toggleTooth(toggleTooth(draft, tooth), tooth);
        expect(order(twice)).toEqual(order(draft));
      }),
    );
  });

  it('one press makes all units like the first', () => {
    const draft = withTeeth('11', '21');
    const [first, second] = draft.units;
    if (!first || !second) throw new Error('two units');
    const mixed = { ...draft, units: [{ ...first, shade: 'light 1', thickness: '0.5' }, second] };
    expect(allLikeFirst(mixed).units.map((u) => [u.id, u.shade, u.thickness])).toEqual([
      ['11', 'light 1', '0.5'],
      ['21', 'light 1', '0.5'],
    ]);
  });
});

describe('the share of light that passes', () => {
  const measured = { kind: 'measured', share: '47,5', at: '0.5', basis: 'our meter' } as const;

  it('is typed in percent and kept as a share', () => {
    const draft = withTeeth('11');
    const units = draft.units.map((u) => ({ ...u, passes: measured }));
    const judged = judge({ ...draft, units }, HERE);
    expect(judged.ok && judged.value.units[0]?.transmittance).toEqual({
      kind: 'measured',
      share: 0.475,
      atThicknessMm: 0.5,
      basis: 'our meter',
    });
  });

  it('is refused at its field when a meter read nothing, or more than all', () => {
    const draft = withTeeth('11');
    for (const share of ['0', '101', 'half']) {
      const units = draft.units.map((u) => ({ ...u, passes: { ...measured, share } }));
      expect(faults({ ...draft, units })).toEqual(['case.units[0].transmittance.share']);
    }
  });
});

describe('judging', () => {
  it('accepts a whole draft and reads a comma as a decimal point', () => {
    const judged = judge({ ...withTeeth('11'), temperature: '22,5' }, HERE);
    expect(judged.ok && judged.value.room.temperatureC).toBe(22.5);
  });

  it('finds every needed field of an empty draft at its place', () => {
    expect(faults(empty())).toEqual(
      expect.arrayContaining([
        'case.chartRef',
        'case.title',
        'case.units',
        'case.people[0].label',
        'case.room.temperatureC',
        'case.light.label',
        'case.light.irradianceMwPerCm2',
        'case.light.tipDiameterMm',
      ]),
    );
  });

  it('says of a word in place of a number where it stands', () => {
    expect(faults({ ...withTeeth('11'), tip: 'nine' })).toEqual(['case.light.tipDiameterMm']);
  });

  it('says of a date without a time that it is not whole', () => {
    expect(faults({ ...withTeeth('11'), date: '2026-11-26' })).toEqual(['case.scheduledFor']);
  });

  it('keeps a problem that belongs to no field', () => {
    const told = problemsOf([problem('case.format', 'the format', 1)]);
    expect(told.get('case')).toBe('case.format: expected the format, got 1');
  });

  it('says in the words of a form what a number or a date may be', () => {
    const wrong = {
      ...begun(),
      temperature: '90',
      tip: '400',
      irradiance: 'x',
      readOn: '2026-13-40',
    };
    const judged = judge({ ...wrong, note: 'a'.repeat(2000) }, HERE);
    if (judged.ok) throw new Error('nothing was refused');
    expect(Object.fromEntries(problemsOf(judged.error))).toMatchObject({
      'case.room.temperatureC': 'Enter a temperature from 5 to 45 °C',
      'case.light.tipDiameterMm': 'Enter a diameter from 1 to 20 mm',
      'case.light.irradianceMwPerCm2': 'Enter a number from 1 to 10000 mW/cm²',
      'case.light.readOn': 'Enter a date that exists',
      'case.note': 'Too long: shorten it',
    });
  });

  it.each(['0, -3, foo', '0, 5', '3, 500'])('says what the times of a lamp may be: %s', (typed) => {
    const judged = judge({ ...withTeeth('11'), programmes: typed }, HERE);
    if (judged.ok) throw new Error('nothing was refused');
    expect(problemsOf(judged.error).get('case.light.programmesS')).toBe(
      'Enter at most 20 times from 1 to 120 s, with commas between them',
    );
  });

  it('gives a prepared case back unchanged', () => {
    const spec = caseOf(['12', '11', '22']);
    const judged = judge(draftOf(spec, HERE), HERE);
    expect(judged.ok && judged.value).toEqual(spec);
  });

  it('never gives two people the same id', () => {
    const people = addPerson(addPerson(addPerson(begun()))).people.map((p) => p.id);
    expect(new Set(people).size).toBe(people.length);
  });
});

describe('size of the screen from a card', () => {
  // ISO/IEC 7810:2019, ID-1: 85.60 mm wide; 96 CSS px to the inch is CSS Values and Units Level 3.
  it('gives 96 px per inch back for an outline of that size', () => {
    expect(CARD_WIDTH_MM).toBe(85.6);
    const pxPerMm = 96 / 25.4;
    expect(pxPerMmOf(85.6 * pxPerMm)).toBeCloseTo(pxPerMm, 3);
  });

  it('draws the outline at the size that was kept, to the pixel', () => {
    fc.assert(
      fc.property(fc.integer({ min: 200, max: 1300 }), (px) => {
        expect(widthOf(pxPerMmOf(px))).toBe(px);
      }),
    );
  });
});
