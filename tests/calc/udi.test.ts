import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Gs1Element,
  gs1Date,
  gs1Elements,
  hasRightCheckDigit,
} from '../../src/calc/udi/gs1.ts';
import { aiRule } from '../../src/calc/udi/gs1-syntax.ts';
import { hibcCheckCharacter } from '../../src/calc/udi/hibc.ts';
import type { DeviceLabel } from '../../src/calc/udi/label.ts';
import { fullYear, labelDate, ordinalDate } from '../../src/calc/udi/label-date.ts';
import { faultLine } from '../../src/calc/udi/label-fault.ts';
import { readDeviceLabel, udiCalc } from '../../src/calc/udi/udi.ts';
import { computed, refused } from './calc-support.ts';
import gs1 from './vectors/gs1.json' with { type: 'json' };
import hibc from './vectors/hibc.json' with { type: 'json' };

/** A label with its faults as the terminal prints them. */
function read(text: string): DeviceLabel & { readonly problems: readonly string[] } {
  const label = readDeviceLabel({ text, presentYear: 2026 });
  return { ...label, problems: label.faults.map(faultLine) };
}

/** Modulo 43 written another way than in the source: by a table of weights. */
function checkByTable(message: string): string {
  const values: Record<string, number> = {
    '-': 36,
    '.': 37,
    ' ': 38,
    $: 39,
    '/': 40,
    '+': 41,
    '%': 42,
  };
  for (let digit = 0; digit < 10; digit += 1) values[String(digit)] = digit;
  for (let letter = 0; letter < 26; letter += 1) {
    values[String.fromCharCode(65 + letter)] = 10 + letter;
  }
  let sum = 0;
  for (const each of message) sum += values[each] ?? Number.NaN;
  return Object.keys(values).find((key) => values[key] === sum % 43) ?? '?';
}

/** The message as an encoder takes it: FNC1 shown as ^, first and after variable-length data. */
function gs1Message(elements: readonly Gs1Element[]): string {
  return elements.reduce((message, { ai, data }, at) => {
    const last = at === elements.length - 1;
    return `${message}${ai}${data}${last || aiRule(ai)?.fixed === true ? '' : '^'}`;
  }, '^');
}

// Every vector's source is named in vectors/gs1.json.
describe('GS1 element strings', () => {
  test.each(gs1.parse)('%s becomes %s', (text, message) => {
    const { elements, faults } = gs1Elements(String(text));
    expect(faults).toEqual([]);
    expect(gs1Message(elements)).toBe(message);
  });

  test.each(gs1.parseReject)('%s is refused', (text) => {
    const label = read(text);
    expect(label.problems.length).toBeGreaterThan(0);
    const listed = text.startsWith('(') ? gs1Elements(text).faults.map(faultLine) : label.problems;
    expect(listed.length).toBeGreaterThan(0);
  });

  test.each(gs1.scan)('%s scan gives %s', (_, expected, scanned) => {
    const { elements, faults } = gs1Elements(String(scanned).slice(3));
    expect(faults).toEqual([]);
    const text = String(expected);
    const message = text.startsWith('(') ? gs1Message(gs1Elements(text).elements) : text;
    expect(gs1Message(elements)).toBe(message);
    expect(read(String(scanned)).problems).toEqual([]);
  });

  test('printed and scanned text say the same', () => {
    for (const [, text, scanned] of gs1.scan) {
      if (text?.startsWith('(') === true) expect(read(text)).toEqual(read(String(scanned)));
    }
  });
});

