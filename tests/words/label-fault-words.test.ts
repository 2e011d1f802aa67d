import { describe, expect, it } from 'vitest';
import { isMissing } from '../../src/calc/udi/label-fault.ts';
import { readScans } from '../../src/runtime/scanner/scanner-label.ts';
import { labelFaultWords } from '../../src/words/scan-words.ts';

const faultsOf = (text: string) => readScans([text], { presentYear: 2026 }).label.faults;

describe('what is wrong with a code', () => {
  it.each([
    ['(01)04012345678902(10)AB', '(01) The check digit is wrong in 04012345678902.'],
    ['(01)04012345678901(17)271331(10)A', '(17) The expiry date “271331” is not a date.'],
    ['(01)123', '(01) must have 14 characters. It has 3.'],
    ['(10)ABCDEFGHIJKLMNOPQRSTU', '(10) must have 1 to 20 characters. It has 21.'],
    ['just text', 'This is neither a GS1 nor an HIBC label.'],
  ])('%s is told in a whole sentence', (text, words) => {
    expect(faultsOf(text).map(labelFaultWords)).toContain(words);
  });

  it('is wrong, and not merely missing, where no identifier is known', () => {
    expect(faultsOf('(01)04012345678901(10').some((fault) => !isMissing(fault))).toBe(true);
    expect(faultsOf('(10)LOT7').every(isMissing)).toBe(true);
  });
});
