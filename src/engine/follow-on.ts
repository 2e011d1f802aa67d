/**
 * What a later case needs to know of this one: when light last fell on a unit. The latest stamp of
 * an exposure counts, and a press that was later moved back is not believed to have been earlier:
 * a hold that starts too late only waits longer.
 */
import type { CaseFile, Follows } from '../protocol/case-types.ts';
import type { Protocol } from '../protocol/types.ts';
import { type CaseLog, presses } from './log.ts';
import type { CaseEvent } from './types.ts';

type PassBegun = Extract<CaseEvent, { type: 'light-pass-begun' }>;

/** How long after the press that began a pass its last place can have been lit: all but the first may come later. */
const passMs = ({ places, changeMs }: PassBegun): number =>
  Math.max(0, ...places.map((p) => p.fromMs + p.setMs + (p.fromMs === 0 ? 0 : changeMs)));

/** When light can last have fallen on a unit, by the wall clock in ms since 1970; null before any was given. */
export function lastLightWallMs(log: CaseLog): number | null {
  const kept = new Set(presses(log));
  const ends: number[] = [];
  let litUntilMs: number | null = null;
  let ledUntilMs = 0;
  for (const { press, event, stamp } of log.records) {
    if (!kept.has(press)) continue;
    switch (event.type) {
      case 'exposure-started':
        if (litUntilMs !== null) ends.push(litUntilMs);
        litUntilMs = stamp.wallMs + event.setMs;
        break;
      case 'exposure-stopped':
        ends.push(stamp.wallMs);
        litUntilMs = null;
        break;
      case 'light-pass-begun':
        ledUntilMs = stamp.wallMs + passMs(event);
        break;
      case 'light-pass-stopped':
        ledUntilMs = Math.min(ledUntilMs, stamp.wallMs);
        break;
      case 'light-pass-confirmed':
        if (event.places.length > 0) ends.push(Math.max(stamp.wallMs, ledUntilMs));
        break;
      default:
        break;
    }
  }
  // Nobody pressed that it is off, as where its step was skipped: the lamp switches itself off.
  if (litUntilMs !== null) ends.push(litUntilMs);
  return ends.length === 0 ? null : Math.max(...ends);
}

/** What to put into the case that goes on from this one; null while no light has been given. */
export function followsFrom(log: CaseLog): Follows | null {
  const lastExposureWallMs = lastLightWallMs(log);
  if (lastExposureWallMs === null) return null;
  return { caseId: log.state.opened.spec.id, lastExposureWallMs };
}

export interface Hold {
  readonly endsMs: number;
  readonly floorMs: number;
}

/** The hold that a visit waits for, as long as its protocol says; null where it waits for none. */
export function holdOf(
  { follows }: Pick<CaseFile, 'follows'>,
  { windows }: Pick<Protocol, 'windows'>,
): Hold | null {
  if (follows === undefined) return null;
  const floors = windows.flatMap((w) => (w.protects === 'hold' && w.minMs ? [w.minMs.value] : []));
  if (floors.length === 0) return null;
  const floorMs = Math.max(...floors);
  return { endsMs: follows.lastExposureWallMs + floorMs, floorMs };
}
