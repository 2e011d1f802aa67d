import { expect, test } from 'vitest';
import { keptLater } from '../../.ci/vite/service-worker.ts';

/** A chunk of a build that asks for others: those it cannot start without, and those it may want. */
const chunk = (o: {
  needs?: string[];
  may?: string[];
  of?: string;
  entry?: true;
  css?: string;
}) => ({
  isEntry: o.entry === true,
  imports: o.needs ?? [],
  dynamicImports: o.may ?? [],
  facadeModuleId: o.of ?? null,
  viteMetadata: { importedCss: new Set(o.css === undefined ? [] : [o.css]) },
});

test('what only a later page needs waits; what both need does not', () => {
  const build = new Map([
    ['app.js', chunk({ entry: true, may: ['chair.js', 'desk.js'] })],
    ['chair.js', chunk({ of: '/x/src/ui/chair/Chair.tsx', needs: ['both.js'], css: 'chair.css' })],
    [
      'desk.js',
      chunk({
        of: '/x/src/ui/lead/LeadDesk.tsx',
        needs: ['both.js', 'own.js'],
        may: ['sub.js'],
        css: 'desk.css',
      }),
    ],
    ['both.js', chunk({})],
    ['own.js', chunk({})],
    ['sub.js', chunk({ of: '/x/src/words/en/form.ts' })],
  ]);
  expect([...keptLater(build)].toSorted()).toEqual(['desk.css', 'desk.js', 'own.js', 'sub.js']);
});

test('a page of the desk that the chair cannot start without is kept at once', () => {
  const build = new Map([
    ['app.js', chunk({ entry: true, needs: ['desk.js'] })],
    ['desk.js', chunk({ of: '/x/src/ui/lead/LeadDesk.tsx' })],
  ]);
  expect([...keptLater(build)]).toEqual([]);
});
