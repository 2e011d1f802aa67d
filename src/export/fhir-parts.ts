/**
 * Small parts of HL7 FHIR R4 (4.0.1) resources. Nothing empty is ever written: no empty text, list
 * or object, because R4 forbids them and a receiver could take them for an answer.
 */
import { hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js';
import { MS_PER_SECOND } from '../base/units.ts';
import { toothByFdi } from '../calc/tooth.ts';
import type { Surface } from '../protocol/types.ts';
import type { ExportClinic } from './export-clinic.ts';
import { hashUuid } from './hash-uuid.ts';
import type { InstantFact, LengthFact, PersonFact, RecordFacts } from './record-types.ts';

type FhirValue =
  | string
  | number
  | boolean
  | null
  | undefined
  | readonly FhirValue[]
  | { readonly [key: string]: FhirValue };
export type FhirObject = { readonly [key: string]: FhirValue };

// R4 text may hold tabs and line breaks, but no other control characters (datatypes, string).
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the ones that R4 forbids.
const FORBIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f]/g;

/** Takes out everything that is missing or empty; undefined when nothing is left. */
export function compact(value: FhirValue): FhirValue {
  if (value === null || value === undefined) return undefined;
  if (typeof value === 'string') {
    const text = value
      .replaceAll(FORBIDDEN, ' ')
      .replaceAll(/\p{Surrogate}/gu, '\ufffd')
      .trim();
    return text === '' ? undefined : text;
  }
  if (typeof value !== 'object') return value;
  if (isList(value)) {
    const list = value.map(compact).filter((item) => item !== undefined);
    return list.length === 0 ? undefined : list;
  }
  const kept = compactResource(value);
  return Object.keys(kept).length === 0 ? undefined : kept;
}

/** A resource without anything that is missing or empty. */
export function compactResource(resource: FhirObject): FhirObject {
  const kept = Object.entries(resource).flatMap(([key, inner]) => {
    const held = compact(inner);
    return held === undefined ? [] : [[key, held] as const];
  });
  return Object.fromEntries(kept);
}

function isList(value: FhirValue): value is readonly FhirValue[] {
  return Array.isArray(value);
}

const UCUM = 'http://unitsofmeasure.org';
export const URI = 'urn:ietf:rfc:3986';
export const TOOTH_SYSTEM = 'http://terminology.hl7.org/CodeSystem/ex-tooth';
export const SURFACE_SYSTEM = 'http://terminology.hl7.org/CodeSystem/FDI-surface';
export const PARTICIPANT_SYSTEM =
  'http://terminology.hl7.org/CodeSystem/provenance-participant-type';

export const quantity = (value: number, unit: string): FhirObject => ({
  value,
  unit,
  system: UCUM,
  code: unit,
});

/** Seconds, to the millisecond. */
export const secondsQuantity = (ms: number): FhirObject => quantity(ms / MS_PER_SECOND, 's');

/** An interval of seconds; a side that is not bounded is left out. */
export const secondsRange = (range: {
  readonly lowMs: number | null;
  readonly highMs: number | null;
}): FhirObject => ({
  low: range.lowMs === null ? null : secondsQuantity(range.lowMs),
  high: range.highMs === null ? null : secondsQuantity(range.highMs),
});

/** What is known for certain: exactly so long, or not less than that. */
export function elapsedQuantity({ loMs, hiMs }: LengthFact): FhirObject {
  const least = secondsQuantity(loMs);
  return loMs === hiMs ? least : { value: least['value'], comparator: '>=', ...least };
}

export const reference = (id: string, type: string): FhirObject => ({
  reference: `urn:uuid:${id}`,
  type,
});

/** What every resource of a bundle is made from. */
export interface FhirScene {
  readonly facts: RecordFacts;
  readonly clinic: ExportClinic;
  /** The id of a resource of this case; the name says which. */
  readonly idOf: (name: string) => string;
}

/**
 * The chart of a rehearsal is nobody's: under the clinic's own system a receiver would take what was
 * rehearsed for something of the patient who has that number.
 */
export function sceneOf(facts: RecordFacts, clinic: ExportClinic): FhirScene {
  const root = facts.chain.root ?? facts.caseId;
  const idOf = (name: string): string => hashUuid(root, name);
  const known = facts.mode === 'patient' ? clinic : { ...clinic, chartSystem: null };
  return { facts, clinic: known, idOf };
}

/** What kind of visit it was: only one that seats is a cementation. */
export type Visit = 'cementation' | 'finishing' | 'without-light';

export function visitOf({ follows, signOff, steps }: RecordFacts): Visit {
  if (follows !== null) return 'finishing';
  // Until it was signed, light may still come.
  const hasLight = signOff === null || steps.some(({ action }) => action === 'expose');
  return hasLight ? 'cementation' : 'without-light';
}

export const VISITS: Readonly<Record<Visit, string>> = {
  cementation: 'Adhesive cementation appointment',
  finishing: 'Finishing visit',
  'without-light': 'Visit without light',
};

/** Of one chart in all cases where its number has a system; else of this case alone. */
export const patientId = ({ facts, clinic, idOf }: FhirScene): string =>
  clinic.chartSystem === null
    ? idOf('Patient')
    : hashUuid(clinic.chartSystem, `Patient ${facts.chartRef}`);

