/** The invented sheets, for a desk that has none yet and wants to see what one does. */

import * as v from 'valibot';
import sheetsUrl from '../../../shared/sheets/invented.json?packed';
import { parsedOr } from '../../protocol/read-outside.ts';
import { parseSheet } from '../../protocol/sheet-schema.ts';
import type { ProductSheet } from '../../protocol/sheet-types.ts';
import { readShipped } from '../library/read-shipped.ts';

const fileSchema = v.object({ sheets: v.array(v.unknown()) });

/** Those that ship; none where the file does not come. */
export async function demoSheets(): Promise<readonly ProductSheet[]> {
  const file = parsedOr(fileSchema, await readShipped(sheetsUrl).catch(() => null));
  return (file?.sheets ?? []).flatMap((value) => {
    const sheet = parseSheet(value);
    return sheet.ok ? [sheet.value] : [];
  });
}
