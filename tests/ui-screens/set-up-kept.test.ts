/** Opening a prepared case in the form and keeping it loses nothing, shown or not. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { jawTeeth } from '../../src/ui/parts/tooth-order.ts';
import { draftOf, judge } from '../../src/ui/set-up/set-up-model.ts';
import {
  joinable,
  joinUnits,
  partUnit,
  setPontic,
  teethInOrder,
  toggleTooth,
} from '../../src/ui/set-up/set-up-units.ts';
import { caseOf } from '../engine/fixture.ts';
import { HERE } from '../tools/here.ts';

const TEETH = [...jawTeeth('upper'), ...jawTeeth('lower')];
// Longest first: text may have spaces around it, as a file written elsewhere may.
const text = fc.string({ minLength: 1, maxLength: 40 });
const id = fc.stringMatching(/^[a-z][a-z0-9]{0,8}$/);
const mm = fc.double({ min: 0.1, max: 20, noNaN: true });

const passes = fc.record({
  kind: fc.constantFrom('measured' as const, 'published' as const),
  share: fc.double({ min: 0.001, max: 1, noNaN: true }),
  atThicknessMm: mm,
  basis: text,
});

const shape = fc.record(
  { restoration: text, material: text, thicknessMm: mm, shade: text, transmittance: passes },
  { requiredKeys: ['restoration', 'material'] },
);

/** Units on a draw of teeth: some of several teeth, some with pontics, an empty list now and then. */
const units = fc
  .tuple(
    fc.shuffledSubarray(TEETH, { minLength: 1, maxLength: 16 }),
    fc.array(fc.tuple(fc.nat(2), fc.nat(2), shape), { minLength: 1, maxLength: 16 }),
  )
  .map(([teeth, plan]) => {
    const left = [...teeth];
    return plan.flatMap(([more, replaced, rest], i) => {
      const bonded = left.splice(0, 1 + more);
      const pontics = left.splice(0, replaced);
      if (bonded.length === 0) return [];
      const named = pontics.length > 0 || i % 3 === 0 ? { pontics } : {};
      return [{ id: `u${i}`, teeth: bonded, ...named, ...rest }];
    });
  });

const twoDigits = (n: number): string => String(n).padStart(2, '0');
const moment = fc
  .tuple(fc.integer({ min: 1, max: 28 }), fc.nat(23), fc.nat(59), fc.nat(59), fc.nat(14))
  .map(([day, h, m, s, zone]) => {
    const clock = [h, m, s].map(twoDigits).join(':');
    return `2026-11-${twoDigits(day)}T${clock}${zone === 0 ? 'Z' : `+${twoDigits(zone)}:30`}`;
  });

const people = fc
  .array(
    fc.record(
      {
        label: text,
        role: fc.constantFrom('dentist' as const, 'assistant' as const),
        notation: fc.constantFrom('fdi' as const, 'palmer' as const),
      },
      { requiredKeys: ['label', 'role'] },
    ),
    { minLength: 1, maxLength: 4 },
  )
  .map((list) => list.map((person, i) => ({ id: `p${i}`, ...person })));

const paces = fc.uniqueArray(
  fc.record({
    step: id,
    medianMs: fc.integer({ min: 1, max: 86_400_000 }),
    p90Ms: fc.integer({ min: 1, max: 86_400_000 }),
    count: fc.integer({ min: 1, max: 100 }),
  }),
  { selector: (pace) => pace.step, maxLength: 5 },
);

const files = fc.record(
  {
    format: fc.constant('lutewatch-case' as const),
    formatVersion: fc.constant(1 as const),
    id,
    chartRef: text,
    title: text,
    notation: fc.constantFrom('fdi' as const, 'universal' as const, 'palmer' as const),
    protocol: id,
    units,
    people,
    room: fc.record(
      { temperatureC: fc.double({ min: 5, max: 45, noNaN: true }), lux: fc.nat(200_000) },
      { requiredKeys: ['temperatureC'] },
    ),
    light: fc.record(
      {
        label: text,
        irradianceMwPerCm2: fc.double({ min: 1, max: 10_000, noNaN: true }),
        tipDiameterMm: fc.double({ min: 1, max: 20, noNaN: true }),
        baselineMwPerCm2: fc.double({ min: 1, max: 10_000, noNaN: true }),
        readOn: fc.constant('2026-11-23'),
        programmesS: fc.array(fc.integer({ min: 1, max: 120 }), { minLength: 1, maxLength: 20 }),
      },
      { requiredKeys: ['label', 'irradianceMwPerCm2', 'tipDiameterMm'] },
    ),
    scheduledFor: moment,
    allergies: text,
    note: text,
    follows: fc.record({
      caseId: id,
      lastExposureWallMs: fc.integer({ min: 946_684_800_000, max: 4_102_444_800_000 }),
    }),
    paces,
  },
  {
    requiredKeys: [
      'format',
      'formatVersion',
      'id',
      'chartRef',
      'title',
      'notation',
      'protocol',
      'units',
      'people',
      'room',
      'light',
    ],
  },
);

const parsed = (value: unknown): CaseFile => {
  const file = parseCase(value);
  if (!file.ok) throw new Error(file.error[0]?.place);
  return file.value;
};

