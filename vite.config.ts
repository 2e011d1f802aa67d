import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { playwright } from '@vitest/browser-playwright';
import { defineConfig } from 'vitest/config';
import { firstLoadChunks, preloadedFor, sharedWorker } from './.ci/vite/chunks.ts';
import { oneByOne } from './.ci/vite/one-by-one.ts';
import { packedJson } from './.ci/vite/packed-json.ts';
import { pageHead } from './.ci/vite/page-head.ts';
import { SERVER_HEADERS } from './.ci/vite/page-policy.ts';
import { pseudoLanguage } from './.ci/vite/pseudo-language.ts';
import { serviceWorker } from './.ci/vite/service-worker.ts';
import { storePass } from './.ci/vite/store-pass.ts';
import { filesAlone } from './.ci/vitest/alone.ts';
import { LongestFirst } from './.ci/vitest/longest-first.ts';
import packageJson from './package.json' with { type: 'json' };
import { browserCommand } from './tests/tools/browser.ts';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

// index.html lives in src, so that the top level stays small; the tests look at the whole project.
const isTestRun = process.env['VITEST'] !== undefined;
const browser = browserCommand();
// A test that proves the change to a newer build names that build here.
// A build for tests, in a language that shows which texts no translator would see.
const isPseudo = process.env['LUTEWATCH_PSEUDO'] === '1';
/** For tests that look at every press by itself. */
const isOneByOne = process.env['LUTEWATCH_ONE_BY_ONE'] === '1';
const appVersion = process.env['LUTEWATCH_VERSION'] ?? packageJson.version;

/** Tests that time the application: nothing else may run beside them. */
const MEASURED = ['tests/chair/{clocks,cold-start,latency,tabs}.e2e.test.ts'];

/** Unit tests of many seconds each, left out of `npm run test:quick`. */
const LONG = [
  'tests/{cli,toolchain,fixtures,backup,simulate}/**',
  'tests/families/{any-walk,browser,rehearse,shipped,scenarios,ceramics}.test.ts',
  'tests/plan/{random,schedule-exact,risk,exposures,rehearsal,run-plan,adopt}.test.ts',
  'tests/engine/{state-machine,properties,own-runs}.test.ts',
  'tests/{storage/bit-flips,export/journal-json,materials/label-pictures}.test.ts',
  'tests/{lead/protocol-file,protocol/edit}.test.ts',
  'tests/lead/{desk,elsewhere}.test.ts',
  'tests/sync/{clinic-command,server-*,contract-*}.test.ts',
];
const isQuick = process.env['LUTEWATCH_QUICK'] === '1';

const ALONE = isTestRun ? filesAlone(here('.')) : [];
const isUnit = (file: string): boolean => file.endsWith('.ts');

/** Files that change nothing of their process run one after the other in it: what they load is loaded once. */
const SHARED = { isolate: false };

const unit = {
  environment: 'node' as const,
  setupFiles: ['tests/tools/let-arrive.ts'],
  // The runner leaves one processor free by itself; nothing here measures time.
  maxWorkers: '100%',
  // A busy machine must not fail a test that is only slow: time is judged by the bench.
  testTimeout: 120_000,
};

const component = {
  environment: 'jsdom' as const,
  setupFiles: ['tests/tools/component-setup.ts'],
  maxWorkers: '100%',
};

const wholeApp = {
  environment: 'node' as const,
  include: ['tests/**/*.e2e.test.ts'],
  globalSetup: ['tests/tools/unpack-browser.ts', 'tests/tools/build-once.ts'],
  testTimeout: 120_000,
  hookTimeout: 120_000,
};

export default defineConfig({
  root: here(isTestRun ? '.' : './src'),
  publicDir: here('./public'),
  plugins: [
    ...(isPseudo ? [pseudoLanguage()] : []),
    react(),
    packedJson(isOneByOne ? oneByOne : undefined),
    sharedWorker(),
    pageHead(appVersion),
    storePass(),
    serviceWorker(here('./src/service-worker/service-worker.ts')),
  ],
  define: { __APP_VERSION__: JSON.stringify(appVersion) },
  preview: { headers: SERVER_HEADERS },
  // The typeface and the shared tables lie outside src.
  server: { fs: { allow: [here('.')] } },
  build: {
    outDir: here('./dist'),
    emptyOutDir: true,
    target: 'es2022',
    // Every asset stays a file of its own: the content security policy allows no data: fonts.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false, resolveDependencies: preloadedFor },
    rolldownOptions: { output: { codeSplitting: firstLoadChunks() } },
  },
  test: {
    sequence: { sequencer: LongestFirst },
    // A part that the app loads by itself while a test file is being put away is no fault of any test; that
    // the app goes on without it is tested by name (heads-not-loaded, lead-not-loaded).
    onUnhandledError: ({ name }) => name !== 'EnvironmentTeardownError',
    // The default list also takes over queueMicrotask and setImmediate, which the database double needs.
    fakeTimers: {
      toFake: ['setTimeout', 'clearTimeout', 'setInterval', 'clearInterval', 'Date', 'performance'],
    },
    projects: [
      {
        extends: true,
        test: {
          ...unit,
          ...SHARED,
          name: 'unit',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/**/*.{browser,e2e}.test.ts', ...ALONE, ...(isQuick ? LONG : [])],
        },
      },
      {
        extends: true,
        test: {
          ...unit,
          name: 'unit-alone',
          include: ALONE.filter(isUnit),
          exclude: isQuick ? LONG : [],
        },
      },
      {
        extends: true,
        test: {
          ...component,
          ...SHARED,
          name: 'component',
          include: ['tests/**/*.test.tsx'],
          exclude: ['tests/**/*.browser.test.tsx', ...ALONE],
        },
      },
      {
        extends: true,
        test: {
          ...component,
          name: 'component-alone',
          include: ALONE.filter((file) => !isUnit(file)),
        },
      },
      {
        extends: true,
        // Named in advance: a package found in the middle of a run would reload the page under a test.
        optimizeDeps: {
          include: [
            ...Object.keys(packageJson.dependencies).filter((name) => !name.startsWith('@')),
            'react-dom/client',
            'react/jsx-dev-runtime',
            'zustand/vanilla',
            '@date-fns/tz/tzOffset',
            '@noble/hashes/sha2.js',
            '@noble/hashes/utils.js',
            'vitest-browser-react',
            'fast-check',
          ],
        },
        test: {
          name: 'browser',
          include: ['tests/**/*.browser.test.{ts,tsx}'],
          globalSetup: ['tests/tools/unpack-browser.ts'],
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            // Named by number: a bare machine may have no hosts file to look localhost up in.
            api: { host: '127.0.0.1' },
            provider: playwright({ launchOptions: browser }),
            instances: [{ browser: 'chromium' }],
          },
        },
      },
      // Two browsers are as many as a small machine runs beside one another without lying about time.
      {
        extends: true,
        test: { ...wholeApp, name: 'e2e', exclude: MEASURED, maxWorkers: 2 },
      },
      {
        extends: true,
        test: { ...wholeApp, name: 'measured', include: MEASURED, fileParallelism: false },
      },
    ],
  },
});
