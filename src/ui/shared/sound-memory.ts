/**
 * What is known of whether the sound of this tablet is heard. Only a person can say, so the answer is
 * kept with its day, and asked for again when it is old or when the loudness was turned down since.
 */

import type { Settings } from '../../runtime/app-state.ts';
import type { SoundMemory } from '../../words/codes.ts';

/** A week: rooms, headphones and silent switches change. Our own choice. */
export const HEARD_FOR_MS = 7 * 24 * 3600 * 1000;

export function soundMemory(
  settings: Pick<Settings, 'heardAtMs' | 'heardBy' | 'heardVolume' | 'volume'>,
  o: { readonly nowMs: number },
): SoundMemory {
  const { heardAtMs: atMs, heardBy: by } = settings;
  if (atMs === null) return { state: 'never' };
  if (settings.volume < settings.heardVolume) return { state: 'quieter', atMs, by };
  // A clock that was set back makes an answer of the future: it is as good as old.
  const ageMs = o.nowMs - atMs;
  return { state: ageMs >= 0 && ageMs < HEARD_FOR_MS ? 'fresh' : 'old', atMs, by };
}

/** The settings once somebody has answered; nobody heard it when `by` is null. */
export function answered(
  settings: Settings,
  o: { readonly by: 'dentist' | 'assistant' | null; readonly nowMs: number },
): Settings {
  const { by, nowMs } = o;
  return by === null
    ? { ...settings, heardAtMs: null, heardBy: '' }
    : { ...settings, heardAtMs: nowMs, heardBy: by, heardVolume: settings.volume };
}
