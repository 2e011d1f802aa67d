/**
 * Installs the packages of the lock file unless they are in place, so that every command works on a
 * fresh clone. Says what it does on stderr only: commands whose output is data run it first.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const marker = `${root}node_modules/.lutewatch-lock`;
const lockText = readFileSync(`${root}package-lock.json`, 'utf8');
const lockHash = createHash('sha256').update(lockText).digest('hex');

/** Whether the list that npm keeps of what it installed agrees with the lock file. */
function installedAsLocked() {
  const listPath = `${root}node_modules/.package-lock.json`;
  if (!existsSync(listPath)) return false;
  const installed = JSON.parse(readFileSync(listPath, 'utf8')).packages;
  const locked = Object.entries(JSON.parse(lockText).packages);
  return locked.every(([path, wanted]) => {
    if (path === '') return true;
    const found = installed[path];
    // Packages for other kinds of machine are in the lock file, but never installed here.
    return found === undefined ? wanted.optional === true : found.version === wanted.version;
  });
}

function markedAsInstalled() {
  return existsSync(marker) && readFileSync(marker, 'utf8') === lockHash;
}

if (!markedAsInstalled()) {
  if (!installedAsLocked()) {
    process.stderr.write('Installing the packages of package-lock.json ...\n');
    const npm = spawnSync('npm', ['ci', '--no-audit', '--no-fund'], {
      cwd: root,
      stdio: ['ignore', 2, 2],
      shell: process.platform === 'win32',
    });
    if (npm.status !== 0) process.exit(npm.status ?? 1);
  }
  writeFileSync(marker, lockHash);
}
