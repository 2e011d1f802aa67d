/**
 * A record as an HL7 FHIR R4 (4.0.1) Bundle of type collection: one Procedure for the appointment,
 * one for each restoration with its teeth as body sites, Devices for the light, the restorations
 * and the materials, Observations for timed steps and windows, the Patient by chart reference alone,
 * the Encounter with the roles of those who took part, and a Provenance that names the head of the
 * hash chain. Ids follow from the case, so that a later export of it replaces an earlier one.
 */

import { breachId, gapId, voidedId } from '../engine/sign-list.ts';
import { exportWords } from '../words/export-words.ts';
import { materialForms } from '../words/material-words.ts';
import { codeFor, type ExportClinic, NO_CLINIC } from './export-clinic.ts';
import type { MaterialUse } from './export-source.ts';
import {
  about,
  breachLine,
  chainLine,
  correctionLine,
  gapLine,
  tellingWith,
  wayBackLine,
} from './export-words.ts';
import { lightDevice, materialDevice, restorationDevice } from './fhir-devices.ts';
import {
  isTimed,
  secondEndObservation,
  stepObservation,
  windowObservation,
} from './fhir-observations.ts';
import {
  chart,
  compactResource,
  ENCOUNTER,
  type FhirObject,
  type FhirScene,
  hashUri,
  metaOf,
  narrative,
  PARTICIPANT_SYSTEM,
  period,
  person,
  reference,
  sceneOf,
  toothSite,
  URI,
  VISITS,
  visitOf,
} from './fhir-parts.ts';
import { encounter, patient, practitioner, practitionerRole } from './fhir-people.ts';
import { hashUuid } from './hash-uuid.ts';
import { passLines } from './pressed-words.ts';
import type { InstantFact, RecordFacts, StepFact, UnitFact } from './record-types.ts';
import { aboutWords, withSaid } from './said-words.ts';
import { secondEndNotes } from './tablets-words.ts';

const APPOINTMENT = 'Procedure appointment';
const LIGHT = 'Device light';
const unitName = (unit: UnitFact): string => `Procedure ${unit.id}`;
const restorationName = (unit: UnitFact): string => `Device restoration ${unit.id}`;
const materialName = (index: number): string => `Device material ${index}`;

/** Steps done to the unit or to a tooth that carries it. */
function stepsOf(facts: RecordFacts, unit: UnitFact): StepFact[] {
  const own = new Set([`unit:${unit.id}`, ...unit.teeth.map((t) => `tooth:${t.fdi}`)]);
  return facts.steps.filter((s) => own.has(s.subject));
}

/** Done by the case that this one goes on from. */
const isEarlier = (s: StepFact): boolean => (s.end?.at.hiMs ?? 0) < 0;

/** Stopped when light that was asked for was left out: the unit was set aside, or the work ended. */
function statusOf(facts: RecordFacts, steps: readonly StepFact[]): string {
  const isBegun = steps.some((s) => s.status !== 'skipped' && !isEarlier(s));
  const isCutOff = steps.some((s) => s.action === 'expose' && s.status === 'skipped');
  if (facts.signOff && isBegun) return isCutOff ? 'stopped' : 'completed';
  if (facts.signOff) return 'not-done';
  return isBegun ? 'in-progress' : 'preparation';
}

function performedPeriod(facts: RecordFacts, steps: readonly StepFact[]): FhirObject {
  const own = steps.filter((s) => !isEarlier(s));
  const starts = own.flatMap((s) => (s.start ? [s.start.at] : []));
  const ends = own.flatMap((s) => (s.end ? [s.end.at] : []));
  const first = starts.toSorted((a, b) => a.loMs - b.loMs)[0];
  // An end that nobody knows may be the last: R4 leaves the end of a period out then.
  const late = ({ hiMs }: InstantFact): number => hiMs ?? Number.MAX_VALUE;
  const last = ends.toSorted((a, b) => late(b) - late(a))[0];
  return period(first, facts.signOff ? last : undefined);
}

const performers = (scene: FhirScene): FhirObject[] =>
  scene.facts.people.map((p) => ({ function: { text: p.role }, actor: person(scene, p) }));

/** What has to be told about the case as a whole. */
function caseNotes(facts: RecordFacts): FhirObject[] {
  const telling = tellingWith({ usual: '' });
  const told = [
    ...facts.corrections.map((c) => `Correction: ${correctionLine(c, telling)}`),
    ...facts.gaps.map((g) => `Gap: ${withSaid(facts, gapId(g.seq), gapLine(g, telling))}`),
  ];
  const lines = [
    ...(facts.note === null ? [] : [facts.note]),
    ...facts.breaches.map((b) => {
      const line = withSaid(facts, breachId(b), breachLine(b));
      return b.perhaps ? `Bound perhaps not kept: ${line}` : `Bound not kept: ${line}`;
    }),
    ...passLines(facts, telling).map((line) => `Light: ${line}`),
    ...secondEndNotes(facts, telling),
    ...facts.waysBack.map(
      (w) => `Way back: ${withSaid(facts, voidedId(w.pressed.press), wayBackLine(w))}`,
    ),
    ...told,
  ].map((text) => ({ text }));
  const written = facts.notes.map(({ words, about: of, at, pressed, isLate }) => {
    const what = of === null ? words : about(aboutWords(facts, of, telling), words);
    return {
      authorString: pressed.by,
      time: at.fromUtc,
      text: isLate ? `After the signature: ${what}` : what,
    };
  });
  return [...lines, ...written];
}

