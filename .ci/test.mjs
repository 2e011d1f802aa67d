/**
 * Runs every check of the project, one after the other, and ends with one line that says how many
 * passed and failed. A gate counts as one; the tests of a suite are counted one by one. Later gates
 * run even when an earlier one has failed, so that one run shows everything that is wrong.
 *
 * `npm test -- unit e2e` runs only the named gates. `quick` is for the desk: it is no gate of the
 * whole run, and leaves out the unit tests that take long.
 */
import { spawn } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const reportDir = join(root, 'node_modules', '.cache', 'lutewatch', 'reports');

/** Licences under which a package may be part of what ships. */
const LICENCES = 'MIT;Apache-2.0;BSD-2-Clause;BSD-3-Clause;BSD;ISC;OFL-1.1;0BSD;Unlicense';

const GATES = [
  {
    name: 'lint',
    run: () => gate('@biomejs/biome/bin/biome', ['check', '--error-on-warnings', '.']),
  },
  { name: 'types', run: () => gate('typescript/bin/tsc', ['-p', '.']) },
  { name: 'types-pure', run: () => gate('typescript/bin/tsc', ['-p', 'src/tsconfig.pure.json']) },
  {
    name: 'types-worker',
    run: () => gate('typescript/bin/tsc', ['-p', 'src/tsconfig.worker.json']),
  },
  { name: 'imports', run: importRules },
  { name: 'licences', run: licences },
  { name: 'unit', run: () => suite('unit') },
  { name: 'component', run: () => suite('component') },
  { name: 'browser', run: () => suite('browser') },
  { name: 'e2e', run: () => suite('e2e') },
  { name: 'measured', run: () => suite('measured') },
];

/** For the loop at the desk: what is wrong most often, in under a minute. */
const QUICK = { name: 'quick', run: () => suite('unit', { LUTEWATCH_QUICK: '1' }) };

// Some tools take the mere presence of FORCE_COLOR, whatever its value, as a wish for colour.
const { FORCE_COLOR: _, ...plainEnvironment } = process.env;

/** Runs a tool that is installed as a package. Answers its exit code and what it printed. */
function tool(script, args, { quiet = false, env = {} } = {}) {
  const path = join(root, 'node_modules', script);
  const child = spawn(process.execPath, [path, ...args], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...plainEnvironment, CI: 'true', NO_COLOR: '1', ...env },
  });
  let text = '';
  child.stdout.on('data', (chunk) => {
    text += chunk;
    if (!quiet) process.stdout.write(chunk);
  });
  child.stderr.on('data', (chunk) => process.stdout.write(chunk));
  return new Promise((resolve) => {
    child.on('error', (error) => resolve({ code: 1, text: String(error) }));
    child.on('close', (code) => resolve({ code: code ?? 1, text }));
  });
}

const outcome = (passes) => ({ passed: passes ? 1 : 0, failed: passes ? 0 : 1 });

async function gate(script, args) {
  return outcome((await tool(script, args)).code === 0);
}

/** The report names what it read: a run that read nothing proves nothing. */
async function importRules() {
  const args = ['src', '--config', '.dependency-cruiser.cjs', '--output-type', 'json'];
  const script = 'dependency-cruiser/bin/dependency-cruise.mjs';
  const { code, text } = await tool(script, args, { quiet: true });
  if (code !== 0) return outcome(false);
  const { totalCruised, violations } = JSON.parse(text).summary;
  for (const { rule, from, to } of violations) console.log(`${rule.name}: ${from} -> ${to}`);
  console.log(`${totalCruised} modules read`);
  return outcome(totalCruised > 0 && violations.length === 0);
}

async function licences() {
  const args = ['--production', '--excludePrivatePackages', '--onlyAllow', LICENCES, '--summary'];
  const script = 'license-checker-rseidelsohn/bin/license-checker-rseidelsohn.js';
  const { code, text } = await tool(script, args);
  return outcome(code === 0 && /MIT: [1-9]/.test(text));
}

/** Runs one suite. A suite that breaks without naming a test, or runs none, counts as a failure. */
async function suite(project, env = {}) {
  const report = join(reportDir, `${project}.json`);
  rmSync(report, { force: true });
  const args = ['run', '--project', project, '--reporter=default', '--reporter=json'];
  const json = `--outputFile.json=${report}`;
  const { code } = await tool('vitest/vitest.mjs', [...args, json], { env });
  let counts = { numPassedTests: 0, numFailedTests: 0, numPendingTests: 0 };
  try {
    counts = JSON.parse(readFileSync(report, 'utf8'));
  } catch {
    console.log(`The suite ${project} left no report.`);
  }
  const { numPassedTests: passed, numFailedTests, numPendingTests: skipped } = counts;
  if (skipped > 0) console.log(`${skipped} skipped`);
  const broken = code !== 0 || passed + numFailedTests === 0;
  return { passed, failed: broken ? Math.max(1, numFailedTests) : numFailedTests };
}

const wanted = process.argv.slice(2);
const KNOWN = wanted.includes(QUICK.name) ? [...GATES, QUICK] : GATES;
const unknown = wanted.filter((name) => !KNOWN.some((known) => known.name === name));
if (unknown.length > 0) throw new Error(`There is no gate named ${unknown.join(', ')}.`);

mkdirSync(reportDir, { recursive: true });
const lines = [];
let passed = 0;
let failed = 0;
for (const { name, run } of KNOWN) {
  if (wanted.length > 0 && !wanted.includes(name)) continue;
  console.log(`\n=== ${name}`);
  const startedAtMs = Date.now();
  const result = await run();
  const tookS = ((Date.now() - startedAtMs) / 1000).toFixed(1);
  passed += result.passed;
  failed += result.failed;
  lines.push(
    `${name.padEnd(14)}${tookS.padStart(7)} s  ${result.passed} passed, ${result.failed} failed`,
  );
}
console.log(`\n${lines.join('\n')}\n`);
process.exitCode = failed > 0 ? 1 : 0;
console.log(`${passed} passed, ${failed} failed`);
