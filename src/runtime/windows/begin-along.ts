/** Begins to read a case along. */
import type { CaseReading } from '../../storage/journal-types.ts';
import type { SessionParts } from '../session-parts.ts';
import { ReadAlong } from './read-along.ts';

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
    const again = await journal.read(reading.caseId);
    return again.ok ? again.value.entries : null;
  };
  const subscriber = pictures?.lookAt(device) ?? null;
  return new ReadAlong({ ...about, subscriber, far: { read, timers } });
}