describe('a prepared case in the form', () => {
  it('kept unchanged is the same document', () => {
    fc.assert(
      fc.property(files, (file) => {
        const spec = parsed(file);
        const judged = judge(draftOf(spec, HERE), HERE);
        expect(judged.ok && judged.value).toEqual(spec);
      }),
      { numRuns: 500 },
    );
  });

  it('with one field changed keeps everything else', () => {
    fc.assert(
      fc.property(files, (file) => {
        const spec = parsed(file);
        const judged = judge(
          { ...draftOf(spec, HERE), note: 'called', temperature: '21.25' },
          HERE,
        );
        const room = { ...spec.room, temperatureC: 21.25 };
        expect(judged.ok && judged.value).toEqual({ ...spec, note: 'called', room });
      }),
      { numRuns: 300 },
    );
  });

  it('other people do not inherit the paces of those before', () => {
    const pace = { step: 'seat', medianMs: 60_000, p90Ms: 90_000, count: 12 };
    const spec = { ...caseOf(['11']), paces: [pace] };
    const draft = draftOf(spec, HERE);
    const others = draft.people.map((p) => ({ ...p, label: `${p.label} two` }));
    const judged = judge({ ...draft, people: others }, HERE);
    expect(judged.ok && judged.value.paces).toBeUndefined();
  });

  it('what is taken together stays with these units and this protocol', () => {
    const groups = { mixes: [1, 1], rounds: { etch: [1, 1] } };
    const draft = draftOf({ ...caseOf(['11', '21']), groups }, HERE);
    const groupsOf = (changed: typeof draft) => {
      const judged = judge(changed, HERE);
      return judged.ok && judged.value.groups;
    };
    expect(groupsOf({ ...draft, note: 'called' })).toEqual(groups);
    expect(groupsOf({ ...draft, units: draft.units.toReversed() })).toEqual(groups);
    expect(groupsOf({ ...draft, units: draft.units.slice(1) })).toBeUndefined();
    expect(groupsOf({ ...draft, protocol: 'another' })).toBeUndefined();
  });
});

describe('bridges', () => {
  const begun = () => draftOf(caseOf(['13', '12', '11', '21', '43']), HERE);
  const units = (draft: ReturnType<typeof begun>) =>
    draft.units.map((u) => ({ teeth: u.teeth, pontics: u.pontics }));
  const at = (draft: ReturnType<typeof begun>, tooth: string): number =>
    draft.units.findIndex((u) => u.teeth.includes(tooth));

  it('two units become one bridge, of which one tooth is replaced', () => {
    const joined = joinUnits(begun(), { index: at(begun(), '13'), other: '12' });
    const wing = setPontic(joined, { index: at(joined, '13'), tooth: '12', isPontic: true });
    const judged = judge(wing, HERE);
    const unit = judged.ok ? judged.value.units.find((u) => u.teeth.includes('13')) : undefined;
    expect(unit).toMatchObject({ teeth: ['13'], pontics: ['12'], restoration: 'bridge' });
    expect(units(wing)).toHaveLength(4);
  });

  it('only teeth of one jaw can be one piece', () => {
    const draft = begun();
    const others = joinable(draft, at(draft, '13')).flatMap((u) => u.teeth);
    expect(others.toSorted()).toEqual(['11', '12', '21']);
    expect(joinable(draft, at(draft, '43'))).toEqual([]);
  });

  it('the last bonded tooth stays bonded', () => {
    const joined = joinUnits(begun(), { index: at(begun(), '13'), other: '12' });
    const wing = setPontic(joined, { index: at(joined, '13'), tooth: '12', isPontic: true });
    expect(setPontic(wing, { index: at(wing, '13'), tooth: '13', isPontic: true })).toBe(wing);
  });

  it('joining, replacing and parting never lose or double a tooth, and ids stay apart', () => {
    const act = fc.record({
      kind: fc.constantFrom('join', 'pontic', 'part', 'toggle'),
      index: fc.nat(4),
      other: fc.nat(4),
    });
    fc.assert(
      fc.property(fc.array(act, { maxLength: 12 }), (acts) => {
        let draft = begun();
        let teeth = draft.units.flatMap(teethInOrder).toSorted();
        for (const { kind, index, other } of acts) {
          const unit = draft.units[index];
          if (!unit) continue;
          const tooth = teethInOrder(unit)[other] ?? '11';
          if (kind === 'join') {
            const to = joinable(draft, index)[other];
            if (to) draft = joinUnits(draft, { index, other: to.id });
          } else if (kind === 'part') draft = partUnit(draft, index);
          else if (kind === 'toggle') draft = toggleTooth(draft, tooth);
          else if (teethInOrder(unit).includes(tooth)) {
            draft = setPontic(draft, { index, tooth, isPontic: other % 2 === 0 });
          }
          const now = draft.units.flatMap(teethInOrder).toSorted();
          expect(new Set(now).size).toBe(now.length);
          if (kind !== 'toggle') expect(now).toEqual(teeth);
          teeth = now;
          const ids = draft.units.map((u) => u.id);
          expect(new Set(ids).size).toBe(ids.length);
          expect(draft.units.every((u) => u.teeth.length > 0)).toBe(true);
        }
      }),
      { numRuns: 500 },
    );
  });
});
