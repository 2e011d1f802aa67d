import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join, sep } from 'node:path';
import { build, type Plugin } from 'vite';

/**
 * Files that are kept some seconds after the others, or at their first use if that comes sooner,
 * because few visits need them: the decoder of label codes, letters beyond western Europe, the cards
 * that are printed, the lead's desk with what only it needs, what new templates correct, the pages of
 * the desk that no case waits for, what mends and tells damage, and the pictures that a
 * home screen asks for once. No other file may need one to be drawn.
 */
const ON_FIRST_USE: readonly RegExp[] = [
  /\.wasm$|scanner\.worker|latin-ext|\.png$/,
  /QuickCard|WallCard/,
  // The lead's desk, and the sheets of products.
  /LeadDesk(?!Overdue)|lead-places|editor-model|use-deed|corrections-/,
  /\/(lead|[Ss]heets|(demo-)?sheets?-\w+|demo-sheets|History|ProtocolRead|invented)-[\w-]{8}\./,
  /mend-|[Dd]amage|purge-case/,
  /\/(Materials(Detail|Form|Calls)?|Clinic|Plan|ProtocolDetail|Cases|[Bb]ackup)-(?!lines)/,
];
const isOnFirstUse = (url: string): boolean => ON_FIRST_USE.some((part) => part.test(url));

/** One file that the service worker keeps. A null revision means that its name carries a hash. */
interface PrecacheEntry {
  readonly url: string;
  readonly revision: string | null;
}

const SERVICE_WORKER = 'service-worker.js';

/**
 * Builds the service worker after the page, alone, so that it shares no file with the page, and
 * hands it the list of every other file of the build to keep for offline use.
 *
 * @param entry absolute path of the service worker's source.
 */
export function serviceWorker(entry: string): Plugin {
  let outDir = '';
  let failed = false;
  return {
    name: 'lutewatch-service-worker',
    apply: 'build',
    configResolved(config) {
      outDir = config.build.outDir;
    },
    buildEnd(error) {
      failed = error !== undefined;
    },
    async closeBundle() {
      if (!failed) await buildServiceWorker(entry, outDir);
    },
  };
}

async function buildServiceWorker(entry: string, outDir: string): Promise<void> {
  const files = await builtFiles(outDir);
  const manifest = files.filter(({ url }) => !isOnFirstUse(url));
  const onFirstUse = files.filter(({ url }) => isOnFirstUse(url)).map(({ url }) => `/${url}`);
  await build({
    configFile: false,
    publicDir: false,
    logLevel: 'warn',
    define: {
      'self.__WB_MANIFEST': JSON.stringify(manifest),
      'self.__KEPT_ON_FIRST_USE': JSON.stringify(onFirstUse),
    },
    build: {
      outDir,
      emptyOutDir: false,
      target: 'es2022',
      rolldownOptions: {
        input: entry,
        output: { format: 'iife', entryFileNames: SERVICE_WORKER },
      },
    },
  });
}

async function builtFiles(outDir: string): Promise<readonly PrecacheEntry[]> {
  const found = await readdir(outDir, { recursive: true, withFileTypes: true });
  const paths = found
    .filter((file) => file.isFile() && file.name !== SERVICE_WORKER && !file.name.endsWith('.map'))
    .map((file) => join(file.parentPath, file.name))
    .sort();
  return Promise.all(
    paths.map(async (path) => {
      const url = path.slice(outDir.length + 1).replaceAll(sep, '/');
      const hash = createHash('sha256')
        .update(await readFile(path))
        .digest('hex');
      return { url, revision: url.startsWith('assets/') ? null : hash.slice(0, 20) };
    }),
  );
}
