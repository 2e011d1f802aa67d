/** Figures by person, for the lead: who is named, and what is told where nobody is. The rules are this project's, no source. */
import { describe, expect, test } from 'vitest';
import { outcomesModel } from '../../src/outcomes/model/outcomes-model.ts';
import { NOT_NAMED, type PersonsShown } from '../../src/outcomes/model/outcomes-types.ts';
import { reviewWork } from '../../src/outcomes/model/review.ts';
import type { AgreedTo } from '../../src/outcomes/review-types.ts';
import { ASKED, inputOf, type SmallUnit, TODAY, unitsBy } from './small-clinic.ts';

function shown(
  units: readonly SmallUnit[],
  agreed: readonly string[],
  to: AgreedTo = 'own-figures',
): PersonsShown | null {
  const reviews = { ...ASKED, agreed: agreed.map((person) => ({ person, to, onDay: TODAY })) };
  return outcomesModel(inputOf(units, { reviews, isForLead: true })).persons;
}

const namesIn = (found: PersonsShown | null): readonly string[] | null =>
  found?.isOpen === true ? found.grouping.groups.map(({ name }) => name) : null;

const missingIn = (found: PersonsShown | null): readonly string[] | null =>
  found?.isOpen === false ? found.missing : null;

// The one with the most failures is neither first nor last by name.
const THREE = [...unitsBy('Cy', 60, 8), ...unitsBy('Bo', 60, 20), ...unitsBy('Al', 60, 8)];
const FOUR = [...THREE, ...unitsBy('Di', 60, 10)];

describe('figures by person', () => {
  test('are not worked out while the lead does not ask, and stand in no review', () => {
    const input = inputOf(THREE, { reviews: { ...ASKED, agreed: [] } });
    expect(outcomesModel(input).persons).toBeNull();
    const { groupings } = outcomesModel({ ...input, isForLead: true });
    expect(groupings.map(({ kind }) => kind)).not.toContain('person');
    const compared = reviewWork({ ...input, isForLead: true }, 1).compared();
    expect(compared.map(({ grouping }) => grouping).join()).not.toMatch(/person|Al|Bo|Cy/);
  });

  test('name all who agreed, by name and not by figure, however a name is written', () => {
    const found = shown(THREE, ['al', 'B.o', 'Cy']);
    expect(namesIn(found)).toEqual(['Al', 'Bo', 'Cy']);
    if (found?.isOpen !== true) return;
    const { groups, comparisons } = found.grouping;
    expect(groups.map(({ failures }) => failures)).toEqual([8, 20, 8]);
    expect(comparisons.map(({ first, missing }) => [first.name, missing])).toEqual([
      ['Al', []],
      ['Bo', []],
      ['Cy', []],
    ]);
    // No p stands beside a name.
    expect(JSON.stringify(found)).not.toMatch(/"p"|robust/);
  });

  test('leave out who did not agree, and never show one alone as the others', () => {
    expect(missingIn(shown(THREE, []))).toEqual(['agreement']);
    expect(missingIn(shown(THREE, ['Al', 'Bo']))).toEqual(['agreement']);
    expect(missingIn(shown(THREE, ['Al', 'Bo', 'Cy'], 'drills'))).toEqual(['agreement']);
    expect(missingIn(shown(FOUR, ['Al', 'Bo', 'Di']))).toEqual(['agreement']);
    expect(namesIn(shown(FOUR, ['Di', 'Al']))).toEqual(['Al', 'Di', NOT_NAMED]);
    // One of the two others has too few patients to hide the other.
    const nine = [...THREE, ...unitsBy('Di', 9, 2)];
    expect(missingIn(shown(nine, ['Al', 'Bo']))).toEqual(['agreement']);
    expect(namesIn(shown([...THREE, ...unitsBy('Di', 10, 2)], ['Al', 'Bo']))).toEqual([
      'Al',
      'Bo',
      NOT_NAMED,
    ]);
    expect(namesIn(shown(FOUR, ['Al', 'Bo', 'Cy', 'Di']))).toEqual(['Al', 'Bo', 'Cy', 'Di']);
  });

  test('tell what is missing without a name or a number of anybody, at the edge of each gate', () => {
    const all = ['Al', 'Bo'];
    const two = (al: readonly [number, number], bo: readonly [number, number]) =>
      shown([...unitsBy('Al', ...al), ...unitsBy('Bo', ...bo)], all);
    expect(missingIn(shown(unitsBy('Al', 200, 20), all))).toEqual(['one-person']);
    expect(namesIn(two([50, 5], [50, 5]))).toEqual(['Al', 'Bo']);
    expect(missingIn(two([49, 5], [50, 5]))).toContain('lives');
    expect(missingIn(two([50, 4], [50, 5]))).toContain('patientsWithFailure');
    expect(missingIn(two([20, 4], [180, 30]))).toEqual(['expected']);
    // Many units of nine patients.
    const few = unitsBy('Al', 90, 18).map((unit, at) => ({ ...unit, patient: `Al ${at % 9}` }));
    expect(missingIn(shown([...few, ...unitsBy('Bo', 90, 18)], all))).toEqual(['patients']);
    // Followed for half of the time.
    const short = unitsBy('Al', 90, 18).map((unit) => ({ ...unit, day: Math.min(unit.day, 1900) }));
    expect(missingIn(shown([...short, ...unitsBy('Bo', 90, 18)], all))).toEqual([
      'completenessApart',
    ]);
  });

  test('stay shut where the test with the patient as one cannot be worked out', () => {
    // Each patient has a unit of both, lost on the same day or never: the sums of all patients are 0.
    const both = unitsBy('Al', 60, 20).flatMap((unit, at) => [
      { ...unit, patient: `C ${at}` },
      { ...unit, patient: `C ${at}`, person: 'Bo' },
    ]);
    expect(missingIn(shown(both, ['Al', 'Bo']))).toEqual(['test']);
  });
});
