/** Crockford's base 32: what people read, copy and type. `I` and `L` are read as 1, `O` as 0; there is no `U`. */
import type { Bytes } from './store-types.ts';

const DIGITS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const DIGIT_BITS = 5;
const BYTE_BITS = 8;
export const GROUP_LENGTH = 4;

/** Five bytes give eight digits; what is left over is filled up with zero bits. */
export function toCrockford(bytes: Uint8Array): string {
  let text = '';
  let held = 0;
  let bits = 0;
  for (const byte of bytes) {
    held = ((held << BYTE_BITS) | byte) & 0xfff;
    bits += BYTE_BITS;
    for (; bits >= DIGIT_BITS; bits -= DIGIT_BITS) {
      text += DIGITS[(held >> (bits - DIGIT_BITS)) & 31];
    }
  }
  return bits === 0 ? text : text + DIGITS[(held << (DIGIT_BITS - bits)) & 31];
}

/** The digits of what was typed: blanks and hyphens do not count. Null where something else stands in it. */
export function typedDigits(text: string): string | null {
  const digits = text
    .toUpperCase()
    .replaceAll(/[\s-]/g, '')
    .replaceAll(/[IL]/g, '1')
    .replaceAll('O', '0');
  return [...digits].every((digit) => DIGITS.includes(digit)) ? digits : null;
}

/** The bytes of digits, as {@link typedDigits} gives them; what is left over of the last digit is dropped. */
export function fromCrockford(digits: string): Bytes {
  const bytes = new Uint8Array(Math.floor((digits.length * DIGIT_BITS) / BYTE_BITS));
  let held = 0;
  let bits = 0;
  let at = 0;
  for (const digit of digits) {
    held = ((held << DIGIT_BITS) | DIGITS.indexOf(digit)) & 0xfff;
    bits += DIGIT_BITS;
    if (bits < BYTE_BITS) continue;
    bits -= BYTE_BITS;
    bytes[at] = (held >> bits) & 0xff;
    at += 1;
  }
  return bytes;
}

/** `ABCD EFGH`: in groups of four. */
export const inGroups = (digits: string, between = ' '): string =>
  (digits.match(/.{1,4}/g) ?? []).join(between);
