/** A limit that lies inside what is known may not have been kept: the words say "may", never that it was broken. */
import { describe, expect, it } from 'vitest';
import { durationMs } from '../../src/base/units.ts';
import { breachWords as terminalWords } from '../../src/cli/rehearse-words.ts';
import type { Breach } from '../../src/engine/types.ts';
import { breachWords as recordWords } from '../../src/export/export-words.ts';
import { breachShort, breachWords } from '../../src/words/breach-words.ts';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';

const { state } = new Chair(settingOf(ETCH_ROUND, ['11'])).log;
const { spec, protocol } = state.opened;
const plain = (words: string): string => words.replaceAll(/\s/gu, ' ');

const breachOf = (kind: Breach['kind'], o: Partial<Breach> = {}): Breach => ({
  kind,
  of: 'etch',
  what: 'step',
  subject: 'tooth:11',
  by: durationMs(6000),
  at: state.anchor.at,
  press: 1,
  ...o,
});

describe('a limit that the interval straddles', () => {
  it.each([
    ['over', '11: etch, may be over the limit, by up to 6 s', 'may be 6 s over'],
    ['short', '11: etch, may be short of the minimum, by up to 6 s', 'may be 6 s short'],
    ['late', '11: etch, may be outside the window, by up to 6 s', 'may be 6 s over'],
    ['early', '11: etch, may have ended too early, by up to 6 s', 'may be 6 s short'],
    [
      'gap-short',
      '11: etch, time between coats may be short, by up to 6 s',
      'between coats may be 6 s short',
    ],
    [
      'rest-short',
      '11: etch, rest between exposures may be short, by up to 6 s',
      'rest may be 6 s short',
    ],
  ] as const)('%s is told with may', (kind, words, short) => {
    const breach = breachOf(kind, { perhaps: true });
    expect(plain(breachWords(breach, { spec, protocol }))).toBe(words);
    expect(plain(breachShort(breach))).toBe(short);
    expect(recordWords({ kind, by: 6000, perhaps: true })).toContain('may ');
    expect(terminalWords(breach)).toContain('may have ');
  });

  it('says where nobody knows by how much', () => {
    const breach = breachOf('over', { perhaps: true, by: Number.POSITIVE_INFINITY });
    expect(breachWords(breach, { spec, protocol })).toBe(
      '11: etch, may be over the limit, nobody knows by how much',
    );
    expect(recordWords({ kind: 'over', by: null, perhaps: true })).toBe(
      'may be over the limit, nobody knows by how much',
    );
  });
});

it('a limit that no time of the interval keeps is told as not kept', () => {
  expect(plain(breachWords(breachOf('over'), { spec, protocol }))).toBe(
    '11: etch, over the limit by 6 s',
  );
  expect(plain(breachShort(breachOf('over')))).toBe('6 s over');
  expect(terminalWords(breachOf('over'))).not.toContain('may');
  const rest = breachOf('rest-short');
  expect(plain(breachWords(rest, { spec, protocol }))).toBe(
    '11: etch, rest between exposures short by 6 s',
  );
  expect(plain(breachShort(rest))).toBe('rest 6 s short');
  expect(recordWords({ kind: 'rest-short', by: 6000, perhaps: false })).toBe(
    'rest between exposures short by 6 s',
  );
  expect(terminalWords(rest)).toBe('etch on tooth:11: light on 6 s before its rest had passed');
});
