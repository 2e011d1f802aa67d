/**
 * A moment taken apart as people name it: figures from the zone's clock, names from `Intl` in the
 * language. The names are not date-fns's: its formatter with one locale weighs five kilobytes in what
 * the first screen loads, and each further language as much again as its folder here.
 */
import type { LanguageTag } from './grammar.ts';
import { localText, type ZoneName } from './zone.ts';

/** Where and in which language times are told. */
export interface Locality {
  readonly zone: ZoneName;
  readonly language: LanguageTag;
}

/** `{ weekday: 'Thu', day: '26', month: 'Nov', year: '2026', hour: '09', minute: '00', second: '07' }` */
export interface DateParts {
  /** Short, as it stands in a date. */
  readonly weekday: string;
  readonly day: string;
  /** Short, in the form that it takes in a date. */
  readonly month: string;
  readonly year: string;
  /** Two digits each, of 24 hours. */
  readonly hour: string;
  readonly minute: string;
  readonly second: string;
}

const formats = new Map<LanguageTag, Intl.DateTimeFormat>();

/** One for each language: making one takes longer than a hundred uses of it. */
function namesIn(language: LanguageTag): Intl.DateTimeFormat {
  const known = formats.get(language);
  if (known) return known;
  const made = new Intl.DateTimeFormat(language, {
    calendar: 'gregory',
    numberingSystem: 'latn',
    timeZone: 'UTC',
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    year: 'numeric',
  });
  formats.set(language, made);
  return made;
}

/** @throws RangeError for what is no instant. */
export function datePartsOf(ms: number, { zone, language }: Locality): DateParts {
  const local = localText(ms, zone);
  const named = namesIn(language).formatToParts(Date.parse(`${local}Z`));
  const part = (type: Intl.DateTimeFormatPartTypes): string =>
    named.find((p) => p.type === type)?.value ?? '';
  const at = local.indexOf('T') + 1;
  return {
    weekday: part('weekday'),
    day: part('day'),
    month: part('month'),
    year: part('year'),
    hour: local.slice(at, at + 2),
    minute: local.slice(at + 3, at + 5),
    second: local.slice(at + 6, at + 8),
  };
}
