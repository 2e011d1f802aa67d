import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const lines = (count: number, line: string): string => `${line}\n`.repeat(count);
const longFunction = (statements: number): string =>
  `export function f(x: number): void {\n${lines(statements, '  x;')}}\n`;

let project = '';

beforeEach(() => {
  project = mkdtempSync(join(tmpdir(), 'lint-rules-'));
});

afterEach(() => rmSync(project, { recursive: true }));

function write(path: string, text: string): void {
  mkdirSync(dirname(join(project, path)), { recursive: true });
  writeFileSync(join(project, path), text);
}

function run(script: string, args: readonly string[]): string {
  const path = join(ROOT, 'node_modules', script);
  const { stdout, stderr } = spawnSync(process.execPath, [path, ...args], {
    cwd: project,
    encoding: 'utf8',
  });
  return stdout + stderr;
}

describe('the linter', () => {
  beforeEach(() => {
    for (const path of ['biome.json', '.gitignore', '.ci/lint']) {
      cpSync(join(ROOT, path), join(project, path), { recursive: true });
    }
  });

  test.each([
    ['the clock in a pure folder', 'src/calc/planted.ts', 'export const x = Date.now();', 'plugin'],
    ['chance in a pure folder', 'src/plan/planted.ts', 'export const x = Math.random();', 'plugin'],
    ['today in a pure folder', 'src/export/planted.ts', 'export const x = new Date();', 'plugin'],
    ['any', 'src/ui/planted.ts', 'export const x: any = 1;', 'noExplicitAny'],
    ['a default export', 'src/ui/planted.ts', 'export default 1;', 'noDefaultExport'],
    ['export *', 'src/ui/planted.ts', "export * from './a.ts';", 'noReExportAll'],
    ['an import without extension', 'src/ui/planted.ts', "import './a';", 'useImportExtensions'],
    ['a name in camel case', 'src/ui/plantedFile.ts', 'export {};', 'useFilenamingConvention'],
    [
      'a source file of 401 lines',
      'src/ui/planted.ts',
      lines(401, '1;'),
      'noExcessiveLinesPerFile',
    ],
    ['a long function', 'src/ui/planted.ts', longFunction(71), 'noExcessiveLinesPerFunction'],
    [
      'a promise that nobody waits for',
      'src/ui/planted.ts',
      'async function f(): Promise<void> {}\nexport function g(): void {\n  f();\n}',
      'noFloatingPromises',
    ],
  ])('refuses %s', (_what, path, text, rule) => {
    write('src/ui/a.ts', 'export const a = 1;\n');
    write(path, text);
    expect(run('@biomejs/biome/bin/biome', ['lint', '--diagnostic-level=error', '.'])).toContain(
      rule,
    );
  });

  test('lets the clock be read outside the pure folders, and dates be made from numbers inside', () => {
    write('src/runtime/fine.ts', 'export const x = Date.now();\n');
    write('src/export/fine.ts', 'export const x = new Date(5).toISOString();\n');
    write('src/ui/long.ts', longFunction(60));
    const text = run('@biomejs/biome/bin/biome', ['lint', '--diagnostic-level=error', '.']);
    expect(text).toContain('Checked 4 files');
    expect(text).not.toContain('Found');
  });
});

test('the compiler of the pure folders knows no page, no timer, no console and no Node', () => {
  write('tsconfig.json', `{ "extends": "${ROOT}src/tsconfig.pure.json", "include": ["*.ts"] }`);
  write('planted.ts', 'export const x = [document, setTimeout, console, process, fetch, Math];\n');
  const text = run('typescript/bin/tsc', ['-p', '.', '--pretty', 'false']);
  const unknown = [...text.matchAll(/Cannot find name '(\w+)'/g)].map(([, name]) => name);
  expect(unknown).toEqual(['document', 'setTimeout', 'console', 'process', 'fetch']);
});