function appointment(scene: FhirScene): FhirObject {
  const { facts, idOf } = scene;
  const { protocol } = facts;
  return {
    resourceType: 'Procedure',
    id: idOf(APPOINTMENT),
    meta: metaOf(facts),
    text: narrative([
      ...(facts.mode === 'rehearsal' ? [exportWords.rehearsal] : []),
      facts.title,
      `${protocol.title}, revision ${protocol.revision}`,
    ]),
    instantiatesUri: [hashUri(protocol.hash)],
    status: statusOf(facts, facts.steps),
    category: { text: 'Dental' },
    code: { text: VISITS[visitOf(facts)] },
    subject: chart(scene),
    encounter: reference(idOf(ENCOUNTER), 'Encounter'),
    performedPeriod: performedPeriod(facts, facts.steps),
    performer: performers(scene),
    usedReference: [reference(idOf(LIGHT), 'Device')],
    note: caseNotes(facts),
  };
}

/** Materials that touched this unit, its teeth, its mix or the whole case. */
function materialsOf(facts: RecordFacts, unit: UnitFact): number[] {
  const mixes = facts.mixes.filter((m) => m.units.includes(unit.id)).map((m) => m.mix);
  const teeth = unit.teeth.map((t) => `tooth:${t.fdi}`);
  const own = new Set(['case', `unit:${unit.id}`, ...teeth, ...mixes]);
  const touches = (m: MaterialUse): boolean => m.usedFor.some((u) => own.has(u.subject));
  return facts.materials.flatMap((m, i) => (touches(m) ? [i] : []));
}

/** The clinic's own code for a restoration of this kind, where it gave one and this visit seated it. */
function procedureCoding({ facts, clinic }: FhirScene, { restoration }: UnitFact): FhirObject[] {
  const { procedure } = clinic;
  if (facts.mode === 'rehearsal' || visitOf(facts) !== 'cementation') return [];
  const code = procedure === null ? null : codeFor(procedure, restoration);
  return procedure === null || code === null ? [] : [{ system: procedure.system, code }];
}

function unitProcedure(scene: FhirScene, unit: UnitFact): FhirObject {
  const { facts, idOf } = scene;
  const steps = stepsOf(facts, unit);
  const teeth = unit.teeth.map((t) => t.fdi);
  const pontics = unit.teeth.filter((t) => t.isPontic).map((t) => t.fdi);
  const visit = visitOf(facts);
  const what = visit === 'cementation' ? 'Adhesive cementation' : VISITS[visit];
  const kind = `${what}: ${unit.restoration}`;
  return {
    resourceType: 'Procedure',
    id: idOf(unitName(unit)),
    meta: metaOf(facts),
    text: narrative([`${kind}, ${materialForms(unit.material).inLine}, tooth ${teeth.join(', ')}`]),
    instantiatesUri: [hashUri(facts.protocol.hash)],
    partOf: [reference(idOf(APPOINTMENT), 'Procedure')],
    status: statusOf(facts, steps),
    category: { text: 'Dental' },
    code: { coding: procedureCoding(scene, unit), text: kind },
    subject: chart(scene),
    encounter: reference(idOf(ENCOUNTER), 'Encounter'),
    performedPeriod: performedPeriod(facts, steps),
    performer: performers(scene),
    bodySite: teeth.map(toothSite),
    note:
      pontics.length === 0
        ? null
        : [{ text: `Replaced teeth, nothing bonded: ${pontics.join(', ')}` }],
    focalDevice: [
      {
        action: { text: 'Seated' },
        manipulated: reference(idOf(restorationName(unit)), 'Device'),
      },
    ],
    usedReference: [
      reference(idOf(LIGHT), 'Device'),
      ...materialsOf(facts, unit).map((i) => reference(idOf(materialName(i)), 'Device')),
    ],
  };
}

/** The Procedure that something about these teeth belongs to: its unit's, or the appointment. */
function partOf({ facts, idOf }: FhirScene, teeth: readonly string[]): FhirObject {
  const units = facts.units.filter((u) => u.teeth.some((t) => teeth.includes(t.fdi)));
  const [unit, ...others] = units;
  const name = unit && others.length === 0 ? unitName(unit) : APPOINTMENT;
  return reference(idOf(name), 'Procedure');
}

