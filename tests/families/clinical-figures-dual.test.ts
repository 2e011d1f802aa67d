/**
 * What the three dual-cured families ask of a tooth or unit, figure by figure: the time that the chair
 * keeps for a case that shows this, and on whose word. Beside each row stands where the figure comes
 * from; "common practice" has no source. Expected values are written from those sources, not from the
 * documents under test.
 */
import { describe, expect, it } from 'vitest';
import type { Unit } from '../../src/protocol/case-types.ts';
import {
  type Asked,
  DUAL,
  type Dual,
  ETCHED_BEFORE,
  protocolOf,
  seconds,
  shows,
  stepAsked,
  took,
  windowOf,
  word,
} from './dual-cases.ts';

/** Seconds of least, target and most, and the word that each stands on; null where it is not asked. */
function timesOf(family: Dual, id: string, asked: Asked) {
  const action = stepAsked(family, id, asked)?.action;
  if (action?.kind !== 'dwell') return null;
  const { minMs, targetMs, maxMs } = action;
  return [minMs, targetMs, maxMs].flatMap((figure) =>
    figure === undefined ? [] : [`${seconds(figure)} ${word(figure)}`],
  );
}

const PRACTICE = 'practice';

interface Row {
  readonly step: string;
  readonly asked: Asked;
  /** Least, target, most in seconds with whose word; null: not asked of this tooth or unit. */
  readonly times: readonly string[] | null;
  readonly from: string;
}

const p = (...values: readonly number[]) => values.map((value) => `${value} ${PRACTICE}`);

const TOOTH_ROWS: readonly Row[] = [
  {
    step: 'etch',
    asked: shows('enamel'),
    times: ['15 wang-lu-1991', '30 practice', '60 practice'],
    from: 'Am J Orthod Dentofacial Orthop 1991;100:72: 15 to 90 s alike; limit of 60 s common practice',
  },
  {
    step: 'etch',
    asked: shows('enamel', 'dentine-shows'),
    times: p(5, 18, 45),
    from: 'derived: with 10/12/15 s of dentine after it the enamel has 15/30/60 s',
  },
  {
    step: 'etch-dentine',
    asked: shows('enamel', 'dentine-shows'),
    times: ['10 practice', '12 practice', '15 int-chin-j-dent-2006'],
    from: 'Int Chin J Dent 2006;6:29: 15 s best or equal; Key Eng Mater 2008;361-363:869: 25 s lower',
  },
  {
    step: 'etch-dentine',
    asked: shows('enamel'),
    times: null,
    from: 'no dentine, no second clock',
  },
  {
    step: 'etch',
    asked: shows('enamel', 'dentine-sealed'),
    times: p(15, 15, 30),
    from: 'common practice: cleans the seal and etches the enamel margin',
  },
  {
    step: 'etch',
    asked: shows('dentine-sealed', 'dentine-shows'),
    times: p(5, 18, 45),
    from: 'common practice: open dentine anywhere decides',
  },
  {
    step: 'etch',
    asked: shows('build-up'),
    times: ['15 wang-lu-1991', '30 practice', '60 practice'],
    from: 'common practice: 15/30/60 s, cleans only; Braz Oral Res 2011;25:485',
  },
  {
    step: 'etch',
    asked: shows('no-enamel-margin'),
    times: null,
    from: 'common practice: nothing to etch',
  },
  {
    step: 'etch-dentine',
    asked: shows('no-enamel-margin'),
    times: null,
    from: 'common practice: self-etch unless chosen',
  },
  {
    step: 'etch-dentine',
    asked: took('no-enamel-etch', 'short-etch', shows('no-enamel-margin')),
    times: ['10 practice', '12 practice', '15 int-chin-j-dent-2006'],
    from: 'Int Chin J Dent 2006;6:29',
  },
  {
    step: 'etch-rinse',
    asked: shows('no-enamel-margin'),
    times: null,
    from: 'no acid, no rinse',
  },
  { step: 'etch', asked: shows('metal'), times: null, from: 'common practice: no acid on metal' },
  {
    step: 'metal-primer',
    asked: shows('metal'),
    times: p(60, 60),
    from: 'common practice, 60 s; Odovtos 2020;22:135: two of three primers helped',
  },
  { step: 'bond', asked: {}, times: p(15, 20, 30), from: 'common practice' },
  {
    step: 'bond-air',
    asked: {},
    times: ['5 abdussamad-2012', '10 abdussamad-2012', '20 practice'],
    from: 'J Int Oral Health 2012;4(3):35: more had evaporated at 5 s, and at 10 s',
  },
  {
    step: 'bond-light',
    asked: {},
    times: p(10, 10, 20),
    from: 'common practice on J Adv Prosthodont 2010;2(2): 3.14 unlit against 14.86 MPa',
  },
  {
    step: 'bond-light',
    asked: took('adhesive-route', 'dual-paired'),
    times: null,
    from: 'the leaflet pairs an activator with the cement',
  },
  {
    step: 'cement-primer',
    asked: took('adhesive-route', 'cement-primer'),
    times: p(10, 20, 60),
    from: "stands in for the leaflet of the cement's own primer",
  },
  { step: 'cement-primer', asked: {}, times: null, from: 'not chosen' },
  {
    step: 'cord-soaked',
    asked: took('cord', 'with-agent'),
    times: p(180, 300, 600),
    from: 'common practice on J Prosthodont 2025 (PMID 39763171): harm at 20 min with an agent',
  },
  { step: 'cord-soaked', asked: took('cord', 'plain'), times: null, from: 'no agent' },
];

