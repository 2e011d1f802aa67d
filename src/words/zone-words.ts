/** Words about the zone in which times are told. */
import { unreachable } from '../base/assert.ts';
import type { ZoneFact } from './codes.ts';
import { zones } from './en/zones.ts';
import { spoken } from './language.ts';

export const zoneWords = spoken('zones', zones);

/** Said once in a record: which zone its times are in, and whether the case names it. */
export function zoneFactWords({ name, from, ofCase }: ZoneFact): string {
  switch (from) {
    case 'case':
      return zoneWords.ofCase(name);
    case 'clinic':
      return ofCase === null
        ? zoneWords.ofClinic(name)
        : zoneWords.ofClinicInstead({ zone: name, ofCase });
    case 'utc':
      return ofCase === null ? zoneWords.utc : zoneWords.utcInstead(ofCase);
    default:
      return unreachable(from);
  }
}
