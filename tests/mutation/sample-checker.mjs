/**
 * A part of a file that is given to the tool brings all mutants inside it. This lets only those through
 * that were drawn: their keys stand in the file that `LUTEWATCH_MUTATION_SAMPLE` names.
 */
import { readFileSync } from 'node:fs';
import { relative } from 'node:path';
import { declareValuePlugin, PluginKind } from '@stryker-mutator/api/plugin';

function keysOfSample() {
  const path = process.env.LUTEWATCH_MUTATION_SAMPLE;
  if (path === undefined) throw new Error('LUTEWATCH_MUTATION_SAMPLE names no file.');
  return new Set(JSON.parse(readFileSync(path, 'utf8')));
}

/**
 * The same text as `mutantKey` in mutants.ts makes, written again because the tool loads this file in
 * a process that knows no TypeScript. A run whose keys differ fails: none of its mutants comes through.
 */
function keyOf({ fileName, location: { start, end }, mutatorName, replacement }) {
  const fromTop = relative(process.cwd(), fileName).replaceAll('\\', '/');
  const where = [start.line, start.column, end.line, end.column].join(':');
  return [fromTop, where, mutatorName, replacement ?? ''].join('|');
}

const sampleChecker = {
  async init() {},
  async group(mutants) {
    return [mutants.map(({ id }) => id)];
  },
  async check(mutants) {
    const keys = keysOfSample();
    const verdict = (mutant) =>
      keys.has(keyOf(mutant))
        ? { status: 'passed' }
        : { status: 'compileError', reason: 'not in the sample' };
    return Object.fromEntries(mutants.map((mutant) => [mutant.id, verdict(mutant)]));
  },
};

export const strykerPlugins = [declareValuePlugin(PluginKind.Checker, 'sample', sampleChecker)];
