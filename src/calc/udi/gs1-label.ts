/**
 * What a GS1 label says about a device: identifier, lot, expiry, serial. Every fault becomes a line
 * of plain words; a wrong check digit is never taken over in silence.
 */
import { type Gs1Element, gs1Date, gs1Elements, hasRightCheckDigit } from './gs1.ts';
import type { DeviceLabel } from './label.ts';
import type { LabelDate } from './label-date.ts';

const DATE_AIS: Readonly<Record<string, string>> = {
  '11': 'production date',
  '12': 'due date',
  '13': 'packaging date',
  '15': 'best-before date',
  '16': 'sell-by date',
  '17': 'expiry date',
};

/** AIs that must not stand beside each other on one item. */
const EXCLUSIVE: readonly (readonly [string, string])[] = [
  ['01', '02'],
  ['01', '37'],
  ['01', '255'],
  ['21', '235'],
];

function dataOf(elements: readonly Gs1Element[], ai: string): string | null {
  return elements.find((element) => element.ai === ai)?.data ?? null;
}

function clashes(elements: readonly Gs1Element[]): string[] {
  const faults: string[] = [];
  const values = new Map<string, string>();
  for (const { ai, data } of elements) {
    const before = values.get(ai);
    if (before !== undefined && before !== data) faults.push(`(${ai}) appears twice and differs`);
    values.set(ai, data);
  }
  for (const [a, b] of EXCLUSIVE) {
    if (values.has(a) && values.has(b)) faults.push(`(${a}) and (${b}) exclude each other`);
  }
  return faults;
}

function dateFaults(elements: readonly Gs1Element[], presentYear: number): string[] {
  return elements
    .filter(({ ai, data }) => DATE_AIS[ai] !== undefined && gs1Date(data, presentYear) === null)
    .map(({ ai, data }) => `(${ai}) ${DATE_AIS[ai]} "${data}" is not a date`);
}

function identifierFaults(identifier: string | null): string[] {
  if (identifier === null) return ['no device identifier (01) in this code'];
  return /^\d{14}$/.test(identifier) && !hasRightCheckDigit(identifier)
    ? [`(01) check digit is wrong in ${identifier}`]
    : [];
}

/** Reads the element strings of one scan or one bracketed text. */
export function readGs1(text: string, presentYear: number): DeviceLabel {
  const { elements, problems } = gs1Elements(text);
  const date = (ai: string): LabelDate | null => gs1Date(dataOf(elements, ai) ?? '', presentYear);
  const expiry = date('17');
  const identifier = dataOf(elements, '01');
  return {
    issuer: 'GS1',
    deviceIdentifier: identifier,
    lot: dataOf(elements, '10'),
    expiry: expiry?.iso ?? null,
    expiryStatedTo: expiry?.statedTo ?? null,
    produced: date('11')?.iso ?? null,
    serial: dataOf(elements, '21'),
    additionalIdentifier: dataOf(elements, '240'),
    problems: [
      ...problems,
      ...identifierFaults(identifier),
      ...dateFaults(elements, presentYear),
      ...clashes(elements),
    ],
  };
}
