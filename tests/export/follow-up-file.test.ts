/** The follow-up as a file and in a backup, read back at the terminal. */
import { createHash } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { replay } from '../../src/engine/log.ts';
import { bondedCase } from '../../src/export/bonded-case.ts';
import { fhirJson } from '../../src/export/fhir-bundle.ts';
import { followUpFile } from '../../src/export/follow-up-forms.ts';
import { followUpFileText } from '../../src/export/follow-up-json.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { livesOf } from '../../src/outcomes/lives.ts';
import type { Fact } from '../../src/runtime/facts/fact.ts';
import { must } from '../backup/filled-journal.ts';
import { backupOf, factsOf, restoreInto } from '../facts/tablets.ts';
import { found, meet, visit, type WithFollowUps, withFollowUps } from '../follow-up/clinic.ts';
import { type FollowedClinic, followedClinic, followUpsOf, TODAY } from './follow-up-clinic.ts';
import { finished } from './journals.ts';

let clinic: FollowedClinic;
let entries: readonly Fact[];
let saved: string;
let opened: string;

const entriesOf = async (tablet: WithFollowUps): Promise<readonly Fact[]> =>
  (await factsOf(tablet)).filter(({ kind }) => kind === 'follow-up');

const backupText = async (tablet: WithFollowUps): Promise<string> =>
  (await backupOf(tablet)).map((line) => `${line}\n`).join('');

beforeAll(async () => {
  clinic = await followedClinic();
  entries = await entriesOf(clinic);
  saved = followUpFileText({ entries, today: TODAY });
  opened = await backupText(clinic);
});

async function cli(args: readonly string[], text: string) {
  let [out, errors] = ['', ''];
  const code = await main(['lives', ...args], {
    readFile: async () => text,
    stdout: (words) => {
      out += words;
    },
    stderr: (words) => {
      errors += words;
    },
  });
  return { code, out, errors };
}

const app = (form: 'csv' | 'fhir', only?: string): string =>
  followUpFile(
    { followUps: followUpsOf(clinic), today: TODAY, ...(only === undefined ? {} : { only }) },
    form,
  ).text;

describe('lives at the terminal', () => {
  it.each(['csv', 'fhir'] as const)(
    'writes %s, the same bytes as the app, from the saved file and from an opened backup',
    async (form) => {
      const same = { code: 0, out: app(form), errors: '' };
      expect(await cli(['f.json', '--as', form], saved)).toEqual(same);
      expect(await cli([`--as=${form}`, '-', '--today', TODAY], opened)).toEqual(same);
      const one = { code: 0, out: app(form, 'case-1'), errors: '' };
      expect(await cli(['f.json', '--as', form, '--case', 'case-1'], saved)).toEqual(one);
    },
  );

  it('takes the last day that a backup tells of where none is named', async () => {
    const { out } = await cli(['f'], opened);
    expect(out).toBe((await cli(['f', '--today', '2026-11-30'], opened)).out);
    expect(out).not.toBe(app('csv'));
  });

  it('wraps the file in one JSON document when asked', async () => {
    const { out } = await cli(['f.json', '--json'], saved);
    expect(JSON.parse(out)).toEqual({
      form: 'csv',
      name: 'lives-2026-12-01.csv',
      mediaType: 'text/csv;charset=utf-8;header=present',
      text: app('csv'),
      problems: [],
    });
  });

  it('tells of an entry that was changed, and writes what holds', async () => {
    const changed = saved.replace('"tooth-lost"', '"in-place"');
    expect(changed).not.toBe(saved);
    const { code, out, errors } = await cli(['f.json'], changed);
    expect(code).toBe(1);
    expect(errors).toMatch(
      /^follow-up\.entries\[\d+\]: expected an entry that its id is the SHA-256 of, got .+\n$/,
    );
    expect(out.split('\r\n').length).toBeGreaterThan(10);
  });

  it.each([
    [[], null, 'lives: expected one file'],
    [['f', 'g'], null, 'lives: expected one file'],
    [['f', '--as', 'pdf'], null, 'lives.--as: expected one of csv, fhir'],
    [['f', '--today', '2026-02-30'], null, 'lives.--today: expected a calendar day'],
    [['f', '--today'], null, 'lives.--today: expected a value'],
    [['f', '--case', 'case-9'], null, 'lives.--case: expected a case of the file'],
    [['f'], '{}', 'follow-up.format: expected lutewatch-follow-up, or the lines of'],
    [['f'], '[', 'follow-up, line 1, column 2: expected'],
    [['f'], '{"format":"lutewatch-follow-up","formatVersion":2}', 'follow-up.formatVersion'],
  ] as const)('refuses %j in one line', async (args, text, line) => {
    const { code, out, errors } = await cli(args, text ?? saved);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(errors.startsWith(line)).toBe(true);
    expect(errors.match(/\n/g)).toHaveLength(1);
  });

  it('refuses a backup that was cut or changed anywhere', async () => {
    const lines = opened.trimEnd().split('\n');
    const cut = lines.toSpliced(2, 1).join('\n');
    const turned = opened.replace('lost-retention', 'tooth-lost');
    expect(turned).not.toBe(opened);
    for (const text of [cut, turned, lines.slice(0, -1).join('\n')]) {
      const { code, errors } = await cli(['f'], text);
      expect(code).toBe(2);
      expect(errors).toMatch(/^backup: expected /);
    }
  });
});