describe('GS1 check digits and dates', () => {
  test.each(gs1.checkPass)('%s has the right check digit', (digits) => {
    expect(hasRightCheckDigit(digits)).toBe(true);
  });

  test.each(gs1.checkFail)('%s has a wrong check digit', (digits) => {
    expect(hasRightCheckDigit(digits)).toBe(false);
  });

  test('any single wrong digit is noticed', () => {
    const digits = fc.stringMatching(/^\d{14}$/).filter(hasRightCheckDigit);
    fc.assert(
      fc.property(digits, fc.nat(13), fc.integer({ min: 1, max: 9 }), (right, at, by) => {
        const changed = String((Number(right[at]) + by) % 10);
        expect(hasRightCheckDigit(right.slice(0, at) + changed + right.slice(at + 1))).toBe(false);
      }),
      { numRuns: 50 },
    );
  });

  test.each(gs1.datePass)('%s is a date', (digits) => {
    expect(gs1Date(digits, 2026)).not.toBeNull();
  });

  test.each(gs1.dateFail)('%s is no date', (digits) => {
    expect(gs1Date(digits, 2026)).toBeNull();
  });

  test.each(gs1.century)('in %i, %i means %i', (present, twoDigit, year) => {
    expect(fullYear({ twoDigit: Number(twoDigit), present: Number(present) })).toBe(year);
  });

  test('day 00 is the last day of the month, 29 February in a leap year', () => {
    // GS1 General Specifications: day 00 means no day; the last of the month as expiry, from memory.
    expect(gs1Date('271200', 2026)).toEqual({ iso: '2027-12-31', statedTo: 'month' });
    expect(gs1Date('280200', 2026)?.iso).toBe('2028-02-29');
    expect(gs1Date('270200', 2026)?.iso).toBe('2027-02-28');
  });
});

describe('dates on labels', () => {
  // ISO 8601: the days of a year are numbered from 001 to 365, or 366 in a leap year.
  test.each([
    [2026, 0, null],
    [2026, 1, '2026-01-01'],
    [2026, 31, '2026-01-31'],
    [2026, 32, '2026-02-01'],
    [2026, 60, '2026-03-01'],
    [2028, 60, '2028-02-29'],
    [2026, 365, '2026-12-31'],
    [2026, 366, null],
    [2028, 366, '2028-12-31'],
  ])('in %d, day %d is %s', (year, dayOfYear, iso) => {
    expect(ordinalDate({ year, dayOfYear })?.iso ?? null).toBe(iso);
  });

  test('an hour is kept in its precision, and there is none after 23', () => {
    const day = { year: 2026, month: 4, day: 30 };
    expect(labelDate(day)).toEqual({ iso: '2026-04-30', statedTo: 'day' });
    expect(labelDate({ ...day, hour: 23 })).toEqual({ iso: '2026-04-30', statedTo: 'hour' });
    expect(labelDate({ ...day, hour: 24 })).toBeNull();
    expect(labelDate({ ...day, day: 31 })).toBeNull();
    expect(ordinalDate({ year: 2026, dayOfYear: 120, hour: 24 })).toBeNull();
  });
});

