import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import {
  chainEntries,
  entryHash,
  hashText,
  NO_ENTRY_HASH,
  verifyChain,
} from '../../src/storage/hash-chain.ts';
import type { JournalEntry } from '../../src/storage/journal-types.ts';
import { wholeCase } from './sample-case.ts';

const chained = (caseId: string, count: number): readonly JournalEntry[] =>
  chainEntries(wholeCase(caseId, count), { caseId, epoch: 3, prev: NO_ENTRY_HASH });

describe('SHA-256', () => {
  // FIPS 180-4 (NIST, 2015): the empty message and the two examples of the example document.
  it.each([
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
  ])('of %j is the published value', (text, hash) => {
    expect(hashText(text)).toBe(hash);
  });

  it("agrees with the platform's own for any text", () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (text) => {
        expect(hashText(text)).toBe(createHash('sha256').update(text, 'utf8').digest('hex'));
      }),
    );
  });
});

describe('canonical JSON', () => {
  // RFC 8785 (Rundgren, Jordan & Erdtman, 2020): the data published with it ("arrays" and
  // "structures"), each with the SHA-256 of its canonical form.
  it.each([
    [
      '[56,{"d":true,"10":null,"1":[]}]',
      '[56,{"1":[],"10":null,"d":true}]',
      '099601b171cafed97c333f8878d68e7f8c8f795412adb34b2fdcf0e7c7beac42',
    ],
    [
      '{"1":{"f":{"f":"hi","F":5},"\\n":56.0},"10":{},"":"empty","a":{},"111":[{"e":"yes","E":"no"}],"A":{}}',
      '{"":"empty","1":{"\\n":56,"f":{"F":5,"f":"hi"}},"10":{},"111":[{"E":"no","e":"yes"}],"A":{},"a":{}}',
      '605f65004ec2db7692522a0852c22f1c989e036d547e88963d1a3143cf3195d5',
    ],
  ])('of %s is the published one', (input, output, hash) => {
    const text = canonicalText(JSON.parse(input));
    expect(text).toBe(output);
    expect(hashText(text)).toBe(hash);
  });

  // RFC 8785, appendix B: IEEE 754 double (hexadecimal) and its only serialisation.
  it.each([
    ['4340000000000001', '9007199254740994'],
    ['4340000000000002', '9007199254740996'],
    ['444b1ae4d6e2ef50', '1e+21'],
    ['3eb0c6f7a0b5ed8d', '0.000001'],
    ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
    ['8000000000000000', '0'],
  ])('of the double %s is %s', (hex, text) => {
    expect(canonicalText(Buffer.from(hex, 'hex').readDoubleBE())).toBe(text);
  });

  it('of half a surrogate pair, NaN or an infinity does not exist', () => {
    for (const value of ['\ud800', Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => canonicalText({ value })).toThrow();
    }
  });
});

describe('a chain', () => {
  it('starts at 64 zeros, and each entry points at the one before', () => {
    const entries = chained('c1', 5);
    expect(entries[0]?.prev).toBe('0'.repeat(64));
    entries.slice(1).forEach((entry, i) => {
      expect(entry.prev).toBe(entries[i]?.hash);
    });
  });

  it('hashes the canonical JSON of the entry without its hash, as an independent sum shows', () => {
    const { hash, ...rest } = present(chained('c1', 3)[2], 'an entry');
    const sortedByHand = JSON.stringify(rest, (_key, value: unknown) =>
      typeof value === 'object' && value !== null && !Array.isArray(value)
        ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
        : value,
    );
    expect(hash).toBe(createHash('sha256').update(sortedByHand, 'utf8').digest('hex'));
    expect(entryHash(rest)).toBe(hash);
  });

  const six = chained('c1', 6);
  const at = (i: number): JournalEntry => present(six[i], `entry ${i}`);
  const without = (i: number): readonly JournalEntry[] => six.filter((_, j) => j !== i);
  const instead = (i: number, entry: unknown): readonly unknown[] =>
    six.map((one, j) => (j === i ? entry : one));

  it.each<[string, readonly unknown[], number, string]>([
    ['an entry that is no entry', instead(2, 'noise'), 2, 'shape'],
    ['a field too many', instead(2, { ...at(2), extra: 1 }), 2, 'shape'],
    ['an entry of another case', instead(2, present(chained('c2', 6)[2], 'it')), 2, 'other-case'],
    ['a missing entry', without(3), 3, 'sequence'],
    ['an entry twice', [...six.slice(0, 3), at(2), ...six.slice(3)], 3, 'sequence'],
    ['two entries swapped', [at(0), at(2), at(1), ...six.slice(3)], 1, 'sequence'],
    ['a missing beginning', six.slice(1), 0, 'sequence'],
    ['another person', instead(4, { ...at(4), by: 'p2' }), 4, 'hash'],
    ['another epoch', instead(4, { ...at(4), epoch: 4 }), 4, 'hash'],
    [
      'an entry chained to something else',
      [
        ...six.slice(0, 3),
        ...chainEntries(wholeCase('c1', 6).slice(3), {
          caseId: 'c1',
          epoch: 3,
          prev: 'f'.repeat(64),
        }),
      ],
      3,
      'link',
    ],
  ])('with %s is good up to there and no further', (_what, entries, index, reason) => {
    expect(verifyChain(entries)).toEqual({ goodCount: index, firstBad: { index, reason } });
  });

  it('that was rewritten with right hashes from one entry on shows at the next old one', () => {
    const { prev, ...changed } = { ...at(2), by: 'p9' };
    const forged = chainEntries([changed], { caseId: 'c1', epoch: 3, prev });
    expect(verifyChain([...six.slice(0, 2), ...forged, ...six.slice(3)])).toEqual({
      goodCount: 3,
      firstBad: { index: 3, reason: 'link' },
    });
  });

  it('of nothing is good', () => {
    expect(verifyChain([])).toEqual({ goodCount: 0, firstBad: null });
  });
});
