/** Instants as ISO 8601 text in UTC, without any time zone of the device. */

/** The last and first millisecond that a date can name (ECMA-262, time values). */
const WALL_MS_MAX = 8.64e15;

/** `2026-11-27T09:00:00.000Z`. Readings that no calendar holds are clamped to its ends. */
export function utc(wallMs: number): string {
  const held = Math.min(WALL_MS_MAX, Math.max(-WALL_MS_MAX, Math.trunc(wallMs)));
  return new Date(held).toISOString();
}
