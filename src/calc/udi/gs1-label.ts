/**
 * What a GS1 label says about a device: identifier, lot, expiry, serial. Every fault is
 * told; a wrong check digit is never taken over in silence.
 */
import { type Gs1Element, gs1Date, gs1Elements, hasRightCheckDigit } from './gs1.ts';
import type { DeviceLabel } from './label.ts';
import type { LabelDate } from './label-date.ts';
import type { LabelFact, LabelFault } from './label-fault.ts';

const DATE_AIS: Readonly<Record<string, LabelFact>> = {
  '11': 'produced',
  '12': 'due',
  '13': 'packaged',
  '15': 'best-before',
  '16': 'sell-by',
  '17': 'expiry',
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

function clashes(elements: readonly Gs1Element[]): LabelFault[] {
  const faults: LabelFault[] = [];
  const values = new Map<string, string>();
  for (const { ai, data } of elements) {
    const before = values.get(ai);
    if (before !== undefined && before !== data) faults.push({ code: 'ai-twice', ai });
    values.set(ai, data);
  }
  for (const [a, b] of EXCLUSIVE) {
    if (values.has(a) && values.has(b)) faults.push({ code: 'ai-excludes', ai: a, other: b });
  }
  return faults;
}

function dateFaults(elements: readonly Gs1Element[], presentYear: number): LabelFault[] {
  return elements.flatMap(({ ai, data }): LabelFault[] => {
    const of = DATE_AIS[ai];
    return of === undefined || gs1Date(data, presentYear) !== null
      ? []
      : [{ code: 'ai-date', ai, of, data }];
  });
}

function identifierFaults(identifier: string | null): LabelFault[] {
  if (identifier === null) return [{ code: 'no-device' }];
  return /^\d{14}$/.test(identifier) && !hasRightCheckDigit(identifier)
    ? [{ code: 'check-digit', identifier }]
    : [];
}

/** Reads the element strings of one scan or one bracketed text. */
export function readGs1(text: string, presentYear: number): DeviceLabel {
  const { elements, faults } = gs1Elements(text);
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
    faults: [
      ...faults,
      ...identifierFaults(identifier),
      ...dateFaults(elements, presentYear),
      ...clashes(elements),
    ],
  };
}
