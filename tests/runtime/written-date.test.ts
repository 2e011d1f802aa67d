import { format } from 'date-fns';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { writeDate } from '../../src/words/written-date.ts';

const PATTERNS = [
  'EEE d MMM yyyy',
  'd MMM yyyy, HH:mm',
  'EEE d MMM, HH:mm',
  'd MMM',
  'HH:mm:ss',
  'yyyy-MM-dd',
  'yyyy-MM-dd-HHmm',
];

// The library's own full formatter, with its English names, is the outside word.
test('writes what the full formatter of date-fns writes', () => {
  const noInvalidDate = true;
  const dates = fc.date({ min: new Date(0), max: new Date('2100-01-01'), noInvalidDate });
  fc.assert(
    fc.property(dates, fc.constantFrom(...PATTERNS), (date, pattern) => {
      expect(writeDate(date, pattern)).toBe(format(date, pattern));
      expect(writeDate(date.getTime(), pattern)).toBe(format(date, pattern));
    }),
    { numRuns: 500 },
  );
});