describe('GS1 labels', () => {
  test('the UDI example of the US Core profile', () => {
    // HL7 US Core implementation guide, example Device-udi-1.
    const label = read('(01)09504000059118(17)141120(10)7654321D(21)10987654d321');
    expect(label).toMatchObject({
      issuer: 'GS1',
      deviceIdentifier: '09504000059118',
      expiry: '2014-11-20',
      lot: '7654321D',
      serial: '10987654d321',
      problems: [],
    });
  });

  test('a public UDI example with production date', () => {
    // From a public guide to device labels; the check digit 6 was confirmed by hand.
    const text = '(01)51022222233336(11)141231(17)150707(10)A213B1(21)1234';
    expect(read(text)).toMatchObject({
      deviceIdentifier: '51022222233336',
      produced: '2014-12-31',
      expiry: '2015-07-07',
      lot: 'A213B1',
      serial: '1234',
      problems: [],
    });
  });

  test('a wrong check digit is told, and the digits are still shown for comparison', () => {
    const label = read('(01)09504000059119(10)A1');
    expect(label.deviceIdentifier).toBe('09504000059119');
    expect(label.problems).toEqual(['(01) check digit is wrong in 09504000059119']);
  });

  test('a lot without an identifier asks for the other code', () => {
    expect(read('(10)LOT7').problems).toEqual(['no device identifier (01) in this code']);
  });

  test.each([
    [']d1010950400005911810A', 'symbol ]d1 carries neither a GS1 nor an HIBC label'],
    ['(01)09504000059118(17)271301', '(17) expiry date "271301" is not a date'],
    ['(01)09504000059118(10)A(10)B', '(10) appears twice and differs'],
    ['(01)09504000059118(21)A(235)B', '(21) and (235) exclude each other'],
    ['(01)09504000059118(10)A B\u00e9', 'the text holds characters that no label code has'],
    ['hello', 'neither a GS1 nor an HIBC label'],
    [']d20109504000059118XX', 'no known application identifier at "XX"'],
    ['(01)09504000059118(3106)123456', '(3106) is not a known application identifier'],
  ])('%j: %s', (text, problem) => {
    expect(read(text).problems).toContain(problem);
  });

  // GS1 Barcode Syntax Dictionary, commit f7e477f: 8014 names the master record of a device, 716 is
  // a national number, 7250 to 7259 tell of a person.
  test.each(['(8014)ABC12', '(716)A1', '(7041)1A', '(7250)20000101', '(7258)1/2', '(7259)A'])(
    'an identifier that came with a later release is no fault: %s',
    (more) => {
      const [, ai = '', data = ''] = /^\((\d+)\)(.+)$/.exec(more) ?? [];
      const scan = `]d201095040000591181727123110LOT\u001d${ai}${data}`;
      expect(read(scan)).toMatchObject({ lot: 'LOT', expiry: '2027-12-31', problems: [] });
      expect(read(`(01)09504000059118(17)271231(10)LOT${more}`).problems).toEqual([]);
    },
  );

  test('line ends that a scanner adds do not belong to the lot', () => {
    expect(read(']d201095040000591181727123110LOT9\r\n')).toMatchObject({
      lot: 'LOT9',
      problems: [],
    });
  });

  test('any lot survives the way through a scan', () => {
    const lot = fc.stringMatching(/^[A-Za-z0-9\-/.]{1,20}$/);
    fc.assert(
      fc.property(lot, lot, (lotText, serial) => {
        const scan = `]d2010950400005911810${lotText}\u001d21${serial}`;
        expect(read(scan)).toMatchObject({ lot: lotText, serial, problems: [] });
      }),
    );
  });
});