describe('the saved file', () => {
  it('names each entry by the SHA-256 of its canonical text', () => {
    // RFC 8785: of strings, whole numbers and lists the sorted keys are the canonical text; node:crypto hashes.
    const canonical = (value: unknown): string =>
      Array.isArray(value)
        ? `[${value.map(canonical).join(',')}]`
        : typeof value === 'object' && value !== null
          ? `{${Object.entries(value)
              .toSorted(([a], [b]) => (a < b ? -1 : 1))
              .map(([key, inner]) => `${JSON.stringify(key)}:${canonical(inner)}`)
              .join(',')}}`
          : JSON.stringify(value);
    const { entries: read } = JSON.parse(saved) as { entries: Fact[] };
    expect(read).toHaveLength(entries.length);
    for (const { id, ...rest } of read) {
      expect(createHash('sha256').update(canonical(rest)).digest('hex')).toBe(id);
    }
  });

  it('is the same whichever order the entries come in', () => {
    expect(followUpFileText({ entries: entries.toReversed(), today: TODAY })).toBe(saved);
  });
});

const livesOn = async (tablet: WithFollowUps) => {
  const anew = tablet.anew();
  must(await anew.open());
  return {
    lives: livesOf(followUpsOf({ followUps: anew }), TODAY),
    reviews: anew.state.getState().reviews,
    csv: followUpFile({ followUps: followUpsOf({ followUps: anew }), today: TODAY }, 'csv').text,
  };
};

describe('a backup', () => {
  it('carries every entry of the follow-up and every review, and shows the same lives on another tablet', async () => {
    const a = await followedClinic();
    const question = { endPoint: 'retention' as const, limits: ['step/etch'] };
    must(await a.followUps.fixQuestion({ question, by: 'RS' }));
    const looked = { chart: 'cusum' as const, of: 'retention', flaggedOn: TODAY, note: 'two lost' };
    must(await a.followUps.noteFlagLooked({ flag: looked, by: 'RS' }));
    const b = await withFollowUps('b');
    expect((await livesOn(b)).lives).toEqual([]);
    await restoreInto(b, await backupOf(a));
    const [there, here] = [await livesOn(a), await livesOn(b)];
    expect(here).toEqual(there);
    expect(here.lives.length).toBeGreaterThan(10);
    expect(here.reviews).toMatchObject({ question, looked: [looked] });
    expect(await factsOf(b)).toEqual(await factsOf(a));
  });

  it('merges by union: what two tablets noted of one case stands on both, in either order, once', async () => {
    const a = await followedClinic();
    const b = await withFollowUps('b');
    await restoreInto(b, await backupOf(a));
    must(await b.followUps.open());
    const caseId = 'case-2';
    const note = (on: WithFollowUps, day: string) =>
      on.followUps
        .noteVisit({ caseId, visit: visit(day, found('11', 'in-place')), by: on.id })
        .then(must);
    await note(a, '2026-05-01');
    await note(b, '2026-08-01');
    await meet(a, b);
    const once = await livesOn(a);
    expect(await livesOn(b)).toEqual(once);
    expect(once.csv.match(/2026-0[58]-01/g)).toHaveLength(2);
    await meet(b, a);
    expect(await livesOn(a)).toEqual(once);
  });

  it('leaves a visit that was struck after it was made struck', async () => {
    const a = await followedClinic();
    const before = await backupOf(a);
    const of = a.ids.again;
    must(await a.followUps.strikeVisit({ caseId: 'case-1', of, reason: 'x', by: null }));
    const struck = await livesOn(a);
    await restoreInto(a, before);
    expect(await livesOn(a)).toEqual(struck);
    expect(struck.csv).not.toContain(of);
  });
});

describe('a rehearsal', () => {
  it('bonds nothing: of two equal cases only the one on a patient is in any file, and it names its record', async () => {
    const { log } = finished();
    const asPatient = log.records.map((recorded) => {
      const { event } = recorded;
      if (event.type !== 'case-opened') return recorded;
      return { ...recorded, event: { ...event, mode: 'patient' as const } };
    });
    expect(log.state.opened.mode).toBe('rehearsal');
    expect(bondedCase(log, {})).toBeNull();
    const a = await withFollowUps('a');
    for (const [caseId, records] of [
      ['rehearsed', log.records],
      ['on-patient', asPatient],
    ] as const) {
      for (const press of new Set(records.map((recorded) => recorded.press))) {
        const recorded = records.filter((each) => each.press === press);
        must(await a.journal.append({ caseId, epoch: a.epoch, recorded }));
      }
    }
    must(await a.followUps.closingTurned({ caseId: 'rehearsed', log }));
    must(await a.followUps.open());
    await a.followUps.takeInOlder();
    const text = await backupText(a);
    // The record of the rehearsal is in the backup; its units are in no row and no Observation.
    expect(text).toContain('"caseId":"rehearsed"');
    const table = await cli(['f'], text);
    const rows = table.out.trimEnd().split('\r\n').slice(1);
    expect(rows.map((row) => row.split(',')[0])).toEqual(
      log.state.opened.spec.units.map(() => 'on-patient'),
    );
    const [unit] = log.state.opened.spec.units;
    const onDay = followUpsOf(a)[0]?.bonded?.bondedOn ?? '';
    must(
      await a.followUps.noteVisit({
        caseId: 'on-patient',
        visit: visit(onDay, found(unit?.id ?? '', 'in-place')),
        by: null,
      }),
    );
    const bundle = await cli(['f', '--as', 'fhir'], await backupText(a));
    expect(bundle.out).not.toContain('rehearsed');
    const entries = must(await a.journal.read('on-patient')).entries;
    const whole = { log: replay(asPatient), entries };
    const verification = { goodCount: entries.length, firstBad: null };
    const record = fhirJson(recordFacts({ ...whole, verification }));
    const named = /"value": "urn:uuid:([^"]+)"\n\s+\},\n\s+"display": "Unit /.exec(bundle.out);
    expect(record).toContain(`"id": "${named?.[1]}"`);
  });
});
