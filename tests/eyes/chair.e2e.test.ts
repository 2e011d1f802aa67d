/**
 * What eyes get from the chair: height of the characters on calibrated tablets, blue light of the amber
 * look, contrast in it, and what is left of the one number when it is out of focus. One walk through a
 * case in the built application serves all of them.
 */
import { readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parsePrimaries, screenBlue } from '../../src/calc/display-light.ts';
import { TABLES } from '../calc/calc-support.ts';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveOneByOne } from '../tools/built-app.ts';
import { openToday, watchPictures } from '../tools/chair-driver.ts';
import type { Glyphs } from './glyphs.ts';
import { blurred, decode, inkContrast, lightOf, luminances, rmsDifference } from './pixels.ts';
import { type Walk, walkThrough } from './walk.ts';

/** Height in mm of a character of so many minutes of arc; worked here anew, not taken from the app. */
const heightMm = (arcMinutes: number, distanceM: number): number =>
  2 * distanceM * 1000 * Math.tan(((arcMinutes / 60) * Math.PI) / 180 / 2);

const ACTIVE = '.lw-tooth[data-active="true"] > .lw-tooth-body >';

/** What each text must have: minutes of arc, at which distance. */
const RULES: readonly (readonly [selector: string, arcMinutes: number, distanceM: number])[] = [
  ['.lw-clock-figure', 22, 2],
  ['.lw-step-line', 16, 2],
  ['.far-view-step', 16, 2],
  ['.lw-clock-words', 16, 2],
  ['.lw-watch-figure[data-long="false"]', 22, 2],
  ['.lw-watch-label', 16, 1],
  ['.lw-bar-words', 16, 1],
  [`${ACTIVE} .lw-tooth-label`, 16, 1],
  ...[
    '.lw-step-detail',
    '.lw-person-name',
    '.chair-instruction-words',
    '.chair-instruction-why',
    '.chair-instruction-caution',
    '.chair-read-back',
    '.lw-window-label',
    '.lw-window-words',
    '.lw-window-figure',
    '.lw-next-words',
    '.lw-clock-further',
    '.lw-cue-words',
    '.lw-cue-age',
    '.lw-cue-subject',
    '.lw-bar-sub',
    '.lw-undo-words',
    '.lw-undo-what',
    '.lw-tooth-label',
    '.lw-status-item',
    '.chair-ends .lw-button',
  ].map((selector) => [selector, 16, 0.5] as const),
];

/** These must be seen whole without a touch; lists may scroll, and say so. */
const WHOLE = [
  '.lw-clock-figure',
  '.lw-clock-words',
  '.lw-watch-figure[data-long="false"]',
  '.lw-step-line',
  '.lw-bar-words',
  '.far-view-step',
  `${ACTIVE} .lw-tooth-label`,
];

/** A font size may be rounded to 1/64 px by the browser; a glyph outline to 1/100 of the size. */
const ROUNDING = 0.99;

let served: Served;
let browser: Browser;
let walk: Walk;

beforeAll(async () => {
  served = await serveOneByOne();
  browser = await launchBrowser();
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  await watchPictures(context);
  const page = await context.newPage();
  await page.clock.install();
  await openToday(page, served.address);
  walk = await walkThrough(
    page,
    RULES.map(([selector]) => selector),
  );
}, 180_000);

afterAll(async () => {
  await browser.close();
  await served.stop();
});

const wantedMm = ({ selector }: Glyphs): number => {
  const rule = RULES.find(([each]) => each === selector);
  return rule === undefined ? 0 : heightMm(rule[1], rule[2]);
};

/**
 * ISO 9241-303:2011 asks for 16 minutes of arc at least and prefers 20 to 22: here 22 for the seconds
 * and 16 for the step, the tooth and the words of the clock, all at 2 m. What only the hand that
 * presses reads has 16 at half a metre, an arm that reaches for the screen (common practice, no
 * source); the bar and the tooth that is worked on, 16 at 1 m at least. The standard is cited from
 * memory.
 */
describe('on tablets of 8, 10 and 13 inches, both ways up', () => {
  it('every character is as high as the standard asks', () => {
    const smallest = new Map<string, number>();
    const short = walk.measured.flatMap(({ where, glyphs }) =>
      glyphs.flatMap((each) => {
        smallest.set(
          each.selector,
          Math.min(each.heightMm, smallest.get(each.selector) ?? each.heightMm),
        );
        const [is, wanted] = [each.heightMm, wantedMm(each)];
        return is >= wanted * ROUNDING
          ? []
          : [
              `${where}: ${each.selector} "${each.text}" ${is.toFixed(2)} of ${wanted.toFixed(2)} mm`,
            ];
      }),
    );
    const table = [...smallest].map(([selector, mm]) => `${selector} ${mm.toFixed(1)}`);
    console.info(`smallest heights in mm: ${table.join('; ')}`);
    expect(short).toEqual([]);
    for (const selector of ['.lw-clock-figure', '.far-view-step', '.chair-read-back']) {
      expect(smallest.has(selector), selector).toBe(true);
    }
  });

  it('nothing that is read from afar is cut off', () => {
    const cut = walk.measured.flatMap(({ where, glyphs }) =>
      glyphs
        .filter((each) => WHOLE.includes(each.selector) && each.seenShare < 0.99)
        .map((each) => `${where}: ${each.selector} "${each.text}" ${each.seenShare.toFixed(2)}`),
    );
    expect(cut).toEqual([]);
  });

  // 20 mm: where the time to hit with a finger levels off (Chen et al., Appl Ergon 2013;44:297).
  it('everything that can be pressed in the chair is at least 20 mm wide and high', () => {
    const all = walk.measured.flatMap(({ where, targets }) =>
      targets.map((target) => ({ where, ...target })),
    );
    const small = all.filter(({ sideMm }) => sideMm < 20 - 0.1);
    expect(all.length).toBeGreaterThan(100);
    expect(small).toEqual([]);
  });

  it('the app does not call them too small, and enough was looked at', () => {
    expect(walk.measured.filter((each) => each.saysTooSmall)).toEqual([]);
    const stages = new Set(walk.measured.map((each) => each.stage));
    expect(stages.size).toBe(8);
    for (const { where, glyphs } of walk.measured) expect(glyphs.length, where).toBeGreaterThan(1);
  });
});

