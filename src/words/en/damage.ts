/** What is missing of the records, and what to do about it. */
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

interface Counted {
  readonly name: string;
  readonly known: number;
  readonly left: number;
  readonly apart: number;
  readonly missing: number;
}

export const damage = {
  title: 'Saved records on this tablet are damaged.',
  todo: 'Restore the last backup. What is left stays as it is.',
  noted: 'Seen',
  caseName: (o: { readonly title: string; readonly chartRef: string }): string =>
    `${o.title}, ${o.chartRef}`,
  caseUnnamed: 'A case without a title',
  allMissing: ({ name, known }: Counted): string =>
    plural(known, {
      one: `${name}: its 1 saved entry is missing.`,
      other: `${name}: all ${known} saved entries are missing.`,
    }),
  someMissing: ({ name, known, missing }: Counted): string =>
    plural(missing, {
      one: `${name}: 1 of ${known} saved entries is missing.`,
      other: `${name}: ${missing} of ${known} saved entries are missing.`,
    }),
  onlyApart: ({ name, known, apart }: Counted): string =>
    plural(apart, {
      one: `${name}: 1 of ${known} saved entries no longer fits the one before it and is set apart.`,
      other: `${name}: ${apart} of ${known} saved entries no longer fit those before them and are set apart.`,
    }),
  alsoApart: ({ apart }: Pick<Counted, 'apart'>): string =>
    plural(apart, {
      one: '1 after that no longer fits and is set apart.',
      other: `${apart} after that no longer fit and are set apart.`,
    }),
  moreCases: (count: number): string =>
    plural(count, {
      one: '1 further case is damaged: see its record.',
      other: `${count} further cases are damaged: see their records.`,
    }),
  unnamed: (count: number): string =>
    plural(count, {
      one: '1 case is missing. Not even its name is left.',
      other: `${count} cases are missing. Not even their names are left.`,
    }),
  unreadable: (count: number): string =>
    plural(count, {
      one: '1 line of the records cannot be read.',
      other: `${count} lines of the records cannot be read.`,
    }),
  mended: (count: number): string =>
    plural(count, {
      one: '1 entry was damaged in one copy. It was restored from the other.',
      other: `${count} entries were damaged in one copy. They were restored from the other.`,
    }),
  ofCase: 'The saved entries of this case are damaged.',
  goesOn: 'The case goes on from what is left.',
  prepared: (names: readonly string[]): string =>
    plural(names.length, {
      one: `A prepared case cannot be read: ${names.join(', ')}.`,
      other: `${names.length} prepared cases cannot be read: ${names.join(', ')}.`,
    }),
  preparedTodo: 'What was stored is kept. Set the case up again, or restore a backup.',
};
