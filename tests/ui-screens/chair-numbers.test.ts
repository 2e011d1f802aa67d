import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parsePlanTables } from '../../src/plan/plan-tables.ts';
import { makeExplainedPlan } from '../../src/plan/run-plan.ts';
import { unitSubject } from '../../src/protocol/subjects.ts';
import { numbersOf } from '../../src/ui/chair/sheets/chair-numbers-model.ts';
import { caseNamed, protocolNamed } from '../families/family-chair.ts';

const table = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../shared/tables/${name}.json`, import.meta.url), 'utf8'));

const tables = parsePlanTables({
  blueLight: table('blue-light-hazard'),
  crowns: table('crown-dimensions'),
  ceramics: table('transmittances'),
});
if (!tables.ok) throw new Error(JSON.stringify(tables.error));

const spec = caseNamed('eight-upper-veneers');
const protocol = protocolNamed(spec.protocol);
const all = makeExplainedPlan({ spec, protocol, tables: tables.value }).why;
const behind = (
  step: string,
  units: readonly string[],
  open: readonly string[] = [],
): readonly string[] =>
  numbersOf({ all, protocol, step, units: units.map(unitSubject), open }).map((e) => e.id);

describe('the numbers behind a step', () => {
  const light = protocol.steps.find((s) => s.action.kind === 'expose' && s.id !== 'tack');
  const etch = protocol.steps.find((s) => s.hands !== undefined);

  test('of the light are those of the unit at hand, with its share of light', () => {
    const ids = behind(light?.id ?? '', ['11']);
    expect(ids).toContain('transmittance/11');
    expect(ids.filter((id) => id.startsWith(`exposure/${light?.id}/11/`)).length).toBeGreaterThan(
      0,
    );
    expect(ids.filter((id) => id.includes('/21'))).toEqual([]);
  });

  test('of a step done in rounds name its rounds, and nothing of the light', () => {
    const ids = behind(etch?.id ?? '', ['12']);
    expect(ids).toContainEqual(expect.stringMatching(`^rounds/${etch?.id}(/|$)`));
    expect(ids.filter((id) => /^(exposure|transmittance)/.test(id))).toEqual([]);
  });

  test('of a step beside which the working time runs are the mixes and that limit', () => {
    const working = protocol.windows.find((w) => all.some((e) => e.id === `window/${w.id}`));
    expect(behind('load', ['11'])).not.toContain('mixes');
    const ids = behind('load', ['11'], [working?.id ?? '']);
    expect(ids).toContain('mixes');
    expect(ids).toContain(`window/${working?.id}`);
  });

  test('of a step that closes the working time are the mixes and that limit', () => {
    const working = protocol.windows.find((w) => all.some((e) => e.id === `window/${w.id}`));
    const ids = behind(working?.to.step ?? '', ['11']);
    expect(ids).toContain('mixes');
    expect(ids).toContain(`window/${working?.id}`);
  });
});
