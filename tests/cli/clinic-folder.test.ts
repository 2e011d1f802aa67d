import { mkdtemp, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openFolder } from '../../src/cli/clinic/clinic-folder.ts';

test('a folder that cannot be made is told, and not tried for ever', async () => {
  const dir = '/dev/null/clinic';
  const opened = await openFolder(dir);
  expect(opened.ok ? null : opened.error).toMatchObject({ code: 'bad-folder', place: dir });
});

// Linux lets nobody make a folder under /proc and says that it is missing.
test.runIf(process.platform === 'linux')(
  'one that is missing whatever is done is told',
  async () => {
    const opened = await openFolder('/proc/clinic');
    expect(opened.ok ? null : opened.error.code).toBe('bad-folder');
  },
);

test('a folder in a folder that is not there is made, for its owner only', async () => {
  const dir = join(await mkdtemp(join(tmpdir(), 'clinic-')), 'a', 'b');
  expect((await openFolder(dir)).ok).toBe(true);
  expect((await stat(dir)).mode & 0o777).toBe(0o700);
});
