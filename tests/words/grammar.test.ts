/** Lists in English are written as the rest of the app is: in British English. */
import { expect, it } from 'vitest';
import { backup } from '../../src/words/en/backup.ts';
import { exportTexts } from '../../src/words/en/export.ts';

// CLDR 42 and later, en-GB: the standard list has no comma before "and"; en has one.
it('writes three things without a comma before "and"', () => {
  expect(backup.did(['added', 'changed', 'removed'])).toBe('added, changed and removed');
  expect(exportTexts.both(['11', '12', '21'])).toBe('11, 12 and 21');
});
