/** The tests that are asked about the mutants of one folder, in the order in which they are asked. */
import { relative } from 'node:path';
import { defineConfig } from 'vitest/config';
import {
  BaseSequencer,
  type Reporter,
  type TestModule,
  type TestSpecification,
  type Vitest,
} from 'vitest/node';
import { FOLDERS, isFolderName } from './folders.ts';

const name = process.env['LUTEWATCH_MUTATION_FOLDER'] ?? '';
if (!isFolderName(name)) throw new Error(`LUTEWATCH_MUTATION_FOLDER names no folder: "${name}"`);
const { tests, slowTests } = FOLDERS[name];
const here = process.cwd();
/** Compiles the sources themselves, which are not those of the project in the copy. */
const OF_SOURCES = 'tests/engine/event-net.test.ts';

class SlowLast extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const late: readonly string[] = slowTests;
    const rank = ({ moduleId }: TestSpecification): number =>
      late.indexOf(relative(here, moduleId).replaceAll('\\', '/'));
    return [...files].sort((a, b) => rank(a) - rank(b));
  }
}

/**
 * The tool looks at tests only, and a file that cannot even be loaded has none. `npm test` counts such a
 * file as failed; here it becomes an error of the run.
 */
class BrokenFiles implements Reporter {
  #vitest: Vitest | null = null;

  onInit(vitest: Vitest): void {
    this.#vitest = vitest;
  }

  onTestRunEnd(modules: readonly TestModule[]): void {
    const errors = modules.flatMap((module) => module.errors());
    for (const error of errors) this.#vitest?.state.catchError(error, 'Unhandled Error');
  }
}

export default defineConfig({
  root: here,
  // The copy of the project goes away after the run, and this with it.
  cacheDir: `${here}/.vite`,
  test: {
    name: 'mutation',
    environment: 'node',
    testTimeout: 120_000,
    hookTimeout: 120_000,
    fakeTimers: {
      toFake: ['setTimeout', 'clearTimeout', 'setInterval', 'clearInterval', 'Date', 'performance'],
    },
    include: [...tests],
    // The copy lies below node_modules, whose files are otherwise neither tests nor translated.
    exclude: ['tests/**/*.{browser,e2e}.test.ts', OF_SOURCES],
    server: { deps: { inline: [/\/sandbox-[^/]+\/(?!node_modules\/)/] } },
    setupFiles: ['tests/mutation/steady-draws.ts'],
    sequence: { sequencer: SlowLast },
    reporters: [new BrokenFiles()],
  },
});
