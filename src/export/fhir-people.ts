/**
 * Who a record is about and who took part, as HL7 FHIR R4 resources: the Patient by chart reference
 * alone, the Encounter, and for each of the people a Practitioner with the label that the case gives
 * them, for it holds no other name, and a PractitionerRole.
 */
import type { Role } from '../protocol/types.ts';
import {
  chart,
  chartIdentifier,
  chartName,
  ENCOUNTER,
  type FhirObject,
  type FhirScene,
  metaOf,
  narrative,
  patientId,
  person,
  personInRole,
  practitionerId,
  roleId,
  VISITS,
  visitOf,
} from './fhir-parts.ts';
import type { PersonFact } from './record-types.ts';

const ACT_CODE = 'http://terminology.hl7.org/CodeSystem/v3-ActCode';
const PARTICIPATION = 'http://terminology.hl7.org/CodeSystem/v3-ParticipationType';

/** HL7 version 3, ParticipationType: who did it, and who helped. */
const PARTS: Readonly<Record<Role, readonly [code: string, display: string]>> = {
  dentist: ['PPRF', 'primary performer'],
  assistant: ['SPRF', 'secondary performer'],
};

export function patient(scene: FhirScene): FhirObject {
  return {
    resourceType: 'Patient',
    id: patientId(scene),
    meta: metaOf(scene.facts),
    text: narrative([chartName(scene)]),
    identifier: [chartIdentifier(scene)],
  };
}

export function practitioner(scene: FhirScene, who: PersonFact): FhirObject {
  return {
    resourceType: 'Practitioner',
    id: practitionerId(scene, who),
    meta: metaOf(scene.facts),
    text: narrative([who.label]),
    name: [{ text: who.label }],
  };
}

export function practitionerRole(scene: FhirScene, who: PersonFact): FhirObject {
  const { label, role } = who;
  return {
    resourceType: 'PractitionerRole',
    id: roleId(scene, who),
    meta: metaOf(scene.facts),
    text: narrative([`${label} (${role})`]),
    practitioner: person(scene, who),
    code: [{ text: role }],
  };
}

function participant(scene: FhirScene, who: PersonFact): FhirObject {
  const [code, display] = PARTS[who.role];
  return {
    type: [{ coding: [{ system: PARTICIPATION, code, display }], text: who.role }],
    individual: personInRole(scene, who),
  };
}

/** The visit: it is over once the record was signed. */
export function encounter(scene: FhirScene): FhirObject {
  const { facts, idOf } = scene;
  const { signOff, openedUtc } = facts;
  return {
    resourceType: 'Encounter',
    id: idOf(ENCOUNTER),
    meta: metaOf(facts),
    text: narrative([facts.title]),
    status: signOff === null ? 'in-progress' : 'finished',
    class: { system: ACT_CODE, code: 'AMB', display: 'ambulatory' },
    type: [{ text: VISITS[visitOf(facts)] }],
    subject: chart(scene),
    participant: facts.people.map((p) => participant(scene, p)),
    period: { start: openedUtc, end: signOff?.at.toUtc },
  };
}
