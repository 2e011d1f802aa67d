/** Which server program is used, and what is made of its version. The programs here only say a version. */
import { chmod, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { findServer, isAtLeast } from '../../src/cli/clinic/find-server.ts';
import { serverConfig } from '../../src/cli/clinic/server-config.ts';

let top = '';
beforeEach(async () => {
  top = await mkdtemp(join(tmpdir(), 'lutewatch-find-'));
});
afterEach(() => rm(top, { recursive: true, force: true }));

/** What a real one prints, measured with 2.9.10: `nats-server: v2.9.10`. */
async function program(folder: string, version: string): Promise<string> {
  const path = join(top, folder, 'nats-server');
  await mkdir(join(top, folder), { recursive: true });
  await writeFile(path, `#!/bin/sh\necho "nats-server: v${version}"\n`);
  await chmod(path, 0o755);
  return path;
}

const find = (env: Readonly<Record<string, string>>) =>
  findServer({ cacheDir: join(top, 'cache'), env: { PATH: '/nowhere', ...env } });

it('takes the one that is named, then the one on the PATH, then the one it kept', async () => {
  const [named, onPath, kept] = [
    await program('named', '2.12.7'),
    await program('bin', '2.12.6'),
    await program('cache', '2.12.8'),
  ];
  const PATH = `/nowhere:${join(top, 'bin')}`;
  const all = await find({ NATS_SERVER_BIN: named, PATH });
  expect(all).toMatchObject({ value: { path: named, version: '2.12.7', isDemo: false } });
  expect(await find({ PATH })).toMatchObject({ value: { path: onPath, isDemo: false } });
  // One that was fetched is for trying, whatever its version.
  expect(await find({})).toMatchObject({ value: { path: kept, isDemo: true } });
});

it('takes one that is too old for trying only', async () => {
  for (const [version, isDemo] of [
    ['2.9.10', true],
    ['2.11.15', true],
    ['2.12.5', true],
    ['2.12.6', false],
    ['2.13.0', false],
    ['3.0.0', false],
  ] as const) {
    const path = await program('bin', version);
    expect(await find({ NATS_SERVER_BIN: path })).toMatchObject({ value: { version, isDemo } });
  }
});

it('says so where the one that is named is none', async () => {
  const found = await find({ NATS_SERVER_BIN: '/bin/sh' });
  expect(found).toMatchObject({
    ok: false,
    error: { code: 'bad-server', place: 'NATS_SERVER_BIN' },
  });
});

it('compares versions by their numbers', () => {
  expect(isAtLeast('2.9.10', '2.12.6')).toBe(false);
  expect(isAtLeast('2.12.10', '2.12.6')).toBe(true);
  expect(isAtLeast('2.12.6', '2.12.6')).toBe(true);
  expect(isAtLeast('10.0.0', '9.9.9')).toBe(true);
});

it('has a clinic write every message to the disk before it says so; an old server knows no such word', () => {
  const config = (isDemo: boolean): string =>
    serverConfig({
      folder: '/srv/keys',
      site: 's1',
      operatorJwt: 'jwt',
      systemAccount: 'A',
      port: 1,
      webSocketHost: '127.0.0.1',
      webSocketPort: 2,
      storeBytes: 3,
      isDemo,
    });
  expect(config(false)).toContain('  sync_interval: always\n');
  expect(config(true)).not.toContain('sync_interval');
  for (const isDemo of [true, false]) {
    expect(config(isDemo)).toContain('listen: "127.0.0.1:1"');
    expect(config(isDemo)).toContain('compression: false');
    expect(config(isDemo)).toContain('max_file_store: 3\n');
  }
});
