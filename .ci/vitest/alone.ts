import { readdirSync, readFileSync } from 'node:fs';

/**
 * What a test file changes for its whole process: doubles of modules and globals, the clock, the environment, and
 * the database double, which is one for all and remembers; the whole app, which goes on loading behind the test.
 */
const CHANGES_ITS_PROCESS =
  /vi\.(mock|doMock|stubGlobal|stubEnv|spyOn|useFakeTimers|resetModules)\(|fake-indexeddb\/auto|process\.env\[[^\]]+\] =|\/(simulate\/globals|sharing\/clinic|facade-tablet)\.ts'|\/app\/App\.tsx'/;

/** Files that a process of their own is for whatever they say: they start servers, tools and whole tablets, or remember in the small storage. */
const FOLDERS = /^tests\/(sync|sharing|simulate|toolchain|cli|follow-up-ui|drill-ui)\//;

/**
 * Test files of units and components that may not share a process, and the modules that are loaded there once,
 * with others; as paths from the top of the project.
 */
export function filesAlone(root: string): string[] {
  return readdirSync(`${root}/tests`, { recursive: true, encoding: 'utf8' })
    .map((name) => `tests/${name.replaceAll('\\', '/')}`)
    .filter((file) => /(?<!\.(browser|e2e))\.test\.tsx?$/.test(file))
    .filter(
      (file) =>
        FOLDERS.test(file) || CHANGES_ITS_PROCESS.test(readFileSync(`${root}/${file}`, 'utf8')),
    );
}