/** A chart reference; without a system that the clinic set, none is made up. A rehearsal names itself. */
export const chartIdentifier = (scene: FhirScene): FhirObject => {
  const { facts, clinic } = scene;
  return facts.mode === 'patient'
    ? { system: clinic.chartSystem, value: facts.chartRef }
    : { system: URI, value: `urn:uuid:${patientId(scene)}` };
};

export const chartName = ({ facts }: FhirScene): string =>
  facts.mode === 'patient' ? `Chart ${facts.chartRef}` : 'Rehearsal, nobody’s chart';

export const ENCOUNTER = 'Encounter';

type Named = Pick<PersonFact, 'id' | 'label' | 'role'>;
const displayOf = ({ label, role }: Named): string => `${label} (${role})`;
export const practitionerId = ({ idOf }: FhirScene, { id }: Named): string =>
  idOf(`Practitioner ${id}`);
export const roleId = ({ idOf }: FhirScene, { id }: Named): string =>
  idOf(`PractitionerRole ${id}`);

/** A case carries a chart reference, never a patient: the receiver knows whose chart it is. */
export const chart = (scene: FhirScene): FhirObject => ({
  ...reference(patientId(scene), 'Patient'),
  identifier: chartIdentifier(scene),
  display: chartName(scene),
});

/** Somebody of the case; by words alone who is none of its people. */
export function person(scene: FhirScene, who: Named): FhirObject {
  const display = displayOf(who);
  return scene.facts.people.some((p) => p.id === who.id)
    ? { ...reference(practitionerId(scene, who), 'Practitioner'), display }
    : { type: 'Practitioner', display };
}

/** What somebody does in this case. */
export const personInRole = (scene: FhirScene, who: Named): FhirObject => ({
  ...reference(roleId(scene, who), 'PractitionerRole'),
  display: displayOf(who),
});

/**
 * A tooth as a body site. The code system has the permanent teeth only; any other tooth is told in
 * words.
 */
export function toothSite(fdi: string): FhirObject {
  const tooth = /^[1-4][1-8]$/.test(fdi) ? toothByFdi(Number(fdi)) : null;
  return tooth === null
    ? { text: `Tooth ${fdi} (ISO 3950)` }
    : {
        coding: [{ system: TOOTH_SYSTEM, code: fdi, display: fdi }],
        text: `Tooth ${fdi}, ${tooth.name}`,
      };
}

const LAST_CANINE = 3;

/** Facial is buccal on premolars and molars and ventral on front teeth, as the code system words it. */
export function surfaceCoding(surface: Surface, fdi: string): FhirObject {
  const isFront = Number(fdi.slice(-1)) <= LAST_CANINE;
  const codes: Readonly<Record<Surface, readonly [code: string, display: string]>> = {
    facial: isFront ? ['V', 'Ventral'] : ['B', 'Buccal'],
    incisal: ['I', 'Incisal'],
    occlusal: ['O', 'Occlusal'],
    mesial: ['M', 'Mesial'],
    distal: ['D', 'Distal'],
    lingual: ['L', 'Lingual'],
  };
  const [code, display] = codes[surface];
  return { system: SURFACE_SYSTEM, code, display };
}

/** The widest period that the two instants allow. */
export const period = (
  start: InstantFact | undefined,
  end: InstantFact | undefined,
): FhirObject => ({ start: start?.fromUtc, end: end?.toUtc });

const XML: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

const escaped = (words: string): string => words.replaceAll(/[&<>"']/g, (c) => XML[c] ?? c);

/** The narrative of a resource: one paragraph a line. */
export function narrative(lines: readonly string[]): FhirObject {
  const paragraphs = lines.map((line) => `<p>${escaped(line)}</p>`).join('');
  return {
    status: 'generated',
    div: `<div xmlns="http://www.w3.org/1999/xhtml">${paragraphs}</div>`,
  };
}

const DIGITS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** RFC 4648 base64. */
function base64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const group = ((bytes[i] ?? 0) << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    const four = [18, 12, 6, 0].map((shift) => DIGITS[(group >> shift) & 63] ?? '').join('');
    const have = Math.min(3, bytes.length - i);
    text += four.slice(0, have + 1).padEnd(4, '=');
  }
  return text;
}

export const base64Text = (text: string): string => base64(utf8ToBytes(text));

/** A SHA-256 as a name of what was hashed (RFC 6920); null for anything that is no such hash. */
export function hashUri(hash: string): string | null {
  if (!/^[0-9a-f]{64}$/.test(hash)) return null;
  const digest = base64(hexToBytes(hash)).replaceAll('+', '-').replaceAll('/', '_');
  return `ni:///sha-256;${digest.replace(/=+$/, '')}`;
}

/** Marks what is no patient's: test health data. */
export function metaOf({ mode }: Pick<RecordFacts, 'mode'>): FhirObject {
  if (mode === 'patient') return {};
  const tag = {
    system: 'http://terminology.hl7.org/CodeSystem/v3-ActReason',
    code: 'HTEST',
    display: 'test health data',
  };
  return { tag: [tag] };
}
