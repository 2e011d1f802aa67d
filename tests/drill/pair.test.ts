/** Who makes one pair: a rule of this project, no source. */
import { expect, test } from 'vitest';
import { isSamePair, pairKey, pairOf, partnerOf } from '../../src/drill/pair.ts';

const pair = (lead: string, assists: string) => ({ lead, assists });

test('neither the order of the two names nor how they are written makes another pair', () => {
  const one = pair('RS', 'T. K.');
  for (const same of [pair('T.K.', 'rs'), pair(' r.s ', 'TK')]) {
    expect(isSamePair(one, same)).toBe(true);
  }
  for (const other of [pair('RS', ''), pair('RS', 'AB'), pair('', 'TK')]) {
    expect(isSamePair(one, other)).toBe(false);
  }
  // A name twice is one person, and nothing is nobody.
  expect(pairKey(pair('RS', 'R.S.'))).toBe(pairKey(pair('', 'RS')));
  expect(pairOf(pair(' ', '?'))).toBeNull();
  expect(pairOf(pair(' RS ', '-'))).toEqual(pair('RS', ''));
  expect(isSamePair(null, undefined)).toBe(false);
});

test('the other of a pair', () => {
  expect(partnerOf('tk', pair('RS', 'T.K.'))).toBe('RS');
  expect(partnerOf('RS', pair('RS', ''))).toBe('');
});