describe.each(DUAL)('a tooth under %s', (family) => {
  it.each(TOOTH_ROWS)('$asked: $step takes $times ($from)', ({ step, asked, times }) => {
    expect(timesOf(family, step, asked)).toEqual(times);
  });

  it('has the same enamel times in all, with dentine or without', () => {
    // Enamel and dentine of one tooth: 5+10, 18+12, 45+15 s.
    const both = shows('enamel', 'dentine-shows');
    const own = ['etch', 'etch-dentine'].map((step) => timesOf(family, step, both) ?? []);
    const sum = [0, 1, 2].map((i) =>
      own.reduce((all, times) => all + Number.parseInt(times[i] ?? '', 10), 0),
    );
    expect(sum).toEqual([15, 30, 60]);
  });
});

const ceramic = (material: string, more: Partial<Unit> = {}, strength = 'about-5'): Asked => ({
  unit: { material, thicknessMm: 1.5, ...more },
  choices: { 'acid-strength': strength },
});
const LD = 'lithium-disilicate';
const STRONG = 'nine-to-ten';
const LD_SOURCE = 'Oper Dent 2017;42:606: 20 s the least at 5 % and stronger, none better to 120 s';

const UNIT_ROWS: readonly (Row & { readonly family: Dual })[] = (
  [
    [
      'acid',
      ceramic(LD),
      ['20 puppin-rontani-2017', '20 puppin-rontani-2017', '120 puppin-rontani-2017'],
      LD_SOURCE,
    ],
    [
      'acid',
      ceramic(LD, { thicknessMm: 0.4 }),
      ['20 puppin-rontani-2017', '20 puppin-rontani-2017', '60 practice'],
      'common practice: 60 s under 0.5 mm',
    ],
    [
      'acid',
      ceramic(LD, { thicknessMm: 0.5 }, STRONG),
      ['20 puppin-rontani-2017', '20 puppin-rontani-2017', '60 practice'],
      'common practice: 60 s at 9 to 10 %',
    ],
    [
      'acid',
      ceramic('leucite'),
      ['20 braz-oral-res-2019', '60 practice', '90 practice'],
      'Braz Oral Res 2019;33: 20 s advised; 60 s taught',
    ],
    [
      'acid',
      ceramic('leucite', {}, STRONG),
      p(20, 50, 60),
      'common practice 20/60/60; the target is taken 10 s before a limit',
    ],
    [
      'acid',
      ceramic('feldspathic'),
      ['15 practice', '60 braz-oral-res-2020', '120 braz-oral-res-2020'],
      'Braz Oral Res 2020;34: 60 as 120 s; 15 s enough elsewhere',
    ],
    [
      'acid',
      ceramic('feldspathic', {}, STRONG),
      ['60 braz-oral-res-2020', '60 braz-oral-res-2020', '120 braz-oral-res-2020'],
      'Braz Oral Res 2020;34: 10 % for 60 or 120 s',
    ],
    ['acid', ETCHED_BEFORE, null, 'two times of the acid would add up'],
    [
      'acid-rinse',
      {},
      ['30 compendium-2017', '30 compendium-2017'],
      'Compendium, May 2017: 30 s of spray, lithium disilicate only',
    ],
    ['units-rinsed', {}, p(20, 30), 'common practice, 20 to 60 s; more water does no harm'],
    ['units-rinsed', ETCHED_BEFORE, null, 'cleaned with acid instead'],
    [
      'units-cleaned',
      ETCHED_BEFORE,
      ['20 practice', '30 stoma-edu-2019', '60 practice'],
      'Stoma Edu J 2019;6:18: 35 % for 30 s above the saliva control',
    ],
    ['cleaned-rinse', ETCHED_BEFORE, p(20, 30), 'common practice, 20 to 60 s; more does no harm'],
    ['primer', ETCHED_BEFORE, p(30, 60), 'common practice: 60 s of silane'],
    ['primer-air', ETCHED_BEFORE, p(5, 15), 'common practice: 15 s of air'],
  ] as const
).map(([step, asked, times, from]) => ({ family: 'glass-ceramic', step, asked, times, from }));

