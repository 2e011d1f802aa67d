import type { LabelFault } from './label-fault.ts';

/** What a machine-readable label of a material says. Missing facts are null. */
export interface DeviceLabel {
  /** Whose rules the label follows; null when it follows none that is known here. */
  readonly issuer: 'GS1' | 'HIBC' | null;
  /** GTIN of 14 digits, or labeler code + product number + unit of measure. */
  readonly deviceIdentifier: string | null;
  readonly lot: string | null;
  /** ISO 8601 date; the last day of the month when the label states no day. */
  readonly expiry: string | null;
  readonly expiryStatedTo: 'month' | 'day' | 'hour' | null;
  /** Production date, ISO 8601. */
  readonly produced: string | null;
  readonly serial: string | null;
  /** A further product code that the maker added. */
  readonly additionalIdentifier: string | null;
  /** Empty when nothing is wrong. */
  readonly faults: readonly LabelFault[];
}

/** A label that could not be read at all. */
export function unreadLabel(fault: LabelFault): DeviceLabel {
  return {
    issuer: null,
    deviceIdentifier: null,
    lot: null,
    expiry: null,
    expiryStatedTo: null,
    produced: null,
    serial: null,
    additionalIdentifier: null,
    faults: [fault],
  };
}
