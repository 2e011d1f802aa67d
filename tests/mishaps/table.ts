/**
 * The tables of mishaps, as they are written:
 *
 *     # id: what happens, for people | where it is played
 *     to end etch-dry {2}          how far the case is played; {1} and {2} are its units in order
 *     at 0:04 etched-saliva {1}    what happens, and when since then (see play.ts)
 *     > heading Etch {1}           what the screen must say then
 *     > then    Rinse {1}          what the bar must ask next, and so on
 *
 * `a|b` is one or the other. `-` is nothing at all. `> over X`: a limit is passed and the bar says so.
 * `> calm X`: none is. `> now X`: the bar does not wait. `> next X`: the other thing that is offered. `> never X`: nowhere.
 */
import { FAMILIES, SEATING } from '../families/family-chair.ts';
import { CEMENT } from './cement.table.ts';
import { TEETH } from './teeth.table.ts';
import { UNITS } from './units.table.ts';
import { VISIT } from './visit.table.ts';

export interface Must {
  readonly key: string;
  readonly value: string;
}

export interface MishapRow {
  readonly id: string;
  readonly happens: string;
  /** Families or cases; its picture is of the first. */
  readonly cases: readonly string[];
  readonly script: string;
  readonly musts: readonly Must[];
}

const SHORT: Readonly<Record<string, readonly string[]>> = {
  seating: SEATING,
  universal: ['veneers, universal'],
  'seating with cord': SEATING.map((family) => `${family} with cord`),
};

const lineOf = (text: string): string => text.trim().replaceAll(/\s+/g, ' ');

function casesOf(names: string): string[] {
  const isFamily = names in FAMILIES;
  const listed = isFamily ? [names] : names.split(names.includes(';') ? ';' : ',');
  return listed.map(lineOf).flatMap((name) => SHORT[name] ?? [name]);
}

function rowOf(block: string): MishapRow {
  const [head = '', ...lines] = block
    .split('\n')
    .map(lineOf)
    .filter((line) => line !== '');
  const [, id = '', happens = '', names = ''] = /^([\w-]+): (.+) \| (.+)$/.exec(head) ?? [];
  if (id === '') throw new Error(`not a head of a row: ${head}`);
  const musts = lines.flatMap((line) => {
    const [, key = '', value = ''] = /^> (\w+) (.+)$/.exec(line) ?? [];
    return key === '' ? [] : [{ key, value }];
  });
  const script = lines.filter((line) => !line.startsWith('>')).join('\n');
  return { id, happens, cases: casesOf(names), script, musts };
}

const rowsOf = (table: string): MishapRow[] => table.split(/^# /m).slice(1).map(rowOf);

export const ROWS: readonly MishapRow[] = [TEETH, UNITS, CEMENT, VISIT].flatMap(rowsOf);
