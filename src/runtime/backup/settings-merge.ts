/** What of the settings in a backup holds on this tablet. */
import { fieldsOf } from '../../base/json.ts';
import type { StoredDocument } from '../../storage/journal-types.ts';
import { DEFAULT_SETTINGS, type Settings } from '../app-state.ts';
import { SETTINGS } from '../library/library.ts';

/** What a clinic says of its files and hours: a backup of a version without it does not take it away. */
const CLINIC_KEYS = [
  'chartSystem',
  'procedureSystem',
  'procedureCodes',
  'byteOrderMark',
  'openingHours',
  'recallMonths',
] as const satisfies readonly (keyof Settings)[];

/**
 * Its screen was measured here, its sound was heard here and its far view follows what was chosen here: another
 * tablet cannot say so for it; and two tablets must not have one id.
 */
export function ofThisTablet(
  document: StoredDocument,
  here: StoredDocument | undefined,
): StoredDocument {
  if (document.kind !== SETTINGS || document.value === null) return document;
  const own = fieldsOf(here?.value);
  const { zone, tablet, pxPerMm, heardAtMs, heardBy, heardVolume, farViewOf } = {
    ...DEFAULT_SETTINGS,
    ...own,
  };
  // A backup of a version that knew no zone of the clinic does not take it away.
  const known = zone === '' ? {} : { zone };
  const kept = CLINIC_KEYS.filter((key) => key in own).map((key) => [key, own[key]] as const);
  const value = {
    ...known,
    ...Object.fromEntries(kept),
    ...fieldsOf(document.value),
    tablet,
    pxPerMm,
    heardAtMs,
    heardBy,
    heardVolume,
    farViewOf,
  };
  return { ...document, value };
}