// Every vector's source is named in vectors/hibc.json.
describe('HIBC labels', () => {
  test.each(hibc.check)('%s has the check character %s (sum %i)', (message, check, sum) => {
    expect(hibcCheckCharacter(String(message))).toBe(check);
    expect(Number(sum) % 43).toBe(
      '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-. $/+%'.indexOf(String(check)),
    );
    expect(read(`${message}${check}`).problems).toEqual([]);
  });

  test('the widely copied example reads well but its check character is told to be wrong', () => {
    const { text, computed: right } = hibc.wrongCheck;
    const label = read(text);
    expect(label).toMatchObject({
      issuer: 'HIBC',
      deviceIdentifier: 'H123PARTNO1234567890120',
      lot: 'LOT123456789012345',
      serial: 'XYZ456789012345678',
      expiry: '2020-02-02',
      produced: '2013-02-02',
    });
    expect(label.problems).toEqual([`check character is "C", should be "${right}"`]);
    expect(read(text.slice(0, -1) + right).problems).toEqual([]);
  });

  test.each(hibc.secondary)('+%s holds %s, %s', (secondary, expiry, lot) => {
    const alone = `+${secondary}L`;
    const label = read(`${alone}${checkByTable(alone)}`);
    expect(label).toMatchObject({ issuer: 'HIBC', deviceIdentifier: null, expiry, lot });
    expect(label.problems).toEqual([
      'no product identifier in this code: scan the primary code too',
    ]);
    const joined = `+A123BJC5D6E71/${secondary}`;
    expect(read(`${joined}${checkByTable(joined)}`)).toMatchObject({
      deviceIdentifier: 'A123BJC5D6E71',
      expiry,
      lot,
      problems: [],
    });
  });

  test('a slash as check character and a blank printed as underscore are understood', () => {
    const withCheck = (wanted: string): string => {
      for (let product = 0; product < 1000; product += 1) {
        const message = `+A999${product}0`;
        if (checkByTable(message) === wanted) return message;
      }
      throw new Error('none found');
    };
    const slash = withCheck('/');
    expect(read(`${slash}/`)).toMatchObject({ deviceIdentifier: slash.slice(1), problems: [] });
    const blank = withCheck(' ');
    expect(read(`${blank} `)).toMatchObject({ deviceIdentifier: blank.slice(1), problems: [] });
    expect(read(`*${blank}_*`)).toMatchObject({ deviceIdentifier: blank.slice(1), problems: [] });
  });

  test('a serial number after $+ or $$+', () => {
    const one = '+A99912345/$+SN77';
    expect(read(one + checkByTable(one))).toMatchObject({
      serial: 'SN77',
      lot: null,
      problems: [],
    });
    const two = '+A99912345/$$+3270131SN78';
    expect(read(two + checkByTable(two))).toMatchObject({
      serial: 'SN78',
      expiry: '2027-01-31',
      problems: [],
    });
  });

  test.each([
    ['+A99912345/$$3271332X', 'expiry date "271332" is not a date'],
    ['+A99912345/$$3270100X', 'expiry date "270100" is not a date'],
    ['+A99912345/$$527366X', 'expiry date "27366" is not a date'],
    ['+A99912345/$$8A5', 'quantity "A5" is not a number of 2 digits'],
    ['+A99912345/$$X', '"X" announces no known form of date'],
    ['+A99912345/$$3270131L1/14D20270228', 'expiry date appears twice and differs'],
    ['+A99912345/$L1/$L2', 'lot appears twice and differs'],
    ['+A99912345/$+S1/SS2', 'serial number appears twice and differs'],
    ['+A99912345/ZZ', '"ZZ" has no known meaning'],
    ['+A99912345/$L1/Q5X', '"Q5X" has no known meaning'],
    ['+A99912345/$L1/XQ5', '"XQ5" has no known meaning'],
    ['+A99912345/$$3271332X/Q', '"Q" has no known meaning'],
    ['+A99/$X', '"A99" is not a product identifier'],
    ['+A99912345/$', '"" must have 1 to 18 characters'],
  ])('%s: %s', (message, problem) => {
    expect(read(message + checkByTable(message)).problems).toContain(problem);
  });

  test('the same said twice is nothing wrong', () => {
    // A date of month and year means its last day, which the long form then names.
    const twice = '+A99912345/$$0927L1/14D20270930/$L1';
    expect(read(twice + checkByTable(twice))).toMatchObject({
      lot: 'L1',
      expiry: '2027-09-30',
      problems: [],
    });
  });

  test('small letters are outside the alphabet', () => {
    expect(read('+a99912345X').problems).toContain('a character is not allowed in an HIBC label');
  });

  test('any single wrong character is noticed', () => {
    const message = '+A99912345/$$52001510X33';
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: message.length - 1 }),
        fc.constantFrom(...'0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ'),
        (at, other) => {
          if (message[at] === other) return;
          const wrong = message.slice(0, at) + other + message.slice(at + 1);
          expect(read(wrong).problems.length).toBeGreaterThan(0);
        },
      ),
    );
  });
});

describe('the udi figure', () => {
  test('answers with the fixed keys', () => {
    const text = ']d2010950400005911817141120107654321D\u001d2110987654d321';
    expect(computed(udiCalc, { text, presentYear: 2026 })).toMatchObject({
      issuer: 'GS1',
      deviceIdentifier: '09504000059118',
      lot: '7654321D',
      expiry: '2014-11-20',
      serial: '10987654d321',
      problems: [],
    });
  });

  test('never throws and never fills in facts of text that is no label', () => {
    fc.assert(
      fc.property(fc.string({ minLength: 1, maxLength: 60 }), (text) => {
        const label = read(text);
        if (label.issuer === null) expect(label.problems).toHaveLength(1);
        for (const line of label.problems) expect(line).not.toContain('\n');
      }),
      { numRuns: 500 },
    );
  });

  test('refuses what is no text', () => {
    expect(refused(udiCalc, { text: 7, presentYear: 2026 })).toBe(
      'calc.udi.text: expected text of 1 to 500 characters, got 7',
    );
    expect(refused(udiCalc, { text: '   ', presentYear: 2026 })).toContain('calc.udi.text');
  });
});
