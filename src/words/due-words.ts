/** Words for what must be out of the refrigerator, and by when. */
import { MS_PER_MINUTE } from '../base/units.ts';
import { formatWords, formatWordsInterval } from './duration.ts';
import { due } from './en/due.ts';
import { spoken } from './language.ts';

export const dueWords = spoken('due', due);

/** Whole minutes: nobody runs to a refrigerator by the second. */
const minutes = (ms: number): string => formatWords(Math.floor(ms / MS_PER_MINUTE) * MS_PER_MINUTE);

/** By how much something is late. */
export const lateWords = (ms: number): string =>
  ms < MS_PER_MINUTE ? dueWords.lateUnderAMinute : dueWords.late(minutes(ms));

/** How long is left until something is due. */
export const leftWords = (ms: number): string =>
  ms < MS_PER_MINUTE ? dueWords.leftUnderAMinute : dueWords.left(minutes(ms));

export const pastWords = (ms: number): string => dueWords.past(minutes(ms));

/** How long a material has been out, and how long it needs. */
export const outForWords = (o: {
  readonly loMs: number;
  readonly hiMs: number;
  readonly floorMs: number;
}): string => dueWords.outFor({ time: formatWordsInterval(o), floor: formatWords(o.floorMs) });
