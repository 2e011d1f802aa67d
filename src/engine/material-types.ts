/** What was taken from the stock for a case, and which shades were tried. */

/** One lot from the stock, as it was when it was taken for a case. Generic class, own label. */
export interface MaterialLot {
  readonly materialClass: string;
  readonly label: string;
  readonly lot: string;
  /** ISO 8601 date; the last day of the month where the label names none. */
  readonly expiry?: string;
  readonly openedOn?: string;
  /** ISO 8601 date, the last day of use after opening; left out where the label ends no later. */
  readonly useBy?: string;
  /** The label as it was scanned, and how. */
  readonly scanned?: { readonly text: string; readonly issuer: string };
  readonly deviceIdentifier?: string;
  readonly serial?: string;
  /** What was said about it when it was taken: expired, opened too long, recalled, still cold. */
  readonly warnings: readonly string[];
}

/** One trial of a shade, for one unit or for the whole set. */
export interface ShadeTrial {
  /** `case` for the set, or a unit. */
  readonly subject: string;
  readonly paste: string;
  readonly modifier?: string;
  readonly sharePercent?: number;
  readonly judgedBy: string;
  readonly result: 'accepted' | 'too-light' | 'too-dark' | 'other';
  readonly note?: string;
}