function observations(scene: FhirScene): FhirObject[] {
  const { facts, idOf } = scene;
  const light = reference(idOf(LIGHT), 'Device');
  const links = (name: string, teeth: readonly string[], isLight: boolean) => ({
    id: idOf(`Observation ${name}`),
    partOf: partOf(scene, teeth),
    device: isLight ? light : null,
  });
  const ofStep = (step: StepFact, name: string): FhirObject =>
    stepObservation(scene, step, links(name, step.teeth, step.action === 'expose'));
  return [
    ...facts.steps.filter(isTimed).map((s) => ofStep(s, `step ${s.key}`)),
    ...facts.voided.filter(isTimed).map((s) => ofStep(s, `voided ${s.voidedByPress} ${s.key}`)),
    ...facts.windows
      .filter((w) => w.closed !== null)
      .map((w) =>
        windowObservation(scene, w, links(`window ${w.window} ${w.from} ${w.to}`, w.teeth, false)),
      ),
    ...(facts.secondEnds ?? []).map((end, n) =>
      secondEndObservation(scene, end, links(`second end ${n}`, [], false)),
    ),
  ];
}

function agents(scene: FhirScene): FhirObject[] {
  const { people, signOff } = scene.facts;
  const agent = (code: string, display: string, who: FhirObject): FhirObject => ({
    type: { coding: [{ system: PARTICIPANT_SYSTEM, code, display }] },
    who,
  });
  return [
    ...people.map((p) => agent('performer', 'Performer', person(scene, p))),
    ...(signOff
      ? [agent('attester', 'Attester', person(scene, { ...signOff, id: signOff.by }))]
      : []),
    agent('assembler', 'Assembler', { type: 'Device', display: 'Lutewatch' }),
  ];
}

/** Names the journal by the hash of its last entry, and the protocol by its own. */
function provenance(scene: FhirScene, id: string, targets: readonly FhirObject[]): FhirObject {
  const { facts } = scene;
  const { chain, protocol } = facts;
  const chainWords = chainLine(chain);
  const source = (hash: string | null, display: string): FhirObject => {
    const uri = hash === null ? null : hashUri(hash);
    const identifier = uri === null ? {} : { system: URI, value: uri };
    return { role: 'source', what: { identifier, display } };
  };
  return {
    resourceType: 'Provenance',
    id,
    meta: metaOf(facts),
    text: narrative([`Journal: ${chainWords}`, `Hash of the last entry: ${chain.head ?? 'none'}`]),
    target: targets.map((t) => reference(String(t['id']), String(t['resourceType']))),
    occurredPeriod: { start: facts.openedUtc, end: facts.lastUtc },
    recorded: facts.lastUtc,
    agent: agents(scene),
    entity: [
      source(
        chain.head,
        `Journal of case ${facts.caseId}: ${chainWords}; head ${chain.head ?? 'none'}`,
      ),
      source(
        protocol.hash,
        `Protocol ${protocol.id}, revision ${protocol.revision}, hash ${protocol.hash}`,
      ),
    ],
  };
}

const entryOf = (resource: FhirObject): FhirObject => ({
  fullUrl: `urn:uuid:${String(resource['id'])}`,
  resource,
});

/** The whole Bundle as a plain object. */
export function fhirBundle(facts: RecordFacts, clinic: ExportClinic = NO_CLINIC): FhirObject {
  const scene = sceneOf(facts, clinic);
  const { idOf } = scene;
  const head = facts.chain.head ?? facts.caseId;
  // What the journal says was done; whom it names it does not vouch for.
  const done = [
    appointment(scene),
    ...facts.units.map((u) => unitProcedure(scene, u)),
    lightDevice(facts, idOf(LIGHT)),
    ...facts.units.map((u) => restorationDevice(scene, u, idOf(restorationName(u)))),
    ...facts.materials.map((m, i) => materialDevice(facts, m, idOf(materialName(i)))),
    ...observations(scene),
  ];
  const who = [
    patient(scene),
    encounter(scene),
    ...facts.people.flatMap((p) => [practitioner(scene, p), practitionerRole(scene, p)]),
  ];
  const source = provenance(scene, hashUuid(head, 'Provenance'), done);
  const id = hashUuid(head, 'Bundle');
  return compactResource({
    resourceType: 'Bundle',
    id,
    meta: metaOf(facts),
    identifier: { system: URI, value: `urn:uuid:${id}` },
    type: 'collection',
    timestamp: facts.lastUtc,
    entry: [...done, ...who, source].map(entryOf),
  });
}

/** The Bundle as JSON text, two spaces deep, ending in a line feed. */
export function fhirJson(facts: RecordFacts, clinic: ExportClinic = NO_CLINIC): string {
  return `${JSON.stringify(fhirBundle(facts, clinic), null, 2)}\n`;
}
