/** Zones as people look for them. Pure. */
import { timesIn } from '../../words/date-words.ts';
import { languageTag } from '../../words/language.ts';
import { offsetAt, offsetText, type ZoneName } from '../../words/zone.ts';
import { zoneWords } from '../../words/zone-words.ts';

/** "Europe/Lisbon, now 09:00, UTC+00:00": people know their zone by what its clocks show. */
export function zoneNow(zone: ZoneName, nowMs: number): string {
  const time = timesIn({ zone, language: languageTag() }).time(nowMs);
  return zoneWords.now({ zone, time, offset: offsetText(offsetAt(nowMs, zone)) });
}

const plain = (text: string): string =>
  text
    .toLowerCase()
    .replaceAll(/[_/\s-]+/g, ' ')
    .trim();

/** Those in whose name every word of the search begins a word or stands in one. */
export function zonesFound(all: readonly ZoneName[], search: string): readonly ZoneName[] {
  const words = plain(search).split(' ');
  return all.filter((zone) => words.every((word) => plain(zone).includes(word))).toSorted();
}
