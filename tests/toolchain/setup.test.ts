import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, expect, test } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
let project = '';

beforeEach(() => {
  project = mkdtempSync(join(tmpdir(), 'setup-'));
  mkdirSync(join(project, '.ci'));
  mkdirSync(join(project, 'bin'));
  cpSync(join(ROOT, '.ci/setup.mjs'), join(project, '.ci/setup.mjs'));
  // Stands in for npm: says what it was asked on stdout, as npm does, and installs as locked.
  const npm = `#!/usr/bin/env node
    const fs = require('node:fs');
    console.log('npm was asked to ' + process.argv[2]);
    fs.mkdirSync('node_modules', { recursive: true });
    fs.copyFileSync('package-lock.json', 'node_modules/.package-lock.json');`;
  writeFileSync(join(project, 'bin/npm'), npm, { mode: 0o755 });
  lock('1.0.0');
});

afterEach(() => rmSync(project, { recursive: true }));

function lock(version: string): void {
  const packages = {
    '': {},
    'node_modules/thing': { version },
    'node_modules/other-machine': { version, optional: true },
  };
  writeFileSync(join(project, 'package-lock.json'), JSON.stringify({ packages }));
}

function setup(): { stdout: string; stderr: string; status: number | null } {
  const path = `${join(project, 'bin')}${delimiter}${process.env['PATH'] ?? ''}`;
  return spawnSync(process.execPath, ['.ci/setup.mjs'], {
    cwd: project,
    encoding: 'utf8',
    env: { ...process.env, PATH: path },
  });
}

// On Windows the stand-in would have to be a batch file.
test.skipIf(process.platform === 'win32')(
  'packages are installed when missing or changed, and the output of commands stays clean',
  () => {
    const fresh = setup();
    expect(fresh.stderr).toContain('npm was asked to ci');
    expect(fresh.stdout).toBe('');

    expect(setup()).toMatchObject({ stdout: '', stderr: '', status: 0 });

    lock('1.0.1');
    expect(setup().stderr).toContain('npm was asked to ci');
  },
);

test.skipIf(process.platform === 'win32')(
  'packages that npm has already brought in line with the lock file are left alone',
  () => {
    setup();
    lock('1.0.1');
    const { packages } = {
      packages: { 'node_modules/thing': { version: '1.0.1' } },
    };
    writeFileSync(join(project, 'node_modules/.package-lock.json'), JSON.stringify({ packages }));
    expect(setup()).toMatchObject({ stdout: '', stderr: '', status: 0 });
  },
);

test('a failed installation fails the command', () => {
  writeFileSync(join(project, 'bin/npm'), '#!/usr/bin/env node\nprocess.exit(7);', { mode: 0o755 });
  expect(setup().status).not.toBe(0);
});
