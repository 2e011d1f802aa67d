/**
 * Where the decoder of label codes and its worker lie. They are a megabyte, and most people never
 * point the camera at a label: the app keeps them some seconds after it was first opened, or at their
 * first use if that comes sooner.
 */
import decoderUrl from 'zxing-wasm/reader/zxing_reader.wasm?url';
import workerUrl from './scanner.worker.ts?worker&url';

export { decoderUrl, workerUrl };

/** The same name as in the service worker, which imports nothing of the rest. */
const FIRST_USE_CACHE = 'lutewatch-first-use';

/** Whether the decoder is on this tablet, so that the camera works without a network. */
export async function isDecoderKept(caches: CacheStorage | undefined): Promise<boolean> {
  try {
    const found = await Promise.all([decoderUrl, workerUrl].map((url) => caches?.match(url)));
    return found.every((kept) => kept !== undefined);
  } catch {
    return false;
  }
}

/**
 * Fetches the decoder once and keeps it where the service worker looks for it: on a first visit no
 * service worker stands between the page and the server yet. False without a network.
 */
export async function keepDecoder(caches: CacheStorage | undefined): Promise<boolean> {
  if (await isDecoderKept(caches)) return true;
  try {
    const cache = await caches?.open(FIRST_USE_CACHE);
    await cache?.addAll([decoderUrl, workerUrl]);
  } catch {
    return false;
  }
  return isDecoderKept(caches);
}
