/** The small vocabulary that the families needed, each word by itself. */
import { describe, expect, it } from 'vitest';
import { problemLine } from '../../src/base/problem.ts';
import { AXIS_START } from '../../src/engine/axis.ts';
import { readBackLines } from '../../src/engine/read-back.ts';
import type { CaseState } from '../../src/engine/types.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { bareId, buildSubjects } from '../../src/protocol/subjects.ts';
import type { ReadBack } from '../../src/protocol/types.ts';
import { readBackWords } from '../../src/words/read-back-words.ts';
import { caseNamed, FamilyChair } from './family-chair.ts';

const linesOf = (input: unknown): string[] => {
  const parsed = parseCase(input);
  return parsed.ok ? [] : parsed.error.map(problemLine);
};

describe('pontics', () => {
  const bridge = (pontics: readonly string[]) => ({
    ...caseNamed('zirconia-crown-and-wing-bridge'),
    units: [{ id: 'b', teeth: ['13', '11'], pontics, restoration: 'bridge', material: 'zirconia' }],
  });

  it('are no teeth of their own, and a bridge has contacts at its two ends only', () => {
    const spec = bridge(['12']);
    const plan = { order: ['b'], mixes: [], rounds: {}, exposures: {} };
    const { order, linked } = buildSubjects(spec, plan);
    expect(order.tooth).toEqual(['tooth:13', 'tooth:11']);
    expect(order.contact).toEqual(['contact:14-13', 'contact:11-21']);
    expect(linked('unit:b', 'contact')).toEqual(order.contact);
  });

  it('cannot stand where the case has a tooth already', () => {
    expect(linesOf(bridge(['11']))[0]).toMatch(/^case\.units\[0\]\.pontics\[0\]: expected a tooth/);
    expect(linesOf(bridge(['19']))[0]).toMatch(/^case\.units\[0\]\.pontics\[0\]: expected an FDI/);
  });
});

describe('a case that follows another', () => {
  it.each([
    ['a time in seconds', 1_795_793_100],
    ['half a millisecond', 1_795_793_100_000.5],
  ])('is refused with %s', (_, lastExposureWallMs) => {
    const follows = { caseId: 'two-veneers', lastExposureWallMs };
    const spec = { ...caseNamed('finish-two-veneers'), follows };
    expect(linesOf(spec)[0]).toMatch(/^case\.follows\.lastExposureWallMs: expected a/);
  });

  it('never begins with light from the future', () => {
    const spec = caseNamed('finish-two-veneers');
    const follows = { caseId: 'two-veneers', lastExposureWallMs: 4_000_000_000_000 };
    const { protocol } = FamilyChair.of('finishing').log.state.opened;
    const chair = new FamilyChair({ spec: { ...spec, follows }, protocol });
    const run = chair.log.state.runs['earlier-light@case'];
    expect([run?.status, run?.evidence, run?.endedAt?.hiMs]).toEqual(['done', 'two-veneers', 0]);
  });
});

const linesIn = (state: CaseState, of: ReadBack) =>
  readBackWords(readBackLines(state, of, { now: AXIS_START, subjects: ['case'] }), {
    nameOf: bareId,
  });

describe('reading back', () => {
  const { state } = FamilyChair.of('zirconia').log;

  it('says teeth, pontics, kind, material and shade of every unit, and what was answered', () => {
    expect(linesIn(state, 'teeth')).toEqual([
      '13 (+ 12), bridge, zirconia, medium 1',
      '15, crown, zirconia, medium 2',
      '13: Not conditioned',
      '13: Enamel, No provisional',
      '15: Air-abraded',
      '15: Enamel, Dentine shows, Eugenol-free cement',
    ]);
  });

  it('says the lot of each material, or that it has not been named', () => {
    const chair = FamilyChair.of('zirconia');
    const material = {
      materialClass: 'phosphate primer',
      label: 'Primer',
      lot: 'ZP-0642',
      expiry: '2027-10-31',
      warnings: [],
    };
    expect(chair.do({ do: 'name-material', slot: 'zirconia-primer', material })).toBeNull();
    const lines = linesIn(chair.log.state, 'materials');
    expect(lines.filter((l) => l.includes('lot ZP-0642, to 2027-10-31'))).toHaveLength(1);
    expect(lines.filter((l) => l.endsWith('lot not named'))).toHaveLength(lines.length - 1);
  });

  it('says an optional material only where the case takes the way that needs it', () => {
    const spec = caseNamed('zirconia-crown-and-wing-bridge');
    const { protocol } = state.opened;
    const said = (choices: Readonly<Record<string, string>>) =>
      linesIn(new FamilyChair({ spec: { ...spec, choices }, protocol }).log.state, 'materials')
        .filter((line) => /^(Activator|Cement primer)/.test(line))
        .map((line) => line.split(':')[0]);
    expect(said({})).toEqual([]);
    expect(said({ 'adhesive-route': 'dual-paired' })).toEqual(['Activator']);
    expect(said({ 'adhesive-route': 'cement-primer' })).toEqual(['Cement primer']);
  });

  it('says allergies, people, and the protocol with its revision', () => {
    expect(linesIn(state, 'allergies')[0]).toContain('Latex: glove rash');
    expect(linesIn(state, 'people')).toEqual(['Dentist A, dentist', 'Assistant B, assistant']);
    expect(linesIn(state, 'protocol')[0]).toMatch(/^Zirconia crown .*, revision 1$/);
  });

  it('gives way to what people typed or scanned instead', () => {
    const chair = FamilyChair.of('zirconia');
    while (chair.view.offers[0]?.step !== 'read-teeth') chair.next();
    const offer = { kind: 'confirm', step: 'read-teeth', subjects: ['case'] } as const;
    expect(chair.do({ do: 'press', offer, evidence: '13 with 12, and 15' })).toBeNull();
    expect(chair.log.state.runs['read-teeth@case']?.evidence).toBe('13 with 12, and 15');
  });
});
