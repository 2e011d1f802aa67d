/**
 * Labels that come as two codes, the device in one and lot and expiry in the other, read together;
 * and what can be said against a label beyond its own rules.
 */
import type { DeviceLabel } from '../../calc/udi/label.ts';
import { isMissing, type LabelFault } from '../../calc/udi/label-fault.ts';
import { readDeviceLabel } from '../../calc/udi/udi.ts';
import { GROUP_SEPARATOR } from './scanner.ts';

export interface ScannedLabel {
  readonly label: DeviceLabel;
  /** The codes as scanned, with a line feed between two. */
  readonly text: string;
  /** False while the device or the lot is still missing and another code may bring it. */
  readonly isWhole: boolean;
}

/** Every scan of a label that spreads over more than this many codes is a mistake. */
const CODES_MAX = 3;

const bare = (text: string): string => text.replace(/[\r\n\t]+$/, '').replace(/^\][A-Za-z]\w/, '');

/** An expiry and serial that hide in a lot, because the scanner left the separators out. */
function swallowed(label: DeviceLabel): LabelFault[] {
  const isSuspect =
    label.issuer === 'GS1' &&
    label.lot !== null &&
    label.expiry === null &&
    /17\d{2}(0[1-9]|1[0-2])([0-2]\d|3[01])/.test(label.lot);
  return isSuspect ? [{ code: 'separators-left-out' }] : [];
}

/** A secondary HIBC code ends in the check character of the code it belongs to, and its own. */
function belongTogether(primary: string, secondary: string): boolean {
  return secondary.at(-2) === primary.at(-1);
}

function joinHibc(texts: readonly string[], presentYear: number): DeviceLabel | null {
  const codes = texts.map((text) => ({ text, label: readDeviceLabel({ text, presentYear }) }));
  const primary = codes.find(({ label }) => label.deviceIdentifier !== null);
  const secondary = codes.find((code) => code !== primary);
  if (primary === undefined || secondary === undefined) return null;
  const { lot, serial, expiry, expiryStatedTo, produced, faults } = secondary.label;
  const joined: LabelFault[] = belongTogether(bare(primary.text), bare(secondary.text))
    ? []
    : [{ code: 'codes-apart' }];
  return {
    ...primary.label,
    lot: lot ?? primary.label.lot,
    serial: serial ?? primary.label.serial,
    expiry: expiry ?? primary.label.expiry,
    expiryStatedTo: expiryStatedTo ?? primary.label.expiryStatedTo,
    produced: produced ?? primary.label.produced,
    faults: [...primary.label.faults, ...faults.filter((fault) => !isMissing(fault)), ...joined],
  };
}

function joined(texts: readonly string[], presentYear: number): DeviceLabel {
  const isHibc = texts.every((text) => /^\*?\+/.test(bare(text)));
  const together = isHibc && texts.length > 1 ? joinHibc(texts, presentYear) : null;
  if (together !== null) return together;
  const text = texts.length > 1 ? texts.map(bare).join(GROUP_SEPARATOR) : (texts[0] ?? '');
  return readDeviceLabel({ text, presentYear });
}

/**
 * Reads the codes of one label in the order they were scanned. The same code twice counts once.
 * A code of another kind than the first begins a new label.
 */
export function readScans(
  scans: readonly string[],
  o: { readonly presentYear: number },
): ScannedLabel {
  const distinct = [...new Set(scans)].slice(-CODES_MAX);
  const label = joined(distinct, o.presentYear);
  const isWhole = label.deviceIdentifier !== null && label.lot !== null;
  return {
    label: { ...label, faults: [...label.faults, ...swallowed(label)] },
    text: distinct.map((text) => text.replace(/[\r\n\t]+$/, '')).join('\n'),
    isWhole,
  };
}

/** Whether one code is a label, or a part of one, in which nothing is wrong. */
export function isSoundLabel(text: string, o: { readonly presentYear: number }): boolean {
  const { label } = readScans([text], o);
  return label.issuer !== null && label.faults.every(isMissing);
}
