/** Findings of a run in other browsers: one JSON line each. */
import { type OtherBrowser, pause } from './other-browser.ts';

let failures = 0;

/** How many findings were not as they must be. */
export const failureCount = (): number => failures;

export function told(
  browser: Pick<OtherBrowser, 'name' | 'version'>,
  finding: string,
  isGood: boolean,
  measured: unknown,
): void {
  if (!isGood) failures += 1;
  const { name, version } = browser;
  console.log(JSON.stringify({ browser: name, version, finding, isGood, measured }));
}

/** Asks again and again until the answer is enough; after `tries`, whatever comes. */
export async function until<T>(
  ask: () => Promise<T>,
  isEnough: (value: T) => boolean,
  o: { readonly tries?: number; readonly everyMs?: number } = {},
): Promise<T> {
  const { tries = 100, everyMs = 100 } = o;
  for (let at = 0; at < tries; at += 1) {
    const value = await ask().catch(() => undefined);
    if (value !== undefined && isEnough(value)) return value;
    await pause(everyMs);
  }
  return ask();
}
