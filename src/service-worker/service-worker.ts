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
};

cleanupOutdatedCaches();
precacheAndRoute([...self.__WB_MANIFEST]);

// Places inside the application are drawn by the page itself; all of them are the same document.
registerRoute(new NavigationRoute(createHandlerBoundToURL('index.html')));

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
