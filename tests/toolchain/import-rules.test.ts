import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const CRUISER = join(ROOT, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
const PACKAGES = [
  '@nats-io/nats-core',
  'canonicalize',
  'idb',
  'jsonc-parser',
  'jstat',
  'react',
  'workbox-precaching',
  'workbox-window',
  'wouter',
  'zustand',
];

interface Rule {
  readonly name: string;
}
interface Report {
  readonly summary: {
    readonly totalCruised: number;
    readonly violations: readonly { readonly rule: Rule; readonly from: string }[];
  };
}

const config: { readonly forbidden: readonly Rule[] } = createRequire(import.meta.url)(
  join(ROOT, '.dependency-cruiser.cjs'),
);

/** For each rule a file and what it imports to break that rule, whatever else that breaks. */
const PLANTED: Readonly<Record<string, readonly [file: string, imported: string]>> = {
  'layer-base': ['src/base/planted.ts', '../calc/good.ts'],
  'layer-protocol': ['src/protocol/planted.ts', '../engine/good.ts'],
  'layer-calc': ['src/calc/planted.ts', '../protocol/good.ts'],
  'layer-temporal': ['src/temporal/planted.ts', '../protocol/good.ts'],
  'layer-engine': ['src/engine/planted.ts', '../plan/good.ts'],
  'layer-plan': ['src/plan/planted.ts', '../storage/good.ts'],
  'layer-outcomes': ['src/outcomes/planted.ts', '../engine/good.ts'],
  'layer-drill': ['src/drill/planted.ts', '../words/good.ts'],
  'layer-storage': ['src/storage/planted.ts', '../plan/good.ts'],
  'layer-words': ['src/words/planted.ts', '../export/good.ts'],
  'layer-export': ['src/export/planted.ts', '../storage/good.ts'],
  'layer-sync': ['src/sync/planted.ts', '../runtime/good.ts'],
  'layer-runtime': ['src/runtime/planted.ts', '../ui/good.ts'],
  'layer-ui': ['src/ui/planted.ts', '../storage/good.ts'],
  'layer-cli': ['src/cli/planted.ts', '../runtime/good.ts'],
  'layer-service-worker': ['src/service-worker/planted.ts', '../base/good.ts'],
  'ui-parts': ['src/ui/parts/planted.ts', '../shared/good.ts'],
  'ui-shared': ['src/ui/shared/planted.ts', '../chair/good.ts'],
  'ui-features': ['src/ui/today/planted.ts', '../chair/good.ts'],
  'pure-packages': ['src/engine/planted-package.ts', 'idb'],
  'base-packages': ['src/base/planted-package.ts', 'valibot'],
  'node-in-cli': ['src/runtime/planted-node.ts', 'node:fs'],
  'door-@nats-io': ['src/runtime/planted-line.ts', '@nats-io/nats-core'],
  'door-jstat': ['src/export/planted-figure.ts', 'jstat'],
  'door-idb': ['src/runtime/planted-idb.ts', 'idb'],
  'door-jsonc-parser': ['src/plan/planted-reader.ts', 'jsonc-parser'],
  'door-canonicalize': ['src/storage/planted-canonical.ts', 'canonicalize'],
  'door-workbox-window': ['src/runtime/planted-window.ts', 'workbox-window'],
  'door-zustand': ['src/cli/planted-zustand.ts', 'zustand'],
  'stores-without-react': ['src/runtime/planted-hooks.ts', 'zustand'],
  'door-(react|react-dom)': ['src/runtime/planted-react.ts', 'react'],
  'door-wouter': ['src/runtime/planted-wouter.ts', 'wouter'],
  'door-date-fns': ['src/cli/planted-dates.ts', 'date-fns'],
  'door-@date-fns/tz': ['src/words/planted-zone.ts', '@date-fns/tz'],
  'door-workbox-(precaching|routing|core)': ['src/runtime/planted-sw.ts', 'workbox-precaching'],
  'no-cycles': ['src/calc/planted-cycle-too.ts', './planted-cycle.ts'],
  'shipped-packages': ['src/runtime/planted-dev.ts', 'fast-check'],
  resolvable: ['src/calc/planted-missing.ts', './nowhere.ts'],
  'inside-src': ['src/runtime/planted-outside.ts', '../../tests/helper.ts'],
};

describe('the import rules', () => {
  let project = '';

  beforeEach(() => {
    project = mkdtempSync(join(tmpdir(), 'import-rules-'));
    cpSync(join(ROOT, '.dependency-cruiser.cjs'), join(project, '.dependency-cruiser.cjs'));
    write('tsconfig.json', '{ "compilerOptions": { "allowImportingTsExtensions": true } }');
    const dependencies = [...PACKAGES, 'date-fns', '@date-fns/tz', 'valibot'];
    const listed = Object.fromEntries(dependencies.map((name) => [name, '1.0.0']));
    write(
      'package.json',
      JSON.stringify({ dependencies: listed, devDependencies: { 'fast-check': '1.0.0' } }),
    );
    for (const name of [...dependencies, 'fast-check']) {
      write(
        `node_modules/${name}/package.json`,
        `{ "name": "${name}", "version": "1.0.0", "main": "index.js" }`,
      );
      write(`node_modules/${name}/index.js`, 'export const x = 1;');
    }
    write('node_modules/zustand/vanilla.js', 'export const x = 1;');
    for (const layer of [...LAYERS, 'ui/shared', 'ui/chair'])
      write(`src/${layer}/good.ts`, 'export const x = 1;');
    write('tests/helper.ts', 'export const x = 1;');
  });

  afterEach(() => rmSync(project, { recursive: true }));

  function write(path: string, text: string): void {
    mkdirSync(dirname(join(project, path)), { recursive: true });
    writeFileSync(join(project, path), text);
  }

  function plant([file, imported]: readonly [string, string]): void {
    write(file, `import { x } from '${imported}';\nexport const y = x;\n`);
  }

  function cruise(): Report {
    return JSON.parse(cruiseText(project));
  }

  test('every rule has a planted violation', () => {
    expect(Object.keys(PLANTED).sort()).toEqual(config.forbidden.map((rule) => rule.name).sort());
  });

  test('each planted violation is found, in the file it was planted in', () => {
    for (const planted of Object.values(PLANTED)) plant(planted);
    write('src/calc/planted-cycle.ts', `import './planted-cycle-too.ts';\nexport const x = 1;`);
    const found = cruise().summary.violations.map(({ rule, from }) => `${rule.name} in ${from}`);
    for (const [name, [file]] of Object.entries(PLANTED)) {
      expect(found).toContain(`${name} in ${file}`);
    }
  });

  test('imports that follow the rules are let through', () => {
    plant(['src/engine/fine.ts', '../protocol/good.ts']);
    plant(['src/protocol/fine.ts', 'valibot']);
    plant(['src/storage/fine.ts', 'idb']);
    plant(['src/runtime/store.ts', 'zustand/vanilla']);
    plant(['src/ui/hooks.ts', 'zustand']);
    plant(['src/runtime/update/app-update.ts', 'workbox-window']);
    plant(['src/words/fine.ts', 'date-fns']);
    plant(['src/words/zone.ts', '@date-fns/tz']);
    plant(['src/ui/chair/sheets/fine.ts', '../../shared/good.ts']);
    plant(['src/ui/chair/fine.ts', './good.ts']);
    plant(['src/ui/fine.ts', 'react']);
    plant(['src/cli/fine.ts', 'node:fs']);
    plant(['src/main.tsx', '../src/ui/fine.ts']);
    const { summary } = cruise();
    expect(summary.violations).toEqual([]);
    expect(summary.totalCruised).toBeGreaterThan(LAYERS.length);
  });
});

const LAYERS = Object.keys(PLANTED).flatMap((name) =>
  name.startsWith('layer-') ? [name.slice('layer-'.length)] : [],
);

/** The report as JSON; in this form the tool exits with 0 whatever it found. */
function cruiseText(cwd: string): string {
  const args = [CRUISER, 'src', '--config', '.dependency-cruiser.cjs', '--output-type', 'json'];
  return execFileSync(process.execPath, args, { cwd, encoding: 'utf8' });
}
