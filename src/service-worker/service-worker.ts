/**
 * Keeps every file of one build on the device and answers from there, so that the application
 * starts without a network. It fetches nothing of its own accord and takes over from an older build
 * only when the page asks, because the files must not change under a running case.
 */
import {
  cleanupOutdatedCaches,
  createHandlerBoundToURL,
  type PrecacheEntry,
  precacheAndRoute,
} from 'workbox-precaching';
import { NavigationRoute, registerRoute } from 'workbox-routing';

declare const self: ServiceWorkerGlobalScope & {
  /** Written into the file by the build. */
  readonly __WB_MANIFEST: readonly PrecacheEntry[];
  /** Paths of large files that are kept later than the rest. */
  readonly __KEPT_ON_FIRST_USE: readonly string[];
};

const FIRST_USE_CACHE = 'lutewatch-first-use';
const firstUsePaths: ReadonlySet<string> = new Set(self.__KEPT_ON_FIRST_USE);

cleanupOutdatedCaches();
precacheAndRoute([...self.__WB_MANIFEST]);

// Places inside the application are drawn by the page itself; all of them are the same document.
registerRoute(new NavigationRoute(createHandlerBoundToURL('index.html')));

// Large files that few visits need: from the device once they are kept, from the server until then.
registerRoute(
  ({ url, sameOrigin }) => sameOrigin && firstUsePaths.has(url.pathname),
  ({ url }) => kept(url.pathname),
);

async function kept(path: string): Promise<Response> {
  const cache = await caches.open(FIRST_USE_CACHE);
  const before = await cache.match(path);
  if (before !== undefined) return before;
  const fetched = await fetch(path);
  if (fetched.ok) await cache.put(path, fetched.clone());
  return fetched;
}

/** Keeps them all, one after the other. What cannot be had now is asked for at the next start. */
async function keepRest(): Promise<void> {
  try {
    for (const path of firstUsePaths) await kept(path);
  } catch {
    // There is no network; nothing that was kept is lost.
  }
}

// Names carry a hash: what an older build kept is of no use any more.
self.addEventListener('activate', (event) => {
  event.waitUntil(dropOldFirstUse());
});

async function dropOldFirstUse(): Promise<void> {
  // Opening it would make one.
  if (!(await caches.has(FIRST_USE_CACHE))) return;
  const cache = await caches.open(FIRST_USE_CACHE);
  const kept = await cache.keys();
  const old = kept.filter((request) => !firstUsePaths.has(new URL(request.url).pathname));
  await Promise.all(old.map((request) => cache.delete(request)));
}

self.addEventListener('message', (event) => {
  const type = typeOf(event.data);
  if (type === 'SKIP_WAITING') void self.skipWaiting();
  if (type === 'KEEP_REST') event.waitUntil(keepRest());
});

function typeOf(message: unknown): unknown {
  return typeof message === 'object' && message !== null && 'type' in message
    ? message.type
    : undefined;
}
