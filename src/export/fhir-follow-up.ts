/**
 * A follow-up as an HL7 FHIR R4 (4.0.1) Bundle of type collection: one Observation for each unit at each
 * visit, and the Patients by chart reference alone. A visit that was corrected is `amended`, one that was
 * struck `entered-in-error`; its id follows from the entry that noted it first, so that a later export of it
 * replaces an earlier one. What a case bonded before is named by the Procedure of its record, and not told
 * again. Lives of a case that was deleted have no chart, and are in the table alone.
 */
import { daysBetween } from '../outcomes/days.ts';
import type {
  BondedCase,
  Finding,
  FollowUp,
  Grade,
  KeptVisit,
  UnitFound,
  Visit,
} from '../outcomes/follow-up-types.ts';
import { foundOf, isSeen } from '../outcomes/found.ts';
import { originOf } from '../outcomes/origin.ts';
import { fhirWords } from '../words/fhir-words.ts';
import { type ExportClinic, NO_CLINIC } from './export-clinic.ts';
import {
  compactResource,
  type FhirObject,
  hashUri,
  narrative,
  quantity,
  reference,
  toothSite,
  URI,
} from './fhir-parts.ts';
import { type FollowUpRow, type FollowUpSource, followUpRows, rootOf } from './follow-up-rows.ts';
import { hashUuid } from './hash-uuid.ts';
import { utc } from './utc.ts';

interface Scene {
  readonly caseId: string;
  readonly bonded: BondedCase;
  readonly clinic: ExportClinic;
  /** Hash of the first entry of the case; null where it is not known. */
  readonly root: string | null;
}

/** As the bundle of a record has it where chart references have a system; else of this case alone. */
const patientId = ({ caseId, bonded, clinic }: Scene): string =>
  clinic.chartSystem === null
    ? hashUuid(caseId, 'Patient')
    : hashUuid(clinic.chartSystem, `Patient ${bonded.patient}`);

const chartIdentifier = ({ bonded, clinic }: Scene): FhirObject => ({
  system: clinic.chartSystem,
  value: bonded.patient,
});

const chartName = ({ bonded }: Scene): string => `Chart ${bonded.patient}`;

const patient = (scene: Scene): FhirObject => ({
  resourceType: 'Patient',
  id: patientId(scene),
  text: narrative([chartName(scene)]),
  identifier: [chartIdentifier(scene)],
});

/** The Procedure that the bundle of the record has for this unit, by its identifier: it is in that bundle. */
function bonding({ caseId, bonded, root }: Scene, unit: string): FhirObject {
  const display = `Unit ${unit}, bonded ${bonded.bondedOn}, case ${caseId}`;
  if (root === null) return { type: 'Procedure', display };
  const value = `urn:uuid:${hashUuid(root, `Procedure ${unit}`)}`;
  return { type: 'Procedure', identifier: { system: URI, value }, display };
}

const component = (words: string, value: FhirObject): FhirObject => ({
  code: { text: words },
  ...value,
});

const codeWords = (finding: Finding): FhirObject => ({ valueCodeableConcept: { text: finding } });

function retainerComponents({ retainers = [] }: UnitFound): FhirObject[] {
  return retainers.flatMap(({ tooth, findings }) =>
    findings.map((finding) => ({
      code: { coding: toothSite(tooth)['coding'], text: `finding, retainer ${tooth}` },
      ...codeWords(finding),
    })),
  );
}

const gradeComponent = ({ scale, year, item, grade }: Grade): FhirObject =>
  component([`grade, ${scale} ${year}`, item].filter(Boolean).join(', '), { valueString: grade });

function components(
  { bonded }: Scene,
  { visit, found, life }: Pick<Told, 'visit' | 'found' | 'life'>,
) {
  const { findings, done, bondedAgainIn, statedDay, grades = [] } = found;
  const told = (words: string, text: string | undefined): FhirObject =>
    text === undefined ? {} : component(words, { valueString: text });
  const days = daysBetween(life?.bondedOn ?? bonded.bondedOn, visit.onDay);
  return [
    ...findings.map((finding) => component('finding', codeWords(finding))),
    ...retainerComponents(found),
    told('done', done),
    told('bonded again in case', bondedAgainIn),
    statedDay === undefined
      ? {}
      : component('day that the patient states', { valueDateTime: statedDay }),
    ...grades.map(gradeComponent),
    component('own work', { valueBoolean: visit.isOwnWork }),
    component('since the bonding', { valueQuantity: quantity(days, 'd') }),
    told('life', life?.id),
  ];
}

/** What one Observation tells. */
interface Told extends Pick<FollowUpRow, 'life'> {
  /** The entry that noted it first, and the one that says it now. */
  readonly root: string;
  readonly entry: string;
  readonly visit: Visit;
  readonly found: UnitFound;
  readonly status: 'final' | 'amended' | 'entered-in-error';
  readonly notedMs: number | null;
  readonly notes: readonly string[];
}

function bodySite(teeth: readonly string[]): FhirObject {
  const [first, ...others] = teeth;
  if (first === undefined) return {};
  return others.length === 0 ? toothSite(first) : { text: fhirWords.teeth(teeth) };
}

