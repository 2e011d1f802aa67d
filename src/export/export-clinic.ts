/**
 * What a clinic says about the files that its records are handed on in: nothing of it is ever made up.
 * Whatever was not set, or cannot be read, is left out of the file.
 */
import { type OpeningHours, openingHours } from './opening-hours.ts';

interface ProcedureCodes {
  /** URI of the code system (HL7 FHIR R4, Coding.system). */
  readonly system: string;
  /** By the kind of restoration in lower case; `*` for every other kind. */
  readonly codes: ReadonlyMap<string, string>;
}

export interface ExportClinic {
  /** URI of the system that the clinic's chart references are unique in; null where none was set. */
  readonly chartSystem: string | null;
  readonly procedure: ProcedureCodes | null;
  /** Whether tables begin with a byte-order mark. */
  readonly byteOrderMark: boolean;
  readonly hours: OpeningHours | null;
}

export const NO_CLINIC: ExportClinic = {
  chartSystem: null,
  procedure: null,
  byteOrderMark: false,
  hours: null,
};

/** What of it stands in the settings of a tablet, as people write it. */
export interface FilingSettings {
  readonly chartSystem: string;
  readonly procedureSystem: string;
  /** One line each: `veneer = CODE`. */
  readonly procedureCodes: string;
  readonly byteOrderMark: boolean;
  /** Monday first, `08:00-12:30, 14:00-18:00`; empty where closed. */
  readonly openingHours: readonly string[];
}

const OID = /^urn:oid:[0-2](\.(0|[1-9]\d*))+$/;
const UUID = /^urn:uuid:[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
const WEB = /^https?:\/\/[^\s/?#]+\.?[^\s<>"{}|\\^`]*$/;
const OTHER = /^(?!urn:(?:oid|uuid):|https?:)[a-z][a-z0-9+.-]*:[^\s<>"{}|\\^`]+$/;

/** An absolute URI (RFC 3986), with the forms of OIDs and UUIDs that R4 writes; null for anything else. */
export function absoluteUri(text: string): string | null {
  const uri = text.trim();
  return [OID, UUID, WEB, OTHER].some((form) => form.test(uri)) ? uri : null;
}

/** R4, datatype code: no white space at either end, single spaces within. */
const CODE = /^\S+( \S+)*$/;

/** The codes of a text; else the number of the first line, from 1, that cannot be read or comes twice. */
export function procedureCodes(text: string): ReadonlyMap<string, string> | number {
  const codes = new Map<string, string>();
  for (const [i, line] of text.split('\n').entries()) {
    if (line.trim() === '') continue;
    const at = line.lastIndexOf('=');
    const kind = line.slice(0, Math.max(0, at)).trim().toLowerCase();
    const code = line.slice(at + 1).trim();
    if (kind === '' || !CODE.test(code) || codes.has(kind)) return i + 1;
    codes.set(kind, code);
  }
  return codes;
}

export const codeFor = ({ codes }: ProcedureCodes, restoration: string): string | null =>
  codes.get(restoration.trim().toLowerCase()) ?? codes.get('*') ?? null;

function procedureOf(settings: FilingSettings): ProcedureCodes | null {
  const system = absoluteUri(settings.procedureSystem);
  const codes = procedureCodes(settings.procedureCodes);
  return system === null || typeof codes === 'number' || codes.size === 0
    ? null
    : { system, codes };
}

/** What the settings say, as far as it can be read. */
export const clinicOf = (settings: FilingSettings): ExportClinic => ({
  chartSystem: absoluteUri(settings.chartSystem),
  procedure: procedureOf(settings),
  byteOrderMark: settings.byteOrderMark,
  hours: openingHours(settings.openingHours),
});
