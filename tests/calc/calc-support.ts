/** Runs a figure the way the command line does: unknown input, tables from the project's files. */
import { readFileSync } from 'node:fs';
import { problemLine } from '../../src/base/problem.ts';
import type { Calc } from '../../src/calc/calc.ts';
import { type CalcTables, parseCalcTables } from '../../src/calc/tables.ts';

function readTable(name: string): unknown {
  const url = new URL(`../../shared/tables/${name}.json`, import.meta.url);
  return JSON.parse(readFileSync(url, 'utf8'));
}

function loadTables(): CalcTables {
  const tables = parseCalcTables({
    blueLight: readTable('blue-light-hazard'),
    crowns: readTable('crown-dimensions'),
  });
  if (!tables.ok) throw new Error(problemLine(tables.error));
  return tables.value;
}

export const TABLES = loadTables();

/** The answer; fails the test with the problem's line when there is none. */
export function computed(calc: Calc, input: unknown): Readonly<Record<string, unknown>> {
  const answer = calc.compute(input, TABLES);
  if (!answer.ok) throw new Error(problemLine(answer.error));
  if (answer.value.source.length < 10) throw new Error(`${calc.name} names no source`);
  return answer.value;
}

/** The one line that refuses the input; fails the test when it was accepted. */
export function refused(calc: Calc, input: unknown): string {
  const answer = calc.compute(input, TABLES);
  if (answer.ok) throw new Error(`accepted: ${JSON.stringify(answer.value)}`);
  return problemLine(answer.error);
}

/** One number out of an answer. */
export function figure(calc: Calc, input: unknown, key: string): number {
  const value = computed(calc, input)[key];
  if (typeof value !== 'number') throw new Error(`${key} is ${JSON.stringify(value)}`);
  return value;
}
