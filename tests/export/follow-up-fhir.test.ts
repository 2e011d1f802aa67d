/** A follow-up as a FHIR bundle, held against both outside readers. */
import { beforeAll, describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { NO_CLINIC } from '../../src/export/export-clinic.ts';
import { fhirBundle } from '../../src/export/fhir-bundle.ts';
import { fhirFollowUp, fhirFollowUpJson } from '../../src/export/fhir-follow-up.ts';
import { hashUri } from '../../src/export/fhir-parts.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import type { FollowUp } from '../../src/outcomes/follow-up-types.ts';
import { asFact, keepFact } from '../../src/runtime/facts/fact.ts';
import { must } from '../backup/filled-journal.ts';
import { found, visit } from '../follow-up/clinic.ts';
import { asBundle, faultsOf, indexR4, type Resource } from './fhir-readers.ts';
import {
  contradictingVisits,
  type FollowedClinic,
  followedClinic,
  followUpsOf,
  TODAY,
} from './follow-up-clinic.ts';
import { finished, sourceOf } from './journals.ts';

let clinic: FollowedClinic;
let followUps: readonly FollowUp[];

beforeAll(async () => {
  indexR4();
  clinic = await followedClinic();
  followUps = followUpsOf(clinic);
}, 120_000);

const resources = (bundle = fhirFollowUp({ followUps, today: TODAY })): readonly Resource[] =>
  asBundle(bundle).entry.map(({ resource }) => resource);

const observations = (bundle?: ReturnType<typeof fhirFollowUp>): readonly Resource[] =>
  resources(bundle).filter(({ resourceType }) => resourceType === 'Observation');

const about = (day: string, unit: string, all = observations()): Resource =>
  present(
    all.find(
      (one) =>
        one['effectiveDateTime'] === day && JSON.stringify(one['text']).includes(`Unit ${unit},`),
    ),
    `${unit} on ${day}`,
  );

describe('a follow-up as a FHIR bundle', () => {
  it('validates with both outside validators, with a chart system and without', () => {
    const source = { followUps, today: TODAY };
    expect(faultsOf(fhirFollowUp(source))).toEqual([]);
    const system = { ...NO_CLINIC, chartSystem: 'https://charts.example/clinic' };
    const roots = new Map([['case-1', 'b'.repeat(64)]]);
    expect(faultsOf(fhirFollowUp({ ...source, roots }, system))).toEqual([]);
    // Nothing was looked at yet, or nothing was bonded at all.
    expect(faultsOf(fhirFollowUp({ ...source, only: 'case-2' }))).toEqual([]);
    expect(faultsOf(fhirFollowUp({ ...source, followUps: [] }))).toEqual([]);
  });

  it('is found wrong by both when it is made wrong', () => {
    const text = fhirFollowUpJson({ followUps, today: TODAY });
    expect(faultsOf(JSON.parse(text.replace('"final"', '"finished"')))).not.toEqual([]);
    expect(faultsOf(JSON.parse(text.replace('"2026-07-01"', '"1 July"')))).not.toEqual([]);
  });

  it('has an Observation for each unit at each visit: final, amended, entered in error', () => {
    // By hand: the first visit lost 21 when it was corrected, and one visit was struck.
    expect(
      observations()
        .map((one) => `${one['effectiveDateTime']} ${one['status']}`)
        .toSorted(),
    ).toEqual([
      '2026-01-14 entered-in-error',
      '2026-01-15 amended',
      '2026-02-01 entered-in-error',
      '2026-07-01 final',
      '2026-07-01 final',
      '2026-11-30 final',
    ]);
    expect(about('2026-01-15', '11')).toMatchObject({
      note: [{ text: 'Corrected: wrong day' }],
      identifier: [{ system: 'urn:ietf:rfc:3986', value: hashUri(clinic.ids.corrected) }],
    });
    expect(about('2026-02-01', '21')).toMatchObject({
      note: [{ text: 'Struck: another patient' }],
    });
  });

  it('keeps the id of a visit that is corrected or struck, so that a later file replaces an earlier', async () => {
    const a = await followedClinic();
    const caseId = 'case-2';
    const first = must(
      await a.followUps.noteVisit({
        caseId,
        visit: visit('2026-03-01', found('21', 'chipped')),
        by: null,
      }),
    );
    const now = () =>
      observations(fhirFollowUp({ followUps: followUpsOf(a), today: TODAY, only: caseId }));
    const ids = () => now().map(({ id }) => id);
    const noted = ids();
    expect(noted).toHaveLength(1);
    const of = must(
      await a.followUps.correctVisit({
        caseId,
        of: first,
        visit: visit('2026-03-02', found('21', 'chipped')),
        reason: '',
        by: null,
      }),
    );
    expect(ids()).toEqual(noted);
    must(await a.followUps.strikeVisit({ caseId, of, reason: '', by: null }));
    expect(now()).toMatchObject([{ id: noted[0], status: 'entered-in-error' }]);
  });

  it('tells findings, retainers, grades, what was done and the stated day in components', () => {
    const told = (one: Resource) =>
      (one['component'] as { code: { text: string } }[]).map(({ code, ...value }) => [
        code.text,
        Object.values(value)[0],
      ]);
    expect(told(about('2026-07-01', '13-15'))).toEqual([
      ['finding', { text: 'chipped' }],
      ['finding, retainer 13', { text: 'in-place' }],
      ['finding, retainer 15', { text: 'partly-loose' }],
      ['finding, retainer 15', { text: 'caries' }],
      ['done', 'repaired'],
      ['grade, @Scale 2010, Margin, marginal gap', '3'],
      ['own work', true],
      [
        'since the bonding',
        { value: 181, unit: 'd', system: 'http://unitsofmeasure.org', code: 'd' },
      ],
      ['life', 'case-1/13-15'],
    ]);
    expect(told(about('2026-07-01', '11'))).toContainEqual([
      'day that the patient states',
      '2026-06-20',
    ]);
    expect(told(about('2026-11-30', '11'))).toContainEqual(['life', 'case-1/11#2']);
    expect(about('2026-07-01', '11')).toMatchObject({
      performer: [{ type: 'Practitioner', display: '+RS' }],
      bodySite: { coding: [{ code: '11' }] },
    });
    expect(about('2026-07-01', '13-15')['bodySite']).toEqual({
      text: 'Teeth 13, 15 (ISO 3950)',
    });
    expect(about('2026-01-14', '21')['dataAbsentReason']).toEqual({ text: 'Not seen' });
  });

  it('has the Patient of the record where chart references have a system, and its Procedures by identifier', () => {
    const source = sourceOf(finished().log);
    const facts = { ...recordFacts(source), mode: 'patient' as const };
    const root = present(source.entries[0], 'an entry').hash;
    const system = { ...NO_CLINIC, chartSystem: 'https://charts.example/clinic' };
    const record = asBundle(fhirBundle(facts, system)).entry.map(({ resource }) => resource);
    const unit = present(facts.units[0], 'a unit').id;
    const [sample] = followUps.filter(({ caseId }) => caseId === 'case-2');
    const bonded = present(sample?.bonded, 'bonded');
    const first = present(bonded.units[0], 'a unit');
    const own: FollowUp = {
      ...present(sample, 'a follow-up'),
      bonded: { ...bonded, patient: facts.chartRef, units: [{ ...first, unit }] },
      visits: [
        {
          id: 'c'.repeat(64),
          visit: visit('2026-12-01', found(unit, 'in-place')),
          by: null,
          atWallMs: 0,
          was: [],
        },
      ],
    };
    const roots = new Map([['case-2', root]]);
    const bundle = fhirFollowUp({ followUps: [own], today: TODAY, roots }, system);
    const of = (list: readonly Resource[]) => list.find((r) => r.resourceType === 'Patient');
    expect(of(resources(bundle))).toEqual(of(record));
    const [observation] = observations(bundle);
    const [focus] = present(observation, 'an Observation')['focus'] as readonly {
      identifier: { value: string };
    }[];
    const procedure = record.find(({ id }) => `urn:uuid:${id}` === focus?.identifier.value);
    expect(procedure).toMatchObject({ resourceType: 'Procedure', partOf: expect.anything() });
    // Without the record it is named in words, and no id is made up.
    const bare = fhirFollowUp({ followUps: [own], today: TODAY }, system);
    expect(observations(bare)[0]?.['focus']).toEqual([
      { type: 'Procedure', display: `Unit ${unit}, bonded 2026-02-01, case case-2` },
    ]);
  });

  it('says that two tablets tell a visit differently', async () => {
    const a = await followedClinic();
    const item = 'case-1';
    const of = a.ids.again;
    const said = {
      what: 'visit-corrected',
      of,
      visit: visit('2026-07-02', found('11', 'in-place')),
      reason: 'x',
    };
    const other = {
      what: 'visit-corrected',
      of,
      visit: visit('2026-07-03', found('11', 'in-place')),
      reason: 'y',
    };
    for (const [tablet, each] of [
      ['b', said],
      ['c', other],
    ] as const) {
      const fact = asFact({
        kind: 'follow-up',
        item,
        said: each,
        after: [of],
        tablet,
        by: null,
        atWallMs: 5,
      });
      must(await keepFact(a.journal, fact, a.epoch));
    }
    const anew = a.anew();
    must(await anew.open());
    const bundle = fhirFollowUp({ followUps: followUpsOf({ followUps: anew }), today: TODAY });
    expect(faultsOf(bundle)).toEqual([]);
    expect(JSON.stringify(bundle)).toContain('Two tablets tell this visit differently.');
  });

  it('says of a visit with what it does not agree, and of the unit alone', async () => {
    const bundle = fhirFollowUp({ followUps: await contradictingVisits(), today: TODAY });
    expect(faultsOf(bundle)).toEqual([]);
    const count = (text: string): number =>
      JSON.stringify(bundle).split(`"text":"${text}"`).length - 1;
    expect(count('Visits of this day found different things.')).toBe(2);
    expect(count('One visit found it gone, a later one in place.')).toBe(3);
  });

  it('holds no case that was deleted, and nobody’s name', () => {
    const text = fhirFollowUpJson({ followUps, today: TODAY });
    expect(text).not.toContain('left-1');
    expect(resources().filter(({ resourceType }) => resourceType === 'Patient')).toMatchObject([
      { identifier: [{ value: 'C-101' }] },
    ]);
    expect(text).not.toContain('"name"');
  });

  it('gives the same bytes for the same follow-up, in whichever order it comes', () => {
    const text = fhirFollowUpJson({ followUps, today: TODAY });
    expect(fhirFollowUpJson({ followUps: followUps.toReversed(), today: TODAY })).toBe(text);
  });
});
