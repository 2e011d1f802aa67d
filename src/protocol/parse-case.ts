/** The only way from unknown data to a {@link CaseFile}, duplicates of teeth and ids included. */
import { deepFreeze } from '../base/freeze.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import type { CaseFile } from './case-types.ts';
import { bestProblems, impossibleDates } from './document-problems.ts';
import { readOutside } from './read-outside.ts';
import { caseSchema } from './schema-case.ts';

const NAME = 'case';

interface PlacedValue {
  readonly place: string;
  readonly value: string;
}

function repeated(all: readonly PlacedValue[], what: string): readonly Problem[] {
  const firstAt = new Map<string, string>();
  const problems: Problem[] = [];
  for (const { place, value } of all) {
    const first = firstAt.get(value);
    if (first === undefined) firstAt.set(value, place);
    else problems.push(problem(place, `${what} other than in ${first}`, value, 'duplicate'));
  }
  return problems;
}

function duplicates(file: CaseFile): readonly Problem[] {
  const units = file.units.map((unit, u) => ({ place: `${NAME}.units[${u}].id`, value: unit.id }));
  const teeth = file.units.flatMap((unit, u) =>
    (['teeth', 'pontics'] as const).flatMap((key) =>
      (unit[key] ?? []).map((value, t) => ({ place: `${NAME}.units[${u}].${key}[${t}]`, value })),
    ),
  );
  const people = file.people.map((person, p) => ({
    place: `${NAME}.people[${p}].id`,
    value: person.id,
  }));
  const [paces, changeOvers] = (['paces', 'changeOvers'] as const).map((key) =>
    (file[key] ?? []).map(({ step }, p) => ({ place: `${NAME}.${key}[${p}].step`, value: step })),
  );
  const known = (file.teeth ?? []).map((each, t) => ({
    place: `${NAME}.teeth[${t}].tooth`,
    value: each.tooth,
  }));
  return [
    ...repeated(units, 'a unit id'),
    ...repeated(teeth, 'a tooth'),
    ...repeated(known, 'a tooth'),
    ...repeated(people, 'a person id'),
    ...repeated(paces ?? [], 'a step'),
    ...repeated(changeOvers ?? [], 'a step'),
  ];
}

/** Facts about a tooth to which nothing is bonded would be facts about nobody. */
function strayTeeth({ teeth = [], units }: CaseFile): readonly Problem[] {
  const bonded = new Set(units.flatMap((unit) => unit.teeth));
  return teeth.flatMap(({ tooth }, t) =>
    bonded.has(tooth)
      ? []
      : [problem(`${NAME}.teeth[${t}].tooth`, 'a tooth of a unit of this case', tooth, 'unknown')],
  );
}

const sumOf = (sizes: readonly number[]): number => sizes.reduce((sum, size) => sum + size, 0);

/** A unit left out of the mixes, or counted twice, would be lost or doubled in the chair. */
function unevenMixes({ groups, units }: CaseFile): readonly Problem[] {
  const mixes = groups?.mixes;
  if (mixes === undefined || sumOf(mixes) === units.length) return [];
  const expected = `sizes that add up to ${units.length}, one for each unit`;
  return [problem(`${NAME}.groups.mixes`, expected, sumOf(mixes), 'sum')];
}

/**
 * Reads a case file. The result is a frozen copy; the input is left alone.
 * Errors: at most twenty problems, the most telling first, each with its place.
 */
export function parseCase(input: unknown): Result<CaseFile, readonly Problem[]> {
  const parsed = readOutside(caseSchema, input, NAME);
  if (!parsed.ok) return parsed;
  const problems = [
    ...duplicates(parsed.value),
    ...strayTeeth(parsed.value),
    ...unevenMixes(parsed.value),
    ...impossibleDates(parsed.value, NAME),
  ];
  if (problems.length > 0) return err(bestProblems(problems, NAME));
  return ok(deepFreeze(parsed.value));
}
