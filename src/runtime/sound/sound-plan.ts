/**
 * Puts sounds one after another: never two at a time, the more urgent first, none lost. Instants are
 * ms on any one axis. Pure.
 */

/** A sound that is wanted. */
export interface WantedSound {
  readonly id: string;
  readonly dueMs: number;
  readonly lengthMs: number;
  readonly rank: number;
}

/** A sound with its place. `startMs` is never before its due instant. */
export interface PlacedSound {
  readonly id: string;
  readonly startMs: number;
  readonly endMs: number;
}

/** Silence between two patterns, in ms, so that their rhythms do not run together. */
export const SILENCE_BETWEEN_MS = 300;

/**
 * Gives every wanted sound its place. The higher rank keeps its instant and the lower one that would
 * touch it moves behind; of one rank the earlier due goes first, then the smaller id.
 *
 * @param options.notBeforeMs nothing is placed before this instant; what is past due comes then.
 * @param options.fixed sounds that keep their place whatever comes (one that already sounds).
 * @returns the places of `wanted` in order of their start.
 */
export function placeSounds(
  wanted: readonly WantedSound[],
  options: { readonly notBeforeMs: number; readonly fixed: readonly PlacedSound[] },
): readonly PlacedSound[] {
  const taken = [...options.fixed];
  const placed: PlacedSound[] = [];
  for (const sound of [...wanted].sort(moreUrgentFirst)) {
    const startMs = firstRoom(sound, Math.max(sound.dueMs, options.notBeforeMs), taken);
    const place = { id: sound.id, startMs, endMs: startMs + sound.lengthMs };
    placed.push(place);
    taken.push(place);
  }
  return placed.sort((a, b) => a.startMs - b.startMs);
}

function moreUrgentFirst(a: WantedSound, b: WantedSound): number {
  if (a.rank !== b.rank) return b.rank - a.rank;
  if (a.dueMs !== b.dueMs) return a.dueMs - b.dueMs;
  return a.id < b.id ? -1 : 1;
}

/** The earliest instant from `fromMs` on at which the sound touches none of `taken`. */
function firstRoom(sound: WantedSound, fromMs: number, taken: readonly PlacedSound[]): number {
  let startMs = fromMs;
  for (const other of [...taken].sort((a, b) => a.startMs - b.startMs)) {
    const clear =
      startMs + sound.lengthMs + SILENCE_BETWEEN_MS <= other.startMs ||
      startMs >= other.endMs + SILENCE_BETWEEN_MS;
    if (!clear) startMs = other.endMs + SILENCE_BETWEEN_MS;
  }
  return startMs;
}
