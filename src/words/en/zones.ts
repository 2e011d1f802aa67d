/** In which zone times are told. */
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

export const zones = {
  /** Label of a fact of a record. */
  times: 'Times',
  ofCase: (zone: string): string => `Local time of the clinic, ${zone}`,
  ofClinic: (zone: string): string => `In the clinic’s zone, ${zone}; the case itself names none`,
  ofClinicInstead: (o: { readonly zone: string; readonly ofCase: string }): string =>
    `In the clinic’s zone, ${o.zone}; the case names ${o.ofCase}, for which there are no rules here`,
  utc: 'In UTC; the case itself names no zone',
  utcInstead: (ofCase: string): string =>
    `In UTC; the case names ${ofCase}, for which there are no rules here`,
  zone: 'Time zone of the clinic',
  zoneHint: 'Every time on the screens and on records is told in it, wherever the tablet is.',
  now: (o: { readonly zone: string; readonly time: string; readonly offset: string }): string =>
    `${o.zone}, now ${o.time}, UTC${o.offset}`,
  change: 'Change the zone',
  find: 'Find a zone',
  findHint: 'By continent or city, such as Lisbon.',
  none: 'No zone is called that.',
  more: (count: number): string =>
    plural(count, {
      one: '1 more zone: type more of its name.',
      other: `${count} more zones: type more of the name.`,
    }),
  /** The tablet's own clock is set to another zone. */
  differs: (o: { readonly tablet: string; readonly clinic: string }): string =>
    `This tablet’s own clock is set to ${o.tablet}. Times here are told in the clinic’s zone, ${o.clinic}.`,
};
