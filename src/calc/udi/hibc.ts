/**
 * Reads HIBC supplier labels (ANSI/HIBC 2.x): a primary code that names the product, a secondary
 * code with lot and expiry, or both joined by "/". The last character checks the rest modulo 43.
 */
import { type DatedText, readDated, takeDate, YEAR_DAY } from './hibc-dates.ts';
import type { DeviceLabel } from './label.ts';
import { labelDate } from './label-date.ts';
import type { LabelFault } from './label-fault.ts';

const ALPHABET = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-. $/+%';

/**
 * The check character of an HIBC message without its own check character: the sum of the values of
 * all characters, the leading "+" included, modulo 43. Null when a character is outside the alphabet.
 */
export function hibcCheckCharacter(message: string): string | null {
  let sum = 0;
  for (const character of message) {
    const value = ALPHABET.indexOf(character);
    if (value === -1) return null;
    sum += value;
  }
  return ALPHABET.charAt(sum % ALPHABET.length);
}

interface HibcParts {
  deviceIdentifier: string | null;
  lot: string | null;
  serial: string | null;
  expiry: DeviceLabel['expiry'];
  expiryStatedTo: DeviceLabel['expiryStatedTo'];
  produced: string | null;
  faults: LabelFault[];
}

/** Labeler code of four characters, product number of 1 to 18, one digit for the unit of measure. */
const PRIMARY = /^[A-Z][A-Z0-9]{3}[A-Z0-9]{1,18}\d$/;

function takePrimary(text: string, facts: HibcParts): void {
  facts.deviceIdentifier = text;
  if (!PRIMARY.test(text)) facts.faults.push({ code: 'product-form', text });
}

/** A label that says one thing twice and differently is not to be believed in either. */
function take(
  facts: HibcParts,
  key: 'lot' | 'serial' | 'expiry' | 'produced',
  value: string,
): void {
  const before = facts[key];
  if (before !== null && before !== value) facts.faults.push({ code: 'twice', of: key });
  facts[key] = value;
}

function takeDated(dated: DatedText, facts: HibcParts, holds: 'lot' | 'serial'): void {
  if (dated.expiry !== null) {
    take(facts, 'expiry', dated.expiry.iso);
    facts.expiryStatedTo = dated.expiry.statedTo;
  }
  if (dated.rest !== '') take(facts, holds, dated.rest);
  facts.faults.push(...dated.faults);
}

/** Eight digits YYYYMMDD as the data identifiers 14D (expiry) and 16D (production) carry. */
function longDate(digits: string) {
  if (!/^\d{8}$/.test(digits)) return null;
  const day = Number(digits.slice(6, 8));
  const month = Number(digits.slice(4, 6));
  return day === 0 ? null : labelDate({ year: Number(digits.slice(0, 4)), month, day });
}

function takeSecondary(text: string, facts: HibcParts, presentYear: number): void {
  if (text.startsWith('$$+')) takeDated(readDated(text.slice(3), presentYear), facts, 'serial');
  else if (text.startsWith('$$')) takeDated(readDated(text.slice(2), presentYear), facts, 'lot');
  else if (text.startsWith('$+')) take(facts, 'serial', text.slice(2));
  else if (text.startsWith('$')) take(facts, 'lot', text.slice(1));
  else if (/^\d{5}/.test(text)) takeDated(takeDate(text, YEAR_DAY, presentYear), facts, 'lot');
  else takeSupplement(text, facts);
}

function takeSupplement(text: string, facts: HibcParts): void {
  if (text.startsWith('14D') || text.startsWith('16D')) {
    const date = longDate(text.slice(3));
    if (date === null) facts.faults.push({ code: 'date', text });
    else if (text.startsWith('16D')) take(facts, 'produced', date.iso);
    else takeDated({ expiry: date, quantity: null, rest: '', faults: [] }, facts, 'lot');
  } else if (text.startsWith('S')) take(facts, 'serial', text.slice(1));
  else if (!/^Q\d+$/.test(text)) facts.faults.push({ code: 'meaning', text });
}

const LOT_LENGTH_MAX = 18;

function lengthFaults(facts: HibcParts): LabelFault[] {
  return [facts.lot, facts.serial]
    .filter((value) => value !== null)
    .filter((value) => value.length === 0 || value.length > LOT_LENGTH_MAX)
    .map((text) => ({ code: 'length', text, max: LOT_LENGTH_MAX }));
}

function checkFault(text: string): LabelFault[] {
  const right = hibcCheckCharacter(text.slice(0, -1));
  if (right === null) return [{ code: 'character' }];
  const given = text.slice(-1);
  return right === given ? [] : [{ code: 'check-character', given, right }];
}

/** Printed captions stand between asterisks and show a blank check character as an underscore. */
function withoutCaption(text: string): string {
  const bare = /^\*(.+)\*$/.exec(text)?.[1] ?? text;
  return bare.replace(/_$/, ' ');
}

/**
 * Reads one HIBC message, the check character included.
 * @param text starts with "+", possibly between the asterisks of a printed caption.
 */
export function readHibc(text: string, presentYear: number): DeviceLabel {
  const message = withoutCaption(text);
  const facts: HibcParts = {
    deviceIdentifier: null,
    lot: null,
    serial: null,
    expiry: null,
    expiryStatedTo: null,
    produced: null,
    faults: checkFault(message),
  };
  const body = message.slice(1, -1);
  if (/^[A-Z]/.test(body)) {
    const [primary = '', ...others] = body.split('/');
    takePrimary(primary, facts);
    for (const other of others) takeSecondary(other, facts, presentYear);
  } else {
    // A secondary code on its own ends in the primary's check character, which links the two.
    takeSecondary(body.slice(0, -1), facts, presentYear);
    facts.faults.push({ code: 'no-product' });
  }
  const faults = [...facts.faults, ...lengthFaults(facts)];
  return { issuer: 'HIBC', additionalIdentifier: null, ...facts, faults };
}
