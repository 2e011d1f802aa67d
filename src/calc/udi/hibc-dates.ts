/**
 * The part of an HIBC secondary label that starts after `$$`: an optional quantity, an expiry date
 * in one of seven forms, and the lot or serial number that is left (ANSI/HIBC 2.x, Supplier
 * Labeling Standard; forms as listed by the open-source BWIPP project).
 */

import { fullYear, type LabelDate, labelDate, ordinalDate } from './label-date.ts';
import type { LabelFault } from './label-fault.ts';

export interface DatedText {
  readonly expiry: LabelDate | null;
  readonly quantity: number | null;
  /** What follows quantity and date: a lot or serial number, possibly empty. */
  readonly rest: string;
  readonly faults: readonly LabelFault[];
}

interface DateForm {
  readonly digits: number;
  readonly read: (digits: string, presentYear: number) => LabelDate | null;
}

function part(digits: string, from: number): number {
  return Number(digits.slice(from, from + 2));
}

function yearAt(digits: string, from: number, presentYear: number): number {
  return fullYear({ twoDigit: part(digits, from), present: presentYear });
}

const MONTH_YEAR: DateForm = {
  digits: 4,
  read: (d, now) => labelDate({ year: yearAt(d, 2, now), month: part(d, 0) }),
};

/** Five digits YYJJJ; also a secondary label that starts with no `$` at all. */
export const YEAR_DAY: DateForm = {
  digits: 5,
  read: (d, now) => ordinalDate({ year: yearAt(d, 0, now), dayOfYear: Number(d.slice(2, 5)) }),
};

/** Forms by the digit that announces them; 0 and 1 belong to the month of MMYY themselves. */
const FORMS: Readonly<Record<string, DateForm>> = {
  '2': {
    digits: 6,
    read: (d, now) => dayStated({ year: yearAt(d, 4, now), month: part(d, 0), day: part(d, 2) }),
  },
  '3': {
    digits: 6,
    read: (d, now) => dayStated({ year: yearAt(d, 0, now), month: part(d, 2), day: part(d, 4) }),
  },
  '4': {
    digits: 8,
    read: (d, now) =>
      dayStated({
        year: yearAt(d, 0, now),
        month: part(d, 2),
        day: part(d, 4),
        hour: part(d, 6),
      }),
  },
  '5': YEAR_DAY,
  '6': {
    digits: 7,
    read: (d, now) =>
      ordinalDate({
        year: yearAt(d, 0, now),
        dayOfYear: Number(d.slice(2, 5)),
        hour: part(d, 5),
      }),
  },
};

/** HIBC knows no day 00: a form with a day must state one. */
function dayStated(parts: Parameters<typeof labelDate>[0]): LabelDate | null {
  return parts.day === 0 ? null : labelDate(parts);
}

const NO_DATE = '7';
const QUANTITY_DIGITS: Readonly<Record<string, number>> = { '8': 2, '9': 5 };

/** Takes a date of one form from the start of some text. */
export function takeDate(text: string, form: DateForm, presentYear: number): DatedText {
  const digits = text.slice(0, form.digits);
  const isWhole = digits.length === form.digits && /^\d+$/.test(digits);
  const expiry = isWhole ? form.read(digits, presentYear) : null;
  return {
    expiry,
    quantity: null,
    rest: isWhole ? text.slice(form.digits) : text,
    faults: expiry === null ? [{ code: 'expiry-date', digits }] : [],
  };
}

function takeAnnouncedDate(text: string, presentYear: number): DatedText {
  const digit = text.charAt(0);
  const form = FORMS[digit];
  if (form !== undefined) return takeDate(text.slice(1), form, presentYear);
  if (digit === '0' || digit === '1') return takeDate(text, MONTH_YEAR, presentYear);
  if (digit === NO_DATE) return { expiry: null, quantity: null, rest: text.slice(1), faults: [] };
  return { expiry: null, quantity: null, rest: text, faults: [{ code: 'date-form', digit }] };
}

/** Reads what follows `$$` or `$$+`. */
export function readDated(text: string, presentYear: number): DatedText {
  const quantityDigits = QUANTITY_DIGITS[text.charAt(0)];
  if (quantityDigits === undefined) return takeAnnouncedDate(text, presentYear);
  const digits = text.slice(1, 1 + quantityDigits);
  const after = text.slice(1 + quantityDigits);
  if (!new RegExp(`^\\d{${quantityDigits}}$`).test(digits)) {
    const fault: LabelFault = { code: 'quantity', digits, length: quantityDigits };
    return { expiry: null, quantity: null, rest: after, faults: [fault] };
  }
  const quantity = Number(digits);
  // A quantity may stand alone, without date and lot.
  if (after === '') return { expiry: null, quantity, rest: '', faults: [] };
  return { ...takeAnnouncedDate(after, presentYear), quantity };
}
