/**
 * Changes the code of one folder in small ways and counts the changes that its unit tests notice:
 * `npm run mutate -- FOLDER [--sample N --seed S] [--file PATH]`. The last line is the score as JSON;
 * the list of what was not noticed stands before it and in node_modules/.cache/lutewatch/mutation.
 *
 * Changes of texts are left out. Everything else counts: a change that is switched off by a comment, or
 * that no test reaches, is alive.
 */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { Mutant, MutantResult } from '@stryker-mutator/api/core';
import type { Logger } from '@stryker-mutator/api/logging';
import { Stryker } from '@stryker-mutator/core';
import { Instrumenter } from '@stryker-mutator/instrumenter';
import { globSync } from 'tinyglobby';
import { FOLDERS, type FolderName, isFolderName } from './folders.ts';
import { LEFT_OUT, mutantKey, rangeOf, sampleOf, scoreOf } from './mutants.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const outDir = 'node_modules/.cache/lutewatch/mutation';
const USAGE = `npm run mutate -- FOLDER [--sample N --seed S] [--file PATH]
FOLDER is one of: ${Object.keys(FOLDERS).join(', ')}`;

interface Wish {
  readonly folder: FolderName;
  /** Only the mutants of this file, for work on its tests. */
  readonly file: string | null;
  readonly sample: { readonly size: number; readonly seed: number } | null;
}

function wholeNumber(text: string | undefined, name: string): number {
  if (text === undefined || !/^\d+$/.test(text))
    throw new Error(`${name}: expected a whole number`);
  return Number(text);
}

function readWish(args: readonly string[]): Wish {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      sample: { type: 'string' },
      seed: { type: 'string' },
      file: { type: 'string' },
    },
  });
  const folder = positionals[0] ?? '';
  if (!isFolderName(folder) || positionals.length > 1) throw new Error(USAGE);
  const isSampled = values.sample !== undefined || values.seed !== undefined;
  const sample = isSampled
    ? { size: wholeNumber(values.sample, '--sample'), seed: wholeNumber(values.seed, '--seed') }
    : null;
  return { folder, file: values.file ?? null, sample };
}

function sourcesOf({ folder, file }: Wish): readonly string[] {
  const patterns: readonly string[] = FOLDERS[folder].sources;
  for (const pattern of patterns) {
    if (globSync(pattern, { cwd: root }).length === 0) throw new Error(`${pattern}: no such file`);
  }
  const all = globSync([...patterns], { cwd: root }).sort();
  const wanted = all.filter((name) => file === null || name === file);
  if (wanted.length === 0) throw new Error(`--file ${file}: not one of the folder ${folder}`);
  return wanted;
}

const silent = (): void => {};
const SILENT: Logger = {
  isTraceEnabled: () => false,
  isDebugEnabled: () => false,
  isInfoEnabled: () => false,
  isWarnEnabled: () => false,
  isErrorEnabled: () => false,
  isFatalEnabled: () => false,
  trace: silent,
  debug: silent,
  info: silent,
  warn: silent,
  error: silent,
  fatal: silent,
};

const mutator = { plugins: null, excludedMutations: [LEFT_OUT] };
/** Of the mutants that are switched off, those that this tool leaves out. */
const isLeftOut = ({ mutatorName }: Mutant): boolean => mutatorName === LEFT_OUT;

async function mutantsOf(files: readonly string[]): Promise<readonly Mutant[]> {
  const contents = files.map((name) => ({
    name,
    mutate: true,
    content: readFileSync(join(root, name), 'utf8'),
  }));
  return (await new Instrumenter(SILENT).instrument(contents, { ...mutator, ignorers: [] }))
    .mutants;
}

/** A result names its file by the whole path and counts from 1; the list of mutants does not. */
function asListed(result: MutantResult): MutantResult {
  const { start, end } = result.location;
  const fromNought = ({ line, column }: typeof start) => ({ line: line - 1, column: column - 1 });
  return {
    ...result,
    fileName: relative(root, result.fileName).replaceAll('\\', '/'),
    location: { start: fromNought(start), end: fromNought(end) },
  };
}

