/** Begins to read a case along. */
import type { CaseReading } from '../../storage/journal-types.ts';
import { readCase } from '../read-case.ts';
import type { SessionParts } from '../session-parts.ts';
import { type LivePicture, ReadAlong } from './read-along.ts';

/** Follows a case that another window of this tablet runs, or where a `device` is named that tablet. */
export function readAlong(
  parts: Pick<SessionParts, 'store' | 'clock' | 'timers' | 'journal' | 'pictures'>,
  o: { readonly reading: CaseReading; readonly device: string | null },
): ReadAlong {
  const { store, clock, timers, journal, pictures } = parts;
  const { reading, device } = o;
  const about = { reading, store, clock };
  if (device === null) {
    return new ReadAlong({ ...about, subscriber: pictures?.lookOn() ?? null, far: null });
  }
  const read = async () => {
    const again = await readCase(journal, reading.caseId);
    return again.ok ? again.value.reading.entries : null;
  };
  // Pictures of another tablet come to the window that writes, and from there to the others of this one.
  const over = pictures?.lookAt(device) ?? null;
  const subscriber = over ?? pictures?.lookOn() ?? null;
  const relay = (picture: LivePicture): void => {
    if (over !== null) pictures?.relay(picture);
  };
  return new ReadAlong({ ...about, subscriber, far: { read, timers, relay } });
}