const BLASTED: readonly (Row & { readonly family: Dual })[] = (
  [
    ['zirconia', {}, p(10, 15, 20), 'common practice: 50 um, 10 mm, 10 s/cm2 at most'],
    [
      'zirconia',
      { unit: { conditioned: 'abraded' } },
      p(5, 6, 10),
      'common practice: again for 5 to 10 s',
    ],
    ['composite', {}, p(10, 15, 20), 'common practice'],
    [
      'composite',
      { unit: { conditioned: 'abraded' } },
      p(5, 5, 10),
      'common practice: again for 5 s',
    ],
  ] as const
).map(([family, asked, times, from]) => ({ family, step: 'abrade', asked, times, from }));

describe('a unit', () => {
  it.each([...UNIT_ROWS, ...BLASTED])(
    '$family, $asked: $step takes $times ($from)',
    ({ family, step, asked, times }) => {
      expect(timesOf(family, step, asked)).toEqual(times);
    },
  );

  it('of resin or zirconia meets no hydrofluoric acid', () => {
    // Common practice, no source: never on a resin block, never on zirconia.
    const classes = (['zirconia', 'composite'] as const).flatMap((family) =>
      protocolOf(family).slots.map(({ materialClass }) => materialClass),
    );
    expect(classes.filter((name) => name.includes('hydrofluoric'))).toEqual([]);
  });
});

describe.each(DUAL)('limits of %s', (family) => {
  it.each([
    // Dent Mater 2009;25:1104: 10.8 to 24.9 % at 10 min; the wait itself is common practice.
    ['setting', { minMs: '600 practice' }],
    // Common practice; one dual-cured cement set from 2.5 min at 37 C (congress abstract).
    ['floss-soon', { maxMs: '60 practice' }],
    ['floss-late', { maxMs: '150 practice' }],
    // Eur J Dent 2010;4:150: two resins, one still 15 % lower at 20 min; an hour is the trade's aim.
    ['adhesive-warm', { minMs: '1200 faria-e-silva-2010', targetMs: '3600 practice' }],
    // Taken over from adhesives.
    ['cement-warm', { minMs: '1200 practice', targetMs: '3600 practice' }],
    // Bovine dentine, whether exposed is not said: no word for an unexposed adhesive.
    ['resin-waiting', { maxMs: '1800 practice' }],
  ])('%s is %s', (id, expected) => {
    const { minMs, targetMs, maxMs } = windowOf(family, id);
    const told = Object.entries({ minMs, targetMs, maxMs }).flatMap(([key, figure]) =>
      figure === undefined ? [] : [[key, `${seconds(figure)} ${word(figure)}`]],
    );
    expect(Object.fromEntries(told)).toEqual(expected);
  });

  it('light: 20 s a surface, no dose, 20 s of rest, tooth by tooth', () => {
    // Common practice, 20 s and 40 s at most; rests by computation from 24 J/cm2 a position.
    const step = protocolOf(family).steps.find(({ id }) => id === 'expose');
    if (step?.action.kind !== 'expose') throw new Error('nothing is exposed');
    const { perSurfaceMs, restMs, doseJPerCm2, surfaces } = step.action;
    expect([perSurfaceMs, restMs].map(seconds)).toEqual([20, 20]);
    expect([doseJPerCm2, step.per, surfaces.length]).toEqual([undefined, 'tooth', 5]);
    // Little light passes zirconia (J Prosthodont Res 2019;63:232): its margins come first.
    expect(surfaces[0]).toBe(family === 'zirconia' ? 'facial' : 'occlusal');
    expect(surfaces.at(-1) === 'occlusal').toBe(family === 'zirconia');
  });

  it('tack: seconds a surface by the kind of cement', () => {
    const step = protocolOf(family).steps.find(({ id }) => id === 'tack');
    if (step?.action.kind !== 'expose') throw new Error('nothing is tacked');
    const { perSurfaceMs } = step.action;
    // Dent J 2022;10:55: 3 to 5 s; self-adhesive 1 to 2 s, common practice.
    const expected = family === 'zirconia' ? '2 practice' : '3 gaile-2022';
    expect(`${seconds(perSurfaceMs)} ${word(perSurfaceMs)}`).toBe(expected);
  });
});
