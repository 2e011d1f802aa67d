/**
 * Where the decoder of label codes lies. It is a megabyte, and most people never point the camera at
 * a label: the app does not keep it from the first visit on, but from its first use.
 */
import decoderUrl from 'zxing-wasm/reader/zxing_reader.wasm?url';

export { decoderUrl };

/** The same name as in the service worker, which imports nothing of the rest. */
const FIRST_USE_CACHE = 'lutewatch-first-use';

/** Whether the decoder is on this tablet, so that the camera works without a network. */
export async function isDecoderKept(caches: CacheStorage | undefined): Promise<boolean> {
  try {
    return (await caches?.match(decoderUrl)) !== undefined;
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
    await cache?.add(decoderUrl);
  } catch {
    return false;
  }
  return isDecoderKept(caches);
}