function observation(scene: Scene, told: Told): FhirObject {
  const { visit, found, entry, root, status, notes, notedMs } = told;
  const teeth = scene.bonded.units.find(({ unit }) => unit === found.unit)?.teeth ?? [];
  const words = fhirWords.found({
    unit: found.unit,
    day: visit.onDay,
    findings: [...foundOf(found)],
  });
  const hash = hashUri(entry);
  return {
    resourceType: 'Observation',
    id: hashUuid(root, `Observation ${found.unit}`),
    text: narrative([words, ...notes]),
    identifier: hash === null ? null : [{ system: URI, value: hash }],
    status,
    category: [{ text: 'Follow-up' }],
    code: { text: 'Follow-up of a bonded unit' },
    subject: {
      ...reference(patientId(scene), 'Patient'),
      identifier: chartIdentifier(scene),
      display: chartName(scene),
    },
    focus: [bonding(scene, found.unit)],
    effectiveDateTime: visit.onDay,
    issued: notedMs === null ? null : utc(notedMs),
    performer: visit.examiner === '' ? null : [{ type: 'Practitioner', display: visit.examiner }],
    dataAbsentReason: isSeen(found) ? null : { text: fhirWords.notSeen },
    note: [...notes, ...(visit.note === undefined ? [] : [visit.note])].map((text) => ({ text })),
    bodySite: bodySite(teeth),
    component: components(scene, told),
  };
}

function toldOfRow({ seen, life, followUp, contradicts }: FollowUpRow): readonly Told[] {
  if (seen === null) return [];
  const { kept, found } = seen;
  const { id, visit, was, atWallMs } = kept;
  const differs = followUp.differing.some(({ sides }) => sides.some((side) => side.id === id));
  return [
    {
      life,
      ...{ root: rootOf(kept), entry: id, visit, found },
      status: was.length === 0 ? 'final' : 'amended',
      notedMs: atWallMs,
      notes: [
        ...was.map(({ reason }) => fhirWords.corrected(reason)),
        ...(differs ? [fhirWords.differs] : []),
        ...contradicts.map((kind) => fhirWords.contradicts[kind]),
      ],
    },
  ];
}

/** Units that a visit told of before it was corrected, and no more. */
function dropped(kept: KeptVisit): readonly Told[] {
  const now = new Set(kept.visit.units.map(({ unit }) => unit));
  const gone = new Map<string, Told>();
  for (const { id, visit, reason } of kept.was) {
    for (const found of visit.units) {
      if (now.has(found.unit)) continue;
      gone.set(found.unit, {
        life: null,
        ...{ root: rootOf(kept), entry: id, visit, found },
        status: 'entered-in-error',
        notedMs: kept.atWallMs,
        notes: [fhirWords.corrected(reason)],
      });
    }
  }
  return [...gone.values()];
}

const struckOf = ({ struck }: FollowUp): readonly Told[] =>
  struck.flatMap(({ id, of, visit, reason }) =>
    visit.units.map((found) => ({
      life: null,
      ...{ root: of, entry: id, visit, found },
      status: 'entered-in-error' as const,
      notedMs: null,
      notes: [fhirWords.struck(reason)],
    })),
  );

const entryOf = (resource: FhirObject): FhirObject => ({
  fullUrl: `urn:uuid:${String(resource['id'])}`,
  resource,
});

const unique = (resources: readonly FhirObject[]): readonly FhirObject[] => [
  ...new Map(resources.map((one) => [one['id'], one])).values(),
];

function byFollowUp(rows: readonly FollowUpRow[]): ReadonlyMap<FollowUp, readonly FollowUpRow[]> {
  const found = new Map<FollowUp, FollowUpRow[]>();
  for (const row of rows) {
    const before = found.get(row.followUp);
    if (before === undefined) found.set(row.followUp, [row]);
    else before.push(row);
  }
  return found;
}

/** The whole Bundle as a plain object. */
export function fhirFollowUp(source: FollowUpSource, clinic: ExportClinic = NO_CLINIC): FhirObject {
  const rows = followUpRows(source).filter(({ origin }) => origin !== 'left');
  const rowsOf = byFollowUp(rows);
  const followUps = [...rowsOf.keys()];
  const sceneOf = (caseId: string, bonded: BondedCase): Scene => {
    const root = originOf(caseId) === 'case' ? (source.roots?.get(caseId) ?? null) : null;
    return { caseId, bonded, clinic, root };
  };
  const made = followUps.flatMap((followUp) => {
    const { caseId, bonded } = followUp;
    if (bonded === null) return [];
    const scene = sceneOf(caseId, bonded);
    const told = [
      ...(rowsOf.get(followUp) ?? []).flatMap(toldOfRow),
      ...followUp.visits.flatMap(dropped),
      ...struckOf(followUp),
    ];
    return told.length === 0
      ? []
      : [{ patient: patient(scene), observations: told.map((one) => observation(scene, one)) }];
  });
  const entries = [
    ...unique(made.map((one) => one.patient)),
    ...unique(made.flatMap(({ observations }) => observations)),
  ].map(entryOf);
  const notedMs = followUps.flatMap(({ visits }) => visits.map(({ atWallMs }) => atWallMs));
  const heads = followUps.flatMap((one) => one.heads).toSorted();
  const id = hashUuid(heads.join(' '), 'Bundle');
  return compactResource({
    resourceType: 'Bundle',
    id,
    identifier: { system: URI, value: `urn:uuid:${id}` },
    type: 'collection',
    timestamp: notedMs.length === 0 ? null : utc(notedMs.reduce((a, b) => Math.max(a, b), 0)),
    entry: entries,
  });
}

/** The Bundle as JSON text, two spaces deep, ending in a line feed. */
export const fhirFollowUpJson = (source: FollowUpSource, clinic?: ExportClinic): string =>
  `${JSON.stringify(fhirFollowUp(source, clinic), null, 2)}\n`;
