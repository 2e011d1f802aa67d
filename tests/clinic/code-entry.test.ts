/**
 * The code as it is typed. What stands for what: Douglas Crockford, Base 32
 * (crockford.com/base32.html): decoding takes o O for 0 and i I l L for 1, small letters for capitals, and hyphens
 * say nothing; U is no symbol of a value.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  caretAfter,
  codeCharacters,
  codeFault,
  inGroups,
} from '../../src/ui/clinic/tablets/code-entry.ts';

const SYMBOLS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const CODE = fc.array(fc.constantFrom(...SYMBOLS), { minLength: 16, maxLength: 16 });

describe('a code', () => {
  test('is the same in small letters, with look-alikes, with hyphens, spaces or neither', () => {
    fc.assert(
      fc.property(CODE, fc.infiniteStream(fc.nat(3)), (symbols, picks) => {
        const code = symbols.join('');
        const typed = symbols
          .map((symbol, at) => {
            const pick = picks.next().value;
            const alike = { '0': 'oO0', '1': 'iIlL1' }[symbol] ?? symbol + symbol.toLowerCase();
            const between = at > 0 && at % 4 === 0 ? [' ', '-', '', '–'][pick] : '';
            return `${between}${alike[pick % alike.length]}`;
          })
          .join('');
        expect(codeCharacters(typed)).toBe(code);
        expect(codeFault(typed)).toBeNull();
      }),
    );
  });

  test.each([
    ['', { code: 'empty' }],
    ['  - ', { code: 'empty' }],
    ['ABCD EFGH JKM', { code: 'short', came: 11, of: 16, group: 3 }],
    ['ABCD EFGH JKMN', { code: 'short', came: 12, of: 16, group: 4 }],
    ['ABCD EFUH JKMN PQRS', { code: 'letter', group: 2, came: 'U' }],
    ['ABCD EFGH JKMN PQR!', { code: 'letter', group: 4, came: '!' }],
    ['ABCD EFGH JKMN PQRS T', { code: 'long', came: 17, of: 16 }],
  ])('typed as "%s" is told by its place', (typed, fault) => {
    expect(codeFault(typed)).toEqual(fault);
  });

  test('stands in groups, and the caret behind as many of its characters as before', () => {
    expect(inGroups('ABCDEFGHJKMNPQRS')).toBe('ABCD EFGH JKMN PQRS');
    expect(inGroups('')).toBe('');
    for (let count = 0; count <= 16; count += 1) {
      const shown = inGroups('ABCDEFGHJKMNPQRS').slice(0, caretAfter(count));
      expect(codeCharacters(shown)).toHaveLength(count);
      expect(shown).toBe(shown.trimEnd());
    }
  });
});
