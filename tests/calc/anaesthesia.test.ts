/**
 * The table of local anaesthetics against the papers that its rows name, and the warning at 0.8 of the
 * pulpal time. Minutes: Quintessence Int 2005;36:197 (upper infiltration, n = 20); Braz Dent J 2013;24,
 * doi 10.1590/0103-6440201302072 (inferior block, n = 30); Anesth Prog 2009, PMC2796382; J Endod 2013.
 */
import { describe, expect, it } from 'vitest';
import { anaesthesiaCalc, numbnessOf } from '../../src/calc/anaesthesia.ts';
import { parseAnaesthesia } from '../../src/calc/anaesthesia-rows.ts';
import { anaesthesiaTable } from '../../src/plan/anaesthesia-table.ts';

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;

/** Agent, technique, onset, pulpal minutes, and the whole minutes of the warning. */
const PUBLISHED: readonly (readonly [string, string, number, number, number])[] = [
  ['lidocaine-100', 'upper-infiltration', 2.8, 39, 31],
  ['articaine-200', 'upper-infiltration', 1.6, 57, 45],
  ['articaine-100', 'upper-infiltration', 1.4, 66, 52],
  ['lidocaine-100', 'lower-block', 8.7, 62, 49],
  ['articaine-200', 'lower-block', 7.7, 88, 70],
  ['articaine-100', 'lower-block', 7.4, 107, 85],
];

/** Soft tissue in hours, by product labels: weak. */
const LABELS: readonly (readonly [string, number | null, number])[] = [
  ['lidocaine-100', 3, 5],
  ['articaine-200', 4, 6],
  ['articaine-100', 4, 6],
  ['bupivacaine', null, 7],
];

describe('the table of local anaesthetics', () => {
  it.each(PUBLISHED)(
    '%s by %s: onset %d, pulp %d, warned from %d min',
    (agent, technique, ...min) => {
      const [onset, pulp, warned] = min;
      const found = numbnessOf(anaesthesiaTable(), { agent, technique });
      expect(found?.onsetMs).toBeCloseTo(onset * MINUTE_MS, 6);
      expect(found?.pulpalMs).toBe(pulp * MINUTE_MS);
      expect(Math.floor((found?.warnAtMs ?? 0) / MINUTE_MS)).toBe(warned);
      expect(found?.source).toMatch(/Quintessence Int 2005|Braz Dent J 2013/);
    },
  );

  it.each(LABELS)('%s numbs the lip for %s to %s h', (agent, lo, hi) => {
    const found = numbnessOf(anaesthesiaTable(), { agent, technique: 'upper-infiltration' });
    expect(found?.softTissueMs).toEqual({ loMs: lo && lo * HOUR_MS, hiMs: hi * HOUR_MS });
  });

  it.each([
    ['lower-molar-infiltration', 25],
    ['lower-premolar-infiltration', 20],
  ])('articaine by %s has no pulpal time; a repeat is due at %d min', (technique, minutes) => {
    const found = numbnessOf(anaesthesiaTable(), { agent: 'articaine-200', technique });
    expect(found).toMatchObject({ pulpalMs: null, warnAtMs: minutes * MINUTE_MS });
  });

  it('names a source beside every row and every agent, and no dose', () => {
    const { agents, rows } = anaesthesiaTable();
    for (const { source } of [...agents, ...rows]) expect(source.length).toBeGreaterThan(5);
    expect(JSON.stringify({ agents, rows })).not.toMatch(/\bmg\b|maximum/i);
  });

  it('refuses a row that names an agent it does not list', () => {
    const [row] = anaesthesiaTable().rows;
    const read = parseAnaesthesia({ ...anaesthesiaTable(), rows: [{ ...row, agent: 'other' }] });
    expect(read.ok).toBe(false);
  });
});

describe('calc anaesthesia', () => {
  const tables = { blueLight: [], crowns: [], anaesthesia: anaesthesiaTable() };

  it('answers in ms with its source', () => {
    const input = { agent: 'lidocaine-100', technique: 'lower-block' };
    const answer = anaesthesiaCalc.compute(input, tables);
    expect(answer.ok && answer.value).toMatchObject({
      pulpalMs: 62 * MINUTE_MS,
      published: expect.stringContaining('Braz Dent J'),
      source: expect.stringContaining('anaesthesia.json'),
    });
  });

  it('says which agents and techniques it knows', () => {
    const agent = anaesthesiaCalc.compute({ agent: 'x', technique: 'lower-block' }, tables);
    const technique = anaesthesiaCalc.compute({ agent: 'bupivacaine', technique: 'x' }, tables);
    expect(agent.ok || agent.error.expected).toContain('articaine-100');
    expect(technique.ok || technique.error.expected).toContain('lower-block');
  });
});
