/**
 * What `npm run mutate -- FOLDER` changes, and the tests that are asked whether they notice. The tests
 * of a folder are run one after the other until one fails: the slow ones come last. Tests in a real
 * browser are not asked: what only they see (worker files, the file system of a browser) counts as
 * alive.
 */
export interface MutatedFolder {
  readonly sources: readonly string[];
  readonly tests: readonly string[];
  /** Those of the tests that take seconds, the quickest first. */
  readonly slowTests: readonly string[];
}

export const FOLDERS = {
  temporal: {
    sources: ['src/temporal/**/*.ts'],
    tests: ['tests/temporal/*.test.ts', 'tests/protocol/check-windows.test.ts'],
    slowTests: [
      'tests/temporal/minimal-network.test.ts',
      'tests/protocol/check-windows.test.ts',
      'tests/temporal/fix.test.ts',
    ],
  },
  engine: {
    sources: ['src/engine/**/*.ts'],
    tests: [
      'tests/engine/*.test.ts',
      'tests/families/{hold,vocabulary,loading,order,any-walk,insist,scenarios}.test.ts',
    ],
    slowTests: [
      'tests/engine/order.test.ts',
      'tests/families/order.test.ts',
      'tests/families/any-walk.test.ts',
      'tests/families/insist.test.ts',
      'tests/engine/state-machine.test.ts',
      'tests/engine/properties.test.ts',
      'tests/families/scenarios.test.ts',
    ],
  },
  calc: {
    sources: ['src/calc/**/*.ts'],
    tests: ['tests/calc/*.test.ts'],
    slowTests: ['tests/calc/rounds.test.ts', 'tests/calc/spots.test.ts'],
  },
  plan: {
    sources: ['src/plan/**/*.ts'],
    tests: [
      'tests/plan/*.test.ts',
      'tests/families/rehearse.test.ts',
      'tests/protocol/check-windows.test.ts',
    ],
    slowTests: [
      'tests/plan/pauses.test.ts',
      'tests/plan/risk.test.ts',
      'tests/plan/rehearsal.test.ts',
      'tests/protocol/check-windows.test.ts',
      'tests/plan/script.test.ts',
      'tests/plan/adopt.test.ts',
      'tests/plan/schedule-exact.test.ts',
    ],
  },
  storage: {
    sources: ['src/storage/**/*.ts'],
    tests: ['tests/storage/*.test.ts'],
    slowTests: ['tests/storage/lost-connection.test.ts', 'tests/storage/bit-flips.test.ts'],
  },
  // Two files of the runtime decide what a record says: the clock that stamps and the merge of a backup.
  runtime: {
    sources: ['src/runtime/**/clock.ts', 'src/runtime/**/backup-merge.ts'],
    tests: ['tests/runtime/{clock,chair}.test.ts', 'tests/backup/{lines,mend,backup}.test.ts'],
    slowTests: ['tests/backup/mend.test.ts', 'tests/backup/backup.test.ts'],
  },
} as const satisfies Readonly<Record<string, MutatedFolder>>;

export type FolderName = keyof typeof FOLDERS;

export const isFolderName = (name: string): name is FolderName => Object.hasOwn(FOLDERS, name);
