/** From a label as it was read, or as people typed it, to what a record says of a material. */
import { gs1Elements } from '../../src/calc/udi/gs1.ts';
import type { DeviceLabel } from '../../src/calc/udi/label.ts';
import { faultLine } from '../../src/calc/udi/label-fault.ts';
import type { MaterialUse } from '../../src/export/export-source.ts';

const SYMBOLOGY = /^\][A-Za-z]\w/;

/** A scanned GS1 code with its application identifiers in brackets; other codes as they are. */
function humanReadable(issuer: MaterialUse['issuer'], text: string): string {
  const bare = text.replace(SYMBOLOGY, '');
  if (issuer !== 'GS1' || bare.startsWith('(')) return bare;
  return gs1Elements(bare)
    .elements.map(({ ai, data }) => `(${ai})${data}`)
    .join('');
}

/** A date that a label states to the month only is told to the month only. */
function expiryOf({ expiry, expiryStatedTo }: DeviceLabel): string | null {
  return expiryStatedTo === 'month' ? (expiry?.slice(0, 7) ?? null) : expiry;
}

/**
 * What a record says of a material whose label was read.
 * @param read.text the text as it was scanned or typed.
 * @returns the use; a label with problems keeps its text and has them as remarks, but its device
 *   identifier is not passed on.
 */
export function materialUse(
  read: { readonly label: DeviceLabel; readonly text: string; readonly isScanned: boolean },
  about: Pick<MaterialUse, 'slot' | 'materialClass' | 'usedFor'> & {
    readonly ownLabel: string;
    readonly remarks?: readonly string[];
  },
): MaterialUse {
  const { label, text, isScanned } = read;
  const isSound = label.faults.length === 0;
  return {
    slot: about.slot,
    materialClass: about.materialClass,
    label: about.ownLabel,
    lot: label.lot,
    expiresOn: expiryOf(label),
    producedOn: label.produced,
    serial: label.serial,
    issuer: isSound ? label.issuer : null,
    deviceIdentifier: isSound ? label.deviceIdentifier : null,
    carrier: { humanReadable: humanReadable(label.issuer, text), scanned: isScanned ? text : null },
    entry: isScanned ? 'barcode' : 'manual',
    usedFor: about.usedFor,
    remarks: [...label.faults.map(faultLine), ...(about.remarks ?? [])],
  };
}