/** Runs the tests against the mutants in these parts of files. */
async function resultsOf(
  wish: Wish,
  ranges: readonly string[],
  keys: readonly string[],
): Promise<readonly MutantResult[]> {
  const samplePath = join(root, outDir, `${wish.folder}-sample.json`);
  const copyDir = `${outDir}/${wish.folder}-copy`;
  // A run that was killed could not clean up after itself.
  rmSync(copyDir, { recursive: true, force: true });
  writeFileSync(samplePath, JSON.stringify(keys));
  process.env['LUTEWATCH_MUTATION_FOLDER'] = wish.folder;
  process.env['LUTEWATCH_MUTATION_SAMPLE'] = samplePath;
  const isSampled = wish.sample !== null;
  const results = await new Stryker({
    mutate: [...ranges],
    mutator,
    testRunner: 'vitest',
    plugins: [
      '@stryker-mutator/vitest-runner',
      fileURLToPath(new URL('./sample-checker.mjs', import.meta.url)),
    ],
    checkers: isSampled ? ['sample'] : [],
    vitest: { configFile: 'tests/mutation/vitest.config.ts', related: false },
    coverageAnalysis: 'perTest',
    disableTypeChecks: false,
    // The tool starts one process more when the sample has been drawn.
    concurrency: 1,
    // A test that only waits for a busy machine must not count as one that noticed something.
    timeoutMS: 20_000,
    dryRunTimeoutMinutes: 30,
    ignorePatterns: ['dist', '.screens', 'coverage', 'public', '*.log'],
    tempDirName: copyDir,
    cleanTempDir: 'always',
    reporters: ['progress-append-only'],
    allowConsoleColors: false,
  }).runMutationTest();
  rmSync(samplePath);
  return results.map(asListed);
}

const isNoticed = ({ status }: MutantResult): boolean =>
  status === 'Killed' || status === 'Timeout' || status === 'RuntimeError';

function tellOf({ status, fileName, location, mutatorName, replacement }: MutantResult): string {
  const { line, column } = location.start;
  const change = (replacement ?? '').replaceAll(/\s+/g, ' ').slice(0, 90);
  return `${status}  ${fileName}:${line + 1}:${column + 1}  ${mutatorName}  ${change}`;
}

process.chdir(root);
const wish = readWish(process.argv.slice(2));
mkdirSync(outDir, { recursive: true });
const startedAtMs = Date.now();

const files = sourcesOf(wish);
const every = await mutantsOf(files);
const counted = every.filter((mutant) => !isLeftOut(mutant));
const chosen = wish.sample === null ? counted : sampleOf(counted, wish.sample);
const keys = chosen.map(mutantKey);
const wanted = new Set(keys);

const all = await resultsOf(wish, wish.sample === null ? files : chosen.map(rangeOf), keys);
const results = all.filter((result) => wanted.has(mutantKey(result)));
if (results.some(({ status }) => status === 'CompileError')) {
  throw new Error('The checker let none of the chosen mutants through.');
}
if (results.length !== chosen.length) {
  throw new Error(`${chosen.length} mutants were chosen, ${results.length} came back.`);
}

const alive = results.filter((result) => !isNoticed(result)).map(tellOf);
const { size: _, ...seed } = wish.sample ?? { size: null };
const line = {
  folder: wish.folder,
  ...(wish.file === null ? {} : { file: wish.file }),
  ...scoreOf(results.map(({ status }) => status)),
  sampled: wish.sample !== null,
  of: counted.length,
  ...seed,
  leftOut: { [LEFT_OUT]: every.length - counted.length },
  minutes: Math.round((Date.now() - startedAtMs) / 6_000) / 10,
};
writeFileSync(join(outDir, `${wish.folder}.json`), JSON.stringify({ ...line, results }, null, 2));
console.log(`\n${alive.sort().join('\n')}\n`);
console.log(JSON.stringify(line));
