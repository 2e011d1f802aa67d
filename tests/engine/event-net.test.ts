/**
 * A new kind of event, or of command, may not slip through: the compiler names every place that has
 * to know it. The test hands the compiler the vocabulary with one more member and reads what it says.
 */
import { relative, resolve } from 'node:path';
import ts from 'typescript';
import { beforeAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');

/** It imports the vocabulary and takes nothing apart: the addition itself breaks nothing. */
const UNCONCERNED = 'src/engine/clocks.ts';

/** What is added to which union; each must be found once, or the test would prove nothing. */
const ADDED = {
  'src/engine/types.ts': {
    union: 'export type CaseEvent =',
    member: "| { readonly type: 'something-new'; readonly what: string }",
  },
  'src/engine/commands.ts': {
    union: 'export type Command =',
    member: "| { readonly do: 'something-new'; readonly what: string }",
  },
};

/** The places that take events or commands apart, and what each has to know of a new one. */
const PLACES: readonly (readonly [file: string, wanted: string])[] = [
  ['src/engine/apply.ts', 'its effect on the state'],
  ['src/engine/event-traits.ts', 'whether it is timed, corrects, can be taken back, lights'],
  ['src/export/schema-journal.ts', 'its shape in an exported journal'],
  [pathOf('offer-words.ts'), 'the words for what undo takes back'],
  ['src/engine/event-subjects.ts', 'the step and subjects that it names'],
  ['src/export/record-changes.ts', 'whether it is a correction'],
  ['src/export/record-facts.ts', 'where a record tells of it'],
  ['src/engine/decide.ts', 'what a command decides'],
  ['src/engine/commands.ts', 'whether a command is taken after the signature'],
];

/** A file of words by its name: words may move to another folder. */
function pathOf(name: string): string {
  const found = ts.sys
    .readDirectory(resolve(root, 'src'), ['.ts'])
    .find((p) => p.endsWith(`/${name}`));
  return relative(root, found ?? name);
}

/** Only the places are checked, not what they import: one program of a few dozen files. */
function faultsWithAddition(): ReadonlyMap<string, readonly string[]> {
  const config = ts.readConfigFile(resolve(root, 'tsconfig.json'), ts.sys.readFile);
  const { options } = ts.parseJsonConfigFileContent(config.config, ts.sys, root);
  const bare = { ...options, types: [] };
  const host = ts.createCompilerHost(bare);
  const virtual = new Map(
    Object.entries(ADDED).map(([path, { union, member }]) => {
      const file = resolve(root, path);
      const parts = (ts.sys.readFile(file) ?? '').split(union);
      expect(parts, `${union} in ${path}`).toHaveLength(2);
      return [file, parts.join(`${union} ${member}`)];
    }),
  );
  const readSource = host.getSourceFile.bind(host);
  host.getSourceFile = (name, version, ...rest) => {
    const text = virtual.get(resolve(name));
    if (text === undefined) return readSource(name, version, ...rest);
    return ts.createSourceFile(name, text, version, true);
  };
  const files = [...PLACES.map(([path]) => path), UNCONCERNED].map((path) => resolve(root, path));
  const program = ts.createProgram(files, bare, host);
  const faultsIn = (file: string): string[] => {
    const source = program.getSourceFile(file);
    expect(source, file).toBeDefined();
    const found = program.getSemanticDiagnostics(source);
    return found.map((f) => ts.flattenDiagnosticMessageText(f.messageText, ' '));
  };
  return new Map(files.map((file) => [relative(root, file), faultsIn(file)]));
}

describe('with one more event and one more command', () => {
  let faults: ReturnType<typeof faultsWithAddition>;

  beforeAll(() => {
    faults = faultsWithAddition();
  }, 120_000);

  it.each(PLACES)('%s does not compile: it has to know %s', (file) => {
    const told = faults.get(file) ?? [];
    expect(told).not.toEqual([]);
    for (const line of told) expect(line).toMatch(/something-new|'false'/);
  });

  it('a file that takes no event apart compiles', () => {
    expect(faults.get(UNCONCERNED)).toEqual([]);
  });
});