describe('on a telephone', () => {
  it('the app says that the screen is too small for 2 m, and from where it can be read', () => {
    const seconds = walk.phone.glyphs.find((each) => each.selector === '.lw-clock-figure');
    const near = Number(/read it from ([\d.]+)/.exec(walk.phone.words)?.[1]);
    expect(walk.phone.words).toMatch(/^Screen too small for 2\.00\sm/u);
    // At the distance that it names the seconds have 22 minutes of arc, and not at 2 m.
    expect(seconds?.heightMm).toBeGreaterThanOrEqual(heightMm(22, near) * ROUNDING);
    expect(seconds?.heightMm).toBeLessThan(heightMm(22, 2) * ROUNDING);
  });
});

/** Times less blue light than the light look, weighted for the eye; our own aim. */
const AMBER_FACTOR_MIN = 100;

describe('the amber look', () => {
  const parsed = parsePrimaries(
    JSON.parse(
      readFileSync(new URL('../../shared/tables/display-primaries.json', import.meta.url), 'utf8'),
    ),
  );

  it('sends out hardly any blue: counted on the pixels, weighted after IEC 62471', () => {
    if (!parsed.ok) throw new Error('display-primaries.json cannot be read');
    const blueOf = (means: ReturnType<typeof lightOf>['means']): number =>
      screenBlue({ means, primaries: parsed.value, rows: TABLES.blueLight, whiteCdPerM2: 400 });
    for (const { stage, light, amber } of walk.looks) {
      const [was, is] = [lightOf(decode(light)), lightOf(decode(amber))];
      const factor = blueOf(was.means) / blueOf(is.means);
      console.info(
        `${stage}: ${blueOf(was.means).toPrecision(2)} W/m2/sr in the light look, ` +
          `${blueOf(is.means).toPrecision(2)} in amber, ${factor.toFixed(0)} times less`,
      );
      expect(is.blueMost, stage).toBe(0);
      expect(factor, stage).toBeGreaterThan(AMBER_FACTOR_MIN);
    }
    expect(walk.looks).toHaveLength(4);
  });

  it('keeps every word readable: 4.5 to 1 or more on the pixels (WCAG 2.2, 1.4.3)', () => {
    const pale: string[] = [];
    let count = 0;
    for (const { stage, amber, texts } of walk.looks) {
      const pixels = decode(amber);
      for (const { selector, text, box } of texts) {
        const ratio = inkContrast(luminances(pixels, box));
        count += 1;
        if (ratio < 4.5) pale.push(`${stage}: ${selector} "${text}" ${ratio.toFixed(1)}`);
      }
    }
    console.info(`amber: contrast of ${count} texts on the pixels`);
    expect(pale).toEqual([]);
    expect(count).toBeGreaterThan(60);
  });
});

/**
 * Someone who wears loupes looks past them at a tablet that is out of focus. Assumed here: one dioptre
 * of defocus and a pupil of 3 mm, so that a point at 2 m becomes a disc of 6 mm, and a Gaussian of the
 * same variance, a quarter of the disc wide. The criterion is our own: any two digits still differ by
 * a twentieth of the whole contrast on average, and a stroke keeps 3 to 1 against its ground.
 */
describe('out of focus', () => {
  const DISC_MM = 0.003 * 1 * 2000;
  const RMS_MIN = 0.05;

  const seen = (sigmaMm: number): Float64Array[] => {
    const { pictures, box, pxPerMm } = walk.digits;
    const width = Math.floor(box.width);
    return pictures.map((png) => {
      const values = luminances(decode(png), box);
      const [dark, bright] = [Math.min(...values), Math.max(...values)];
      const shares = values.map((value) => (value - dark) / (bright - dark));
      return blurred(shares, { width, sigmaPx: sigmaMm * pxPerMm });
    });
  };
  const leastDifference = (digits: readonly Float64Array[]): number =>
    Math.min(
      ...digits.flatMap((one, at) => digits.slice(at + 1).map((two) => rmsDifference(one, two))),
    );

  it('the one number is still told from every other, and keeps its contrast', () => {
    const digits = seen(DISC_MM / 4);
    const least = leastDifference(digits);
    const strokes = digits.map((digit) => Math.min(...digit));
    const ratios = strokes.map((ink) => 1.05 / (ink + 0.05));
    console.info(
      `blurred by a disc of ${DISC_MM} mm: least difference of two digits ${least.toFixed(3)}, ` +
        `least contrast ${Math.min(...ratios).toFixed(1)}`,
    );
    expect(least).toBeGreaterThan(RMS_MIN);
    expect(Math.min(...ratios)).toBeGreaterThan(3);
  });

  it('a number a third as high would be lost, so the criterion can fail', () => {
    expect(leastDifference(seen((3 * DISC_MM) / 4))).toBeLessThan(RMS_MIN);
  });
});
