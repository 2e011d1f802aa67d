/**
 * Runs every check of the project and ends with one line that says how many passed and failed. A gate
 * counts as one; the tests of a suite are counted one by one. Gates that only read run two at a time,
 * one for each processor of a small machine, and each says its lines together once it is done; suites
 * share a machine badly and run one after the other. Later gates run even when an earlier one has
 * failed, so that one run shows everything that is wrong.
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

/** Gates that read files and write none: they may run beside each other. */
const READING = [
  {
    name: 'lint',
    run: (say) => gate('@biomejs/biome/bin/biome', ['check', '--error-on-warnings', '.'], say),
  },
  // The longest, begun at once, so that the others find room beside it.
  { name: 'types', run: (say) => gate('typescript/bin/tsc', ['-p', '.'], say) },
  {
    name: 'types-pure',
    run: (say) => gate('typescript/bin/tsc', ['-p', 'src/tsconfig.pure.json'], say),
  },
  {
    name: 'types-worker',
    run: (say) => gate('typescript/bin/tsc', ['-p', 'src/tsconfig.worker.json'], say),
  },
  { name: 'imports', run: importRules },
  { name: 'licences', run: licences },
];
const AT_ONCE = 2;

const SUITES = [
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

// Tools are told that this is CI in every run. Whether it really is decides if a missing server may be skipped.
const decides = { LUTEWATCH_CI: process.env.CI ?? '' };

const sayNow = (text) => process.stdout.write(text);

/** Runs a tool that is installed as a package. Answers its exit code and what it printed. */
function tool(script, args, { say = sayNow, quiet = false, env = {} } = {}) {
  const path = join(root, 'node_modules', script);
  const child = spawn(process.execPath, [path, ...args], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...plainEnvironment, ...decides, CI: 'true', NO_COLOR: '1', ...env },
  });
  let text = '';
  // A sign of several bytes may lie on the border of two chunks.
  child.stdout.setEncoding('utf8');
  child.stderr.setEncoding('utf8');
  child.stdout.on('data', (chunk) => {
    text += chunk;
    if (!quiet) say(chunk);
  });
  child.stderr.on('data', (chunk) => say(chunk));
  return new Promise((resolve) => {
    child.on('error', (error) => resolve({ code: 1, text: String(error) }));
    child.on('close', (code) => resolve({ code: code ?? 1, text }));
  });
}

const outcome = (passes) => ({ passed: passes ? 1 : 0, failed: passes ? 0 : 1 });

async function gate(script, args, say) {
  return outcome((await tool(script, args, { say })).code === 0);
}

/** The report names what it read: a run that read nothing proves nothing. */
async function importRules(say) {
  const args = ['src', '--config', '.dependency-cruiser.cjs', '--output-type', 'json'];
  const script = 'dependency-cruiser/bin/dependency-cruise.mjs';
  const { code, text } = await tool(script, args, { say, quiet: true });
  if (code !== 0) return outcome(false);
  const { totalCruised, violations } = JSON.parse(text).summary;
  for (const { rule, from, to } of violations) say(`${rule.name}: ${from} -> ${to}\n`);
  say(`${totalCruised} modules read\n`);
  return outcome(totalCruised > 0 && violations.length === 0);
}

async function licences(say) {
  const args = ['--production', '--excludePrivatePackages', '--onlyAllow', LICENCES, '--summary'];
  const script = 'license-checker-rseidelsohn/bin/license-checker-rseidelsohn.js';
  const { code, text } = await tool(script, args, { say });
  return outcome(code === 0 && /MIT: [1-9]/.test(text));
}

/** Runs one suite. A suite that breaks without naming a test, or runs none, counts as a failure. */
async function suite(project, env = {}) {
  const report = join(reportDir, `${project}.json`);
  rmSync(report, { force: true });
  // Files that may not share a process with others are a project of their own.
  const projects = ['--project', project, '--project', `${project}-alone`];
  const args = ['run', ...projects, '--reporter=default', '--reporter=json'];
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
const GATES = [...READING, ...SUITES];
const KNOWN = wanted.includes(QUICK.name) ? [...GATES, QUICK] : GATES;
const unknown = wanted.filter((name) => !KNOWN.some((known) => known.name === name));
if (unknown.length > 0) throw new Error(`There is no gate named ${unknown.join(', ')}.`);
const isWanted = ({ name }) => wanted.length === 0 || wanted.includes(name);

const lines = new Map();
let passed = 0;
let failed = 0;

/** Runs one gate; `say` takes what it prints. */
async function check({ name, run }, say) {
  say(`\n=== ${name}\n`);
  const startedAtMs = Date.now();
  const result = await run(say);
  const tookS = ((Date.now() - startedAtMs) / 1000).toFixed(1);
  passed += result.passed;
  failed += result.failed;
  lines.set(
    name,
    `${name.padEnd(14)}${tookS.padStart(7)} s  ${result.passed} passed, ${result.failed} failed`,
  );
}

/** Takes the next gate off the list until none is left; what a gate prints stays together. */
async function takeTurns(waiting) {
  for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
    let text = '';
    await check(next, (chunk) => {
      text += chunk;
    });
    process.stdout.write(text);
  }
}

mkdirSync(reportDir, { recursive: true });
const reading = READING.filter(isWanted);
if (reading.length === 1) await check(reading[0], sayNow);
else await Promise.all(Array.from({ length: AT_ONCE }, () => takeTurns(reading)));
for (const each of KNOWN.filter((known) => isWanted(known) && !READING.includes(known))) {
  await check(each, sayNow);
}
const told = KNOWN.flatMap(({ name }) => lines.get(name) ?? []);
console.log(`\n${told.join('\n')}\n`);
process.exitCode = failed > 0 ? 1 : 0;
console.log(`${passed} passed, ${failed} failed`);
