import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join, sep } from 'node:path';
import { build, type Plugin, type Rolldown } from 'vite';

/**
 * What few visits need, by the module that is asked for when it is wanted: the lead's desk and its sheets, what
 * new templates correct, the pages that no running case waits for, the cards that are printed, what mends and
 * tells damage, the clinic's store, follow-up and what is made of it, drills. It is kept some seconds after the rest, or at its first use if that comes sooner.
 */
const ASKED_FOR_LATER =
  /\/src\/(ui\/(lead|materials|backup|plan|protocols|cases|clinic|outcomes|follow-up|drill)\/|ui\/.*[Dd]amage|(outcomes|drill)\/|runtime\/(lead|backup|sharing|outcomes|follow-up|drills)\/|storage\/(mend-|purge-case)|sync\/)/;

/** The same of files without imports: the decoder of label codes, letters beyond western Europe, pictures that a home screen asks for once, and what only the desk reads. */
const LATER_BY_NAME =
  /\.wasm$|scanner\.worker|latin-ext|\.png$|(corrections|invented)-[\w-]{8}\.packed$/;

/** What the walk through a build reads of a chunk. */
type Chunk = Pick<
  Rolldown.OutputChunk,
  'isEntry' | 'imports' | 'dynamicImports' | 'facadeModuleId'
> & {
  readonly viteMetadata?: { readonly importedCss: ReadonlySet<string> };
};

/**
 * The scripts and styles of a build that wait, by file name: those that nothing needs which is kept at once.
 * A file that both need is kept at once, so that none of those lacks a part without a network.
 */
export function keptLater(chunks: ReadonlyMap<string, Chunk>): ReadonlySet<string> {
  const atOnce = new Set<string>();
  const walk = (file: string): void => {
    const chunk = chunks.get(file);
    if (chunk === undefined || atOnce.has(file)) return;
    atOnce.add(file);
    for (const style of chunk.viteMetadata?.importedCss ?? []) atOnce.add(style);
    for (const next of chunk.imports) walk(next);
    for (const next of chunk.dynamicImports) {
      if (!ASKED_FOR_LATER.test(chunks.get(next)?.facadeModuleId ?? '')) walk(next);
    }
  };
  for (const [file, { isEntry }] of chunks) if (isEntry) walk(file);
  const all = [...chunks].flatMap(([file, { viteMetadata }]) => [
    file,
    ...(viteMetadata?.importedCss ?? []),
  ]);
  return new Set(all.filter((file) => !atOnce.has(file)));
}

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
  let later: ReadonlySet<string> = new Set();
  return {
    name: 'lutewatch-service-worker',
    apply: 'build',
    configResolved(config) {
      outDir = config.build.outDir;
    },
    buildEnd(error) {
      failed = error !== undefined;
    },
    generateBundle(_options, bundle) {
      later = keptLater(
        new Map(
          Object.entries(bundle).flatMap(([file, part]) =>
            part.type === 'chunk' ? [[file, part] as const] : [],
          ),
        ),
      );
    },
    async closeBundle() {
      if (!failed) await buildServiceWorker({ entry, outDir, later });
    },
  };
}

async function buildServiceWorker(o: {
  readonly entry: string;
  readonly outDir: string;
  readonly later: ReadonlySet<string>;
}): Promise<void> {
  const { entry, outDir, later } = o;
  const files = await builtFiles(outDir);
  const isOnFirstUse = (url: string): boolean => later.has(url) || LATER_BY_NAME.test(url);
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
