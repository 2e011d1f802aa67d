/** How the fields of a sheet ask what is wrong with them. */
import type { SheetField } from '../../../protocol/sheet-finish.ts';

/**
 * What is wrong at a field, in words; undefined when nothing is, or when it is too early to say.
 * `line` is null for the head of the sheet.
 */
export type ProblemAt = (line: string | null, field: SheetField) => string | undefined;
