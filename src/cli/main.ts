/**
 * The command line: `npm run -s cli -- <verb> ...`. Each verb is a module of its own, loaded when
 * it is asked for; a verb whose module is not there is not offered.
 */
import { existsSync } from 'node:fs';
import { problem } from '../base/problem.ts';
import { type ExitCode, escapingIo, type Io, refuse, type Verb } from './output.ts';
import { readFileUpTo } from './read-text.ts';

const VERBS = [
  { name: 'check', about: 'look for faults in a protocol or case file' },
  { name: 'plan', about: 'plan the appointment of a case file' },
  { name: 'rehearse', about: 'run a case file with a script of timed presses' },
  { name: 'record', about: 'export a journal' },
  { name: 'lives', about: 'export what became of the units' },
  { name: 'calc', about: 'compute one figure' },
] as const;

const moduleOf = (verb: string): URL => new URL(`./${verb}-verb.ts`, import.meta.url);
const offered = (): readonly { readonly name: string; readonly about: string }[] =>
  VERBS.filter(({ name }) => existsSync(moduleOf(name)));

function isVerb(module: unknown): module is Verb {
  return (
    typeof module === 'object' &&
    module !== null &&
    'run' in module &&
    typeof module.run === 'function'
  );
}

function usage(): string {
  const lines = offered().map(({ name, about }) => `  ${name.padEnd(10)}${about}`);
  return [
    'npm run -s cli -- <verb> ... [--json]',
    ...lines,
    'Exit code 0: done. 1: findings. 2: bad input, with one line on standard error.',
    '',
  ].join('\n');
}

/** Runs one command; never throws. */
export async function main(args: readonly string[], outside: Io): Promise<ExitCode> {
  const io = escapingIo(outside);
  const [name, ...rest] = args;
  if (name === '--help' || name === '-h' || name === 'help') {
    io.stdout(usage());
    return 0;
  }
  const names = offered().map((verb) => verb.name);
  if (name === undefined || !names.includes(name)) {
    return refuse(io, problem('verb', `one of ${names.join(', ')}`, name, 'unknown-verb'));
  }
  try {
    const module: unknown = await import(moduleOf(name).href);
    if (!isVerb(module)) return refuse(io, problem(name, 'a verb that can run', module));
    return await module.run(rest, io);
  } catch (thrown) {
    const message = thrown instanceof Error ? thrown.message : String(thrown);
    return refuse(io, problem(name, 'to finish', message, 'unexpected'));
  }
}

const realIo: Io = {
  readFile: readFileUpTo,
  stdout: (output) => process.stdout.write(output),
  stderr: (output) => process.stderr.write(output),
};

if (import.meta.filename === process.argv[1]) {
  // Setting the code instead of exiting lets a slow reader of standard output get all of it.
  process.exitCode = await main(process.argv.slice(2), realIo);
}
