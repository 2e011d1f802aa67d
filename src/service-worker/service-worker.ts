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
  /** Paths of large files that are kept from their first use on. */
  readonly __KEPT_ON_FIRST_USE: readonly string[];
};

const FIRST_USE_CACHE = 'lutewatch-first-use';
const firstUsePaths: ReadonlySet<string> = new Set(self.__KEPT_ON_FIRST_USE);

cleanupOutdatedCaches();
precacheAndRoute([...self.__WB_MANIFEST]);

// Places inside the application are drawn by the page itself; all of them are the same document.
registerRoute(new NavigationRoute(createHandlerBoundToURL('index.html')));

// The decoder of label codes: from the device once it was used, from the server until then.
registerRoute(
  ({ url, sameOrigin }) => sameOrigin && firstUsePaths.has(url.pathname),
  async ({ url }) => {
    const cache = await caches.open(FIRST_USE_CACHE);
    const kept = await cache.match(url.pathname);
    if (kept !== undefined) return kept;
    const fetched = await fetch(url.pathname);
    if (fetched.ok) await cache.put(url.pathname, fetched.clone());
    return fetched;
  },
);

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
  if (isSkipWaiting(event.data)) void self.skipWaiting();
});

function isSkipWaiting(message: unknown): boolean {
  return (
    typeof message === 'object' &&
    message !== null &&
    'type' in message &&
    message.type === 'SKIP_WAITING'
  );
}
