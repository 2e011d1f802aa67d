/**
 * Damage to the profile of a closed browser, as it lies on the disk: the database in its own files, the
 * second home among those of the private file system. Another tablet's database cannot be put in here,
 * because its files name the page that they belong to; `damage.test.ts` does that with homes in memory.
 */
import { cp, readdir, readFile, rm, stat, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { isLong } from '../tools/run-size.ts';
import {
  buildHarness,
  type Origin,
  removeFolder,
  serveOrigin,
  startBrowser,
  temporaryFolder,
} from './killable-browser.ts';

const FIRST_SITTING = 8;
const WRITTEN = 13;

interface Kind {
  readonly name: string;
  /** Done in the everyday run too. */
  readonly isShort?: boolean;
  /** Entries that must be left at least; where it is all of them, nothing is told. */
  readonly leftMin: number;
  readonly damage: (run: Run) => Promise<void>;
}

interface Run {
  readonly kind: Kind;
  readonly caseId: string;
  readonly origin: Origin;
}

let built: string;
let profile: string;
let older: string;
const runs: Run[] = [];

const databaseOf = ({ origin }: Run, base = profile): string =>
  join(base, 'Default', 'IndexedDB', origin.folder);

const privateFiles = (base = profile): string => join(base, 'Default', 'File System');

/** Every file of the second home that tells of the case, in the order in which they were written. */
async function filesOf({ caseId }: Run): Promise<readonly string[]> {
  const found = await readdir(privateFiles(), { recursive: true, withFileTypes: true });
  const files: { path: string; epoch: number }[] = [];
  for (const file of found.filter((one) => one.isFile())) {
    const path = join(file.parentPath, file.name);
    const text = await readFile(path, 'latin1');
    const isLines = text.startsWith('{"body":{"by"') && text.includes(`"caseId":"${caseId}"`);
    if (isLines) files.push({ path, epoch: Number(/"epoch":(\d+)/.exec(text)?.[1]) });
  }
  expect(files.length, `files of ${caseId}`).toBeGreaterThan(0);
  return files.toSorted((a, b) => a.epoch - b.epoch).map(({ path }) => path);
}

/** Changes the lines of the case; null takes one away. */
async function changeLines(
  run: Run,
  change: (line: string, seq: number) => string | null,
): Promise<void> {
  for (const path of await filesOf(run)) {
    const lines = (await readFile(path, 'utf8')).split('\n');
    const changed = lines.flatMap((line) => {
      const seq = /"seq":(\d+)/.exec(line)?.[1];
      const now = seq === undefined ? line : change(line, Number(seq));
      return now === null ? [] : [now];
    });
    await writeFile(path, changed.join('\n'));
  }
}

const tearFile = (run: Run, left: number): Promise<void> =>
  changeLines(run, (line, seq) => {
    if (seq < left) return line;
    return seq === left ? line.slice(0, line.length / 2) : null;
  });

const flipped = (line: string): string => line.replace('"press":', '"prest":');

async function databaseFiles(run: Run, ending: RegExp): Promise<readonly string[]> {
  const folder = databaseOf(run);
  const names = (await readdir(folder)).filter((name) => ending.test(name)).sort();
  expect(names.length, `${ending} in ${folder}`).toBeGreaterThan(0);
  return names.map((name) => join(folder, name));
}

async function tearDatabase(run: Run): Promise<void> {
  const log = present((await databaseFiles(run, /[.]log$/)).at(-1), 'a log');
  const { size } = await stat(log);
  await truncate(log, Math.max(0, size - 2000));
}

async function garbleDatabase(run: Run): Promise<void> {
  for (const path of await databaseFiles(run, /[.](log|ldb)$/)) {
    const bytes = await readFile(path);
    for (let at = 5; at < bytes.length; at += 64) bytes[at] = (bytes[at] ?? 0) ^ 0x40;
    await writeFile(path, bytes);
  }
}

const removeDatabase = (run: Run): Promise<void> => rm(databaseOf(run), { recursive: true });

const removeFiles = async (run: Run): Promise<void> => {
  for (const path of await filesOf(run)) await rm(path);
};

async function olderFiles(run: Run): Promise<void> {
  for (const path of await filesOf(run)) {
    const before = join(privateFiles(older), path.slice(privateFiles().length));
    await readFile(before).then(
      (bytes) => writeFile(path, bytes),
      () => truncate(path, 0),
    );
  }
}

async function olderDatabase(run: Run): Promise<void> {
  await removeDatabase(run);
  await cp(databaseOf(run, older), databaseOf(run), { recursive: true });
}

const KINDS: readonly Kind[] = [
  { name: 'database gone', leftMin: WRITTEN, damage: removeDatabase },
  {
    name: 'manifest of the database gone',
    isShort: true,
    leftMin: WRITTEN,
    damage: async (run) => {
      for (const path of await databaseFiles(run, /^(MANIFEST|CURRENT)/)) await rm(path);
    },
  },
  {
    name: 'database empty',
    leftMin: WRITTEN,
    damage: async (run) => {
      for (const path of await databaseFiles(run, /[.](log|ldb)$/)) await truncate(path, 0);
    },
  },
  { name: 'database torn at its tail', leftMin: WRITTEN, damage: tearDatabase },
  { name: 'database with flipped bytes', leftMin: WRITTEN, damage: garbleDatabase },
  { name: 'file gone', leftMin: WRITTEN, damage: removeFiles },
  {
    name: 'file empty',
    leftMin: WRITTEN,
    damage: async (run) => {
      for (const path of await filesOf(run)) await truncate(path, 0);
    },
  },
  {
    name: 'file without its head',
    leftMin: WRITTEN,
    damage: (run) => changeLines(run, (line, seq) => (seq < 3 ? null : line)),
  },
  {
    name: 'file with a hole',
    leftMin: WRITTEN,
    damage: (run) => changeLines(run, (line, seq) => (seq === 5 ? null : line)),
  },
  { name: 'file torn at its tail', leftMin: WRITTEN, damage: (run) => tearFile(run, 10) },
  {
    name: 'file with flipped bytes',
    leftMin: WRITTEN,
    damage: (run) => changeLines(run, (line, seq) => (seq % 4 === 0 ? flipped(line) : line)),
  },
  {
    name: 'both tails torn at different places',
    isShort: true,
    leftMin: 10,
    damage: async (run) => {
      await tearDatabase(run);
      await tearFile(run, 10);
    },
  },
  {
    name: 'both garbled',
    isShort: true,
    leftMin: 0,
    damage: async (run) => {
      await garbleDatabase(run);
      await changeLines(run, flipped);
    },
  },
  {
    name: 'database gone and file torn',
    isShort: true,
    leftMin: 10,
    damage: async (run) => {
      await removeDatabase(run);
      await tearFile(run, 10);
    },
  },
  {
    name: 'both gone',
    leftMin: 0,
    damage: async (run) => {
      await removeFiles(run);
      await removeDatabase(run);
    },
  },
  { name: 'older database put back', leftMin: WRITTEN, damage: olderDatabase },
  { name: 'older file put back', leftMin: WRITTEN, damage: olderFiles },
  {
    name: 'file of another tablet',
    leftMin: WRITTEN,
    damage: async (run) => {
      const other = present(runs[0] === run ? runs[1] : runs[0], 'another tablet');
      const bytes = await readFile(present((await filesOf(other))[0], 'its file'));
      for (const path of await filesOf(run)) await writeFile(path, bytes);
    },
  },
];

beforeAll(async () => {
  built = await temporaryFolder();
  profile = await temporaryFolder();
  older = await temporaryFolder();
  await buildHarness(built);
  const kinds = KINDS.filter((kind) => isLong || kind.isShort === true);
  for (const [n, kind] of kinds.entries()) {
    runs.push({ kind, caseId: `case-of-${n}.`, origin: await serveOrigin(built) });
  }
});

afterAll(async () => {
  for (const { origin } of runs) origin.close();
  for (const folder of [built, profile, older]) await removeFolder(folder);
});

/** Opens every origin in one browser, one after the other, and collects what each answers. */
async function inEach<T>(answer: (page: Page, run: Run) => Promise<T>): Promise<readonly T[]> {
  const browser = await startBrowser(profile);
  const answers: T[] = [];
  for (const run of runs) {
    const page = await browser.openPage(run.origin);
    await page.evaluate(() => window.harness.start());
    answers.push(await answer(page, run));
  }
  // How long a case is gets noted beside both homes a moment after its last press is acknowledged.
  await new Promise((resolve) => setTimeout(resolve, 300));
  await browser.close();
  return answers;
}

const look = (page: Page, { caseId }: Run) =>
  page.evaluate(
    async (id) => ({ left: await window.harness.count(id), told: await window.harness.told() }),
    caseId,
  );

describe('a profile that was damaged while the browser was closed', () => {
  it('opens with everything that is whole in either home, and tells what is missing', async () => {
    const write = (page: Page, o: { caseId: string; from: number; count: number }) =>
      page.evaluate((batch) => window.harness.write(batch), o);
    await inEach((page, { caseId }) => write(page, { caseId, from: 0, count: FIRST_SITTING }));
    await cp(profile, older, { recursive: true });
    const count = WRITTEN - FIRST_SITTING;
    await inEach((page, { caseId }) => write(page, { caseId, from: FIRST_SITTING, count }));
    for (const run of runs) await run.kind.damage(run);
    const found = await inEach(look);
    for (const [n, { kind, caseId }] of runs.entries()) {
      const { left, told } = present(found[n], 'an answer');
      expect(left, kind.name).toBeGreaterThanOrEqual(kind.leftMin);
      const missing = left < WRITTEN ? [{ caseId, known: WRITTEN, left }] : [];
      expect(told, kind.name).toEqual(missing);
    }
    const lefts = runs.map(({ kind }, n) => `${kind.name} ${found[n]?.left}`);
    process.stdout.write(`entries left of ${WRITTEN}: ${lefts.join(', ')}\n`);
    const again = await inEach(async (page, run) => {
      const seen = await look(page, run);
      const goesOn = (id: string): Promise<number> =>
        page.evaluate((caseId) => window.harness.goOn(caseId), id);
      return { seen, copies: seen.left > 0 ? await goesOn(run.caseId) : 2 };
    });
    expect(again.map(({ seen }) => seen)).toEqual(found);
    expect(again.map(({ copies }) => copies)).toEqual(runs.map(() => 2));
  }, 180_000);
});
