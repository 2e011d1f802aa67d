/** How a plan tells its chances and its numbers. Wording is the project's own; nothing to compare with. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { compareAlternatives } from '../../src/plan/alternatives.ts';
import { explainBand, explainChair } from '../../src/plan/explain-plan.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { parsePlanTables } from '../../src/plan/plan-tables.ts';
import {
  alternativeWords,
  chanceWords,
  explainedValue,
  explainedWhat,
  heatWords,
  inputName,
  inputsTold,
  riskWords,
} from '../../src/words/plan-words.ts';
import { caseNamed, protocolNamed } from '../families/family-chair.ts';

const spec = caseNamed('four-veneers-universal');
const protocol = protocolNamed(spec.protocol);
const naming = { spec, protocol };

const table = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../shared/tables/${name}.json`, import.meta.url), 'utf8'));
const parsed = parsePlanTables({
  blueLight: table('blue-light-hazard'),
  crowns: table('crown-dimensions'),
  ceramics: table('transmittances'),
});
if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
const tables = parsed.value;

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('the chance of being outside a limit', () => {
  test('where it never happened, is told with how often the plan was simulated', () => {
    expect(chanceWords({ share: 0, runs: 400 })).toBe(
      'outside in fewer than 1 of 400 simulated runs',
    );
    expect(riskWords({ share: 0, runs: 400 })).toBe('In fewer than 1 of 400 simulated runs');
  });

  test('otherwise is told as a share, and seldom never reads as none', () => {
    const seldom = chanceWords({ share: 1 / 400, runs: 400 });
    expect(plain(seldom)).toBe('outside in <1 % of simulated runs');
    expect(plain(riskWords({ share: 0.03, runs: 400 }))).toBe('In 3 % of simulated runs');
  });

  test('among the numbers of a plan is told alike', () => {
    const risk = { ...makePlan({ spec, protocol, tables: null, risk: { samples: 20 } }).risk };
    const any = explainChair({ ...risk, pAnyBroken: 0 }).at(-1);
    if (any === undefined) throw new Error('no chance is explained');
    expect(explainedValue(any)).toBe('in fewer than 1 of 20 simulated runs');
    expect(explainedWhat(any, naming)).toBe('Any window or dwell outside its limits');
    expect(plain(explainedValue({ ...any, value: 0.25 }))).toBe('25 %');
  });
});

test('another way is one sentence: what, how risky, how long', () => {
  const input = { spec, protocol, tables: null, risk: { samples: 20, seed: 1 } };
  const [way] = compareAlternatives(input, makePlan(input));
  if (way === undefined) throw new Error('no other way');
  const one = { ...way, kind: 'mixes' as const, pBroken: 0, canBeKept: true };
  const told = (of: typeof one): string => plain(alternativeWords(of, { naming, runs: 20 }));
  expect(told({ ...one, sizes: [4], chairDeltaMs: 0 })).toBe(
    'One portion for 4: outside in fewer than 1 of 20 simulated runs, takes as long',
  );
  expect(told({ ...one, sizes: [2, 2], chairDeltaMs: 120_000 })).toBe(
    '2 portions for 2 + 2: outside in fewer than 1 of 20 simulated runs, 2 min longer',
  );
  expect(told({ ...one, sizes: [4], chairDeltaMs: -60_000, canBeKept: false })).toMatch(
    /1 min shorter; over a limit even at the expected pace$/,
  );
});

test('heat below the marker is not spoken of', () => {
  expect(heatWords('below-marker', ['11'])).toBeNull();
  expect(heatWords('above-marker', ['11', '21'])).toMatch(/^11, 21: /);
});

describe('the inputs of a number', () => {
  const cases = readdirSync(new URL('../../demo-data/cases/', import.meta.url));

  test.each(cases)('have a name each for %s', (file) => {
    const own = caseNamed(file.replace('.json', ''));
    const of = protocolNamed(own.protocol);
    const lit = { ...own, room: { ...own.room, lux: 5000 } };
    const made = makePlan({ spec: lit, protocol: of, tables, risk: { samples: 5 } });
    const [band] = made.timeline.bands;
    const told = [
      ...made.explanations,
      ...explainChair(made.risk),
      ...(band === undefined ? [] : explainBand(band, made.risk.bands[0], made.risk.options)),
    ];
    const keys = new Set(told.flatMap((e) => Object.keys(e.inputs)));
    expect(keys.size).toBeGreaterThan(3);
    expect([...keys].filter((key) => inputName(key) === key)).toEqual([]);
    const values = told.flatMap((e) => inputsTold(e, { spec: lit, protocol: of }));
    expect(values.filter(({ value }) => /above-marker|below-marker|\d\.\d{4}/.test(value))).toEqual(
      [],
    );
  });

  test('a window is named as the protocol names it', () => {
    const [window] = protocol.windows;
    if (window === undefined) throw new Error('no window');
    const [any] = explainChair(
      makePlan({ spec, protocol, tables: null, risk: { samples: 5 } }).risk,
    );
    if (any === undefined) throw new Error('nothing is explained');
    expect(inputsTold({ ...any, inputs: { window: window.id } }, naming)).toEqual([
      { id: 'window', name: 'Window', value: window.title },
    ]);
  });
});
