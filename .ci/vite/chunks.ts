import { fileURLToPath } from 'node:url';
import type { Plugin, Rolldown } from 'vite';

const src = (path: string): string => fileURLToPath(new URL(`../../src/${path}`, import.meta.url));

/** Folders that know nothing of a page: a worker can run them too. */
const PURE = ['base', 'protocol', 'calc', 'temporal', 'engine', 'plan'].map((name) =>
  src(`${name}/`),
);

/** Words that a drill records as read aloud, in the thread that draws it. */
const TOLD_IN_THREAD = src('words/read-back-words.ts');

/** What loads a part that is asked for later: the planning worker asks too, so it stands in `core`. */
const PRELOADER = '\0vite/preload-helper.js';

/** A worker has no document to put links into: what it asks for later is loaded without them. */
export const preloadedFor = (
  _file: string,
  deps: string[],
  { hostId }: { readonly hostId: string },
): string[] => (/[.]worker-/.test(hostId) ? [] : deps);

type Info = Pick<Rolldown.PluginContext, 'getModuleInfo'>;

function reachedFrom(starts: readonly string[], info: Info): ReadonlySet<string> {
  const reached = new Set<string>();
  const walk = (id: string): void => {
    if (reached.has(id)) return;
    reached.add(id);
    for (const next of info.getModuleInfo(id)?.importedIds ?? []) walk(next);
  };
  for (const id of starts) walk(id);
  return reached;
}

/**
 * What the first screen needs goes into two files, which packs smaller and starts sooner than sixty:
 * `core`, the pure part, which the planning worker loads as well, and `app`, the rest.
 */
export function firstLoadChunks() {
  let found: { readonly app: ReadonlySet<string>; readonly core: ReadonlySet<string> } | null =
    null;
  const setsOf = (info: Info) => {
    if (found !== null) return found;
    const app = reachedFrom([src('main.tsx')], info);
    const pure = [...app].filter((id) => PURE.some((folder) => id.startsWith(folder)));
    found = { app, core: reachedFrom([...pure, TOLD_IN_THREAD], info) };
    return found;
  };
  // A group takes what its files need with it: the one that must stay by itself goes first.
  return {
    groups: [
      {
        debugName: 'core',
        priority: 2,
        name: (id: string, info: Info) =>
          id.startsWith('\0rolldown') || id === PRELOADER || setsOf(info).core.has(id)
            ? 'core'
            : null,
      },
      {
        debugName: 'app',
        priority: 1,
        name: (id: string, info: Info) =>
          setsOf(info).app.has(id) && !id.endsWith('.css') ? 'app' : null,
      },
    ],
  };
}

const QUERY = '?chunk';

/**
 * `import url from './x.worker.ts?chunk'` gives the address of a worker that is built together with
 * the page, so that both load the same files; a worker built by itself carries all it needs again.
 */
export function sharedWorker(): Plugin {
  let isBuild = false;
  return {
    name: 'lutewatch-shared-worker',
    enforce: 'pre',
    configResolved(config) {
      isBuild = config.command === 'build';
    },
    load(id) {
      if (!id.endsWith(QUERY)) return null;
      const path = id.slice(0, -QUERY.length);
      if (!isBuild) return `export default new URL(${JSON.stringify(path)}, import.meta.url).href;`;
      const ref = this.emitFile({ type: 'chunk', id: path, name: 'plan.worker' });
      return `export default import.meta.ROLLUP_FILE_URL_${ref};`;
    },
  };
}
