/** The table of lives and visits, as somebody else's reader reads it. */
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import { NO_CLINIC } from '../../src/export/export-clinic.ts';
import { followUpFile } from '../../src/export/follow-up-forms.ts';
import { livesCsv } from '../../src/export/lives-csv.ts';
import type { FollowUp } from '../../src/outcomes/follow-up-types.ts';
import { livesOf } from '../../src/outcomes/lives.ts';
import { keepBonded } from '../follow-up/clinic.ts';
import {
  contradictingVisits,
  type FollowedClinic,
  followedClinic,
  followUpsOf,
  TODAY,
} from './follow-up-clinic.ts';

// Outside reference: RFC 4180 (Shafranovich, 2005) as the csv-parse package reads it.
const named = (text: string): Record<string, string>[] =>
  parse(text, { columns: true, record_delimiter: '\r\n' });

let clinic: FollowedClinic;
let followUps: readonly FollowUp[];
let rows: Record<string, string>[];

beforeAll(async () => {
  clinic = await followedClinic();
  followUps = followUpsOf(clinic);
  rows = named(livesCsv({ followUps, today: TODAY }));
});

const of = (caseId: string, unit: string): Record<string, string>[] =>
  rows.filter((row) => row['case'] === caseId && row['unit'] === unit);

describe('lives and visits as a table', () => {
  it('has a row for each unit and visit, and one for a life without a visit', () => {
    // By hand: 11 three visits, 21 none that counts, the bridge one; three units each of the others.
    expect(rows.map((row) => `${row['life']} ${row['visit_local']}`)).toEqual([
      ...['11', '21', '13-15'].map((unit) => `${clinic.ids.earlier}/${unit} `),
      ...['11 ', '21 2025-09-01', '13-15 '].map((unit) => `left-1/${unit}`),
      'case-1/11 2026-01-15',
      'case-1/11 2026-07-01',
      'case-1/11#2 2026-11-30',
      'case-1/21 ',
      'case-1/13-15 2026-07-01',
      ...['11', '21', '13-15'].map((unit) => `case-2/${unit} `),
    ]);
  });

  it('tells both ends of every life for each end point, as the figures take them', () => {
    const lives = livesOf(followUps, TODAY);
    expect(new Set(rows.map((row) => row['life']))).toEqual(new Set(lives.map(({ id }) => id)));
    for (const row of rows) {
      const life = lives.find(({ id }) => id === row['life']);
      for (const [endPoint, end] of Object.entries(life?.ends ?? {})) {
        expect(row[`${endPoint}_event`]).toBe(end?.event ?? 'left-out');
        expect(row[`${endPoint}_after_day`]).toBe(String(end?.afterDay ?? ''));
        expect(row[`${endPoint}_by_day`]).toBe(String(end?.byDay ?? ''));
      }
    }
    // By hand: bonded on 1 January, lost on the stated 20 June, 170 days later; bonded again on 1 July, after 181.
    expect(of('case-1', '11')[0]).toMatchObject({
      retention_event: 'event',
      retention_after_day: '170',
      retention_by_day: '170',
      survival_event: 'none',
      possible_day: '181',
      visit_day: '14',
    });
    // The bridge was last known to hold at its bonding; the visit is 181 days later.
    expect(of('case-1', '13-15')[0]).toMatchObject({
      retention_event: 'event',
      retention_after_day: '0',
      retention_by_day: '181',
    });
  });

  it('tells the bonding as it was at the signature, and nothing of one that has no record', () => {
    const [first, , second] = of('case-1', '11');
    expect(first).toMatchObject({
      origin: 'case',
      chart_reference: 'C-101',
      teeth_fdi: '11',
      bridge: 'no',
      restoration: 'veneer',
      material_class: 'lithium-disilicate',
      bonded_local: '2026-01-01',
      limits: 'broken',
      limits_kept: 'window/open-adhesive',
      limits_broken: 'step/etch',
      limits_cannot_tell: 'step/rinse',
      protocol: 'veneers',
      protocol_revision: '3',
      protocol_hash: 'a'.repeat(64),
      lots: 'adhesive: L-7',
    });
    expect(second).toMatchObject({
      bonded_local: '2026-07-01',
      limits: '',
      limits_kept: '',
      protocol: '',
      protocol_hash: '',
      lots: '',
    });
    expect(of('case-1', '21')[0]).toMatchObject({ limits: 'kept' });
  });

  it('tells what was found, by whom, what was done, and how often it was corrected', () => {
    const { corrected, again } = clinic.ids;
    expect(of('case-1', '11')[0]).toMatchObject({
      findings: 'in-place',
      examiner: 'TK',
      own_work: 'no',
      noted_by: 'TK',
      noted_utc: '2026-12-01T10:00:00.000Z',
      entry: corrected,
      corrections: '1',
      told_differently: 'no',
      contradicts: '',
      visits_struck: '1',
    });
    expect(of('case-1', '11')[1]).toMatchObject({
      findings: 'lost-retention',
      done: 'bonded-again',
      stated_local: '2026-06-20',
      corrections: '0',
    });
    expect(of('case-1', '13-15')[0]).toMatchObject({
      bridge: 'yes',
      teeth_fdi: '13 15',
      findings: 'chipped',
      retainers: '13: in-place; 15: partly-loose caries',
      done: 'repaired',
      own_work: 'yes',
      entry: again,
    });
    expect(of('case-1', '21')[0]).toMatchObject({ visit_local: '', findings: '', own_work: '' });
  });

  it('marks visits that cannot all be so, for the unit of which they tell it', async () => {
    const told = named(livesCsv({ followUps: await contradictingVisits(), today: TODAY }))
      .filter((row) => row['visit_local'] !== '')
      .map((row) => [row['unit'], row['visit_local'], row['findings'], row['contradicts']]);
    expect(told.toSorted()).toEqual([
      ['11', '2026-06-01', 'in-place', 'same-day; after-gone'],
      ['11', '2026-06-01', 'lost-retention', 'same-day; after-gone'],
      ['11', '2026-09-01', 'in-place', 'after-gone'],
      ['21', '2026-06-01', 'in-place', ''],
      ['21', '2026-06-01', 'in-place', ''],
      ['21', '2026-09-01', 'in-place', ''],
    ]);
  });

  // OWASP, "CSV Injection": a field must not begin with = + - @, tab or carriage return.
  it('guards what a spreadsheet would run', async () => {
    const bridge = of('case-1', '13-15')[0];
    expect(bridge).toMatchObject({
      examiner: "'+RS",
      grades: "'@Scale, 2010, Margin, marginal gap: 3",
    });
    const text = livesCsv({ followUps, today: TODAY });
    for (const cells of parse(text, { record_delimiter: '\r\n' }) as string[][]) {
      for (const cell of cells) expect(cell).not.toMatch(/^[=+\-@\t\r]/);
    }
  });

  it('has no chart reference of a case that was deleted, but keeps its units together', () => {
    for (const unit of ['11', '21', '13-15']) {
      expect(of('left-1', unit)[0]).toMatchObject({
        origin: 'left',
        chart_reference: '',
        patient_cluster: 'left-1',
        title: '',
      });
    }
    // The instant of the deletion would lead to the case.
    expect(of('left-1', '21')[0]).toMatchObject({ findings: 'chipped', noted_utc: '' });
    expect(of(clinic.ids.earlier, '11')[0]).toMatchObject({
      origin: 'earlier',
      chart_reference: 'C-55',
      bonded_local: '2020-03-01',
      protocol: '',
    });
  });

  it('gives the same bytes for the same follow-up, in whichever order it comes', () => {
    const text = livesCsv({ followUps, today: TODAY });
    expect(livesCsv({ followUps: followUps.toReversed(), today: TODAY })).toBe(text);
    expect(text.endsWith('\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  });

  it('tells one case alone, and begins with a byte-order mark only where the clinic wants it', () => {
    const one = followUpFile({ followUps, today: TODAY, only: 'case-2' }, 'csv');
    expect(one).toMatchObject({
      name: 'C-44-lives-2026-12-01.csv',
      mediaType: 'text/csv;charset=utf-8;header=present',
    });
    expect(named(one.text).map((row) => row['case'])).toEqual(['case-2', 'case-2', 'case-2']);
    const marked = followUpFile({ followUps, today: TODAY }, 'csv', {
      ...NO_CLINIC,
      byteOrderMark: true,
    });
    expect(marked.name).toBe('lives-2026-12-01.csv');
    expect(marked.text).toBe(`\ufeff${livesCsv({ followUps, today: TODAY })}`);
  });

  it('tells of a unit that was bonded again in another case under the case that bonded it', async () => {
    const { followUps: open } = clinic;
    const caseId = 'case-2';
    const lost = { unit: '21', findings: ['lost-retention'], done: 'bonded-again' } as const;
    const visit = { onDay: '2026-04-01', examiner: 'TK', isOwnWork: false };
    await keepBonded(clinic, { caseId: 'case-3', said: { ...bondedTwo, bondedOn: '2026-04-01' } });
    const said = await open.noteVisit({
      caseId,
      visit: { ...visit, units: [{ ...lost, bondedAgainIn: 'case-3' }] },
      by: null,
    });
    expect(said.ok).toBe(true);
    const anew = clinic.anew();
    await anew.open();
    const all = named(livesCsv({ followUps: followUpsOf({ followUps: anew }), today: TODAY }));
    const two = all.filter((row) => row['unit'] === '21' && row['case'] === 'case-2');
    expect(two.map((row) => [row['life'], row['bonded_again_in']])).toEqual([
      ['case-2/21', 'case-3'],
    ]);
  });
});

const bondedTwo = {
  what: 'bonded',
  patient: 'C-101',
  title: 'One veneer again',
  people: [],
  lots: [],
  units: [
    {
      unit: '21',
      teeth: ['21'],
      isBridge: false,
      restoration: 'veneer',
      material: 'lithium-disilicate',
      limits: [],
    },
  ],
};
