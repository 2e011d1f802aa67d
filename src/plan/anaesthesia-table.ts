/** The table of local anaesthetics that ships, read once. Its sources stand in the file, row by row. */
import json from '../../shared/tables/anaesthesia.json' with { type: 'json' };
import { assert } from '../base/assert.ts';
import { type AnaesthesiaTable, parseAnaesthesia } from '../calc/anaesthesia-rows.ts';

let known: AnaesthesiaTable | null = null;

export function anaesthesiaTable(): AnaesthesiaTable {
  if (known !== null) return known;
  const read = parseAnaesthesia(json);
  assert(read.ok, 'shared/tables/anaesthesia.json is not as it must be');
  known = read.value;
  return known;
}
