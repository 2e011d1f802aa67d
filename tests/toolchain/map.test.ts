/** The map of `src` in the README names what is there, and stands in the order in which the import rules let data walk. */
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { expect, test } from 'vitest';

const readme = readFileSync('README.md', 'utf8');
const map = readme.slice(readme.indexOf('## Map of `src`')).split('\n## ')[0] ?? '';
const rows = [...map.matchAll(/^\| `([^`]+)`/gm)].map(([, name = '']) => name);

interface Rule {
  readonly name: string;
  readonly to: { readonly pathNot?: string };
}

const rules: { readonly forbidden: readonly Rule[] } = createRequire(import.meta.url)(
  '../../.dependency-cruiser.cjs',
);

test('every folder of src has a row, and every row a folder', () => {
  const there = readdirSync('src', { withFileTypes: true });
  const folders = there.flatMap((each) => (each.isDirectory() ? [each.name] : []));
  expect(rows.filter((name) => !name.includes('.')).toSorted()).toEqual(folders.toSorted());
  expect(rows.at(-1)).toBe('main.tsx');
});

test('a folder imports only from folders above it', () => {
  const layers = rules.forbidden.flatMap(({ name, to }) => {
    const own = /^layer-(.+)$/.exec(name)?.[1];
    const allowed = /\(([^)]*)\)/.exec(to.pathNot ?? '')?.[1]?.split('|') ?? [];
    return own === undefined ? [] : [{ own, allowed: allowed.filter((other) => other !== own) }];
  });
  expect(layers.length).toBe(rows.length - 1);
  for (const { own, allowed } of layers) {
    const above = rows.slice(0, rows.indexOf(own));
    expect(allowed.filter((other) => !above.includes(other)).map((o) => `${own}: ${o}`)).toEqual(
      [],
    );
  }
});
