/**
 * The forms of a record over a gap whose length nobody knows: what is known is told, nothing is made
 * up, and what may have been too long is told as not kept.
 */
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { EXPORT_FORMS, exportFile } from '../../src/export/export-forms.ts';
import { fhirBundle } from '../../src/export/fhir-bundle.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { recordFrame } from '../../src/export/record-frame.ts';
import { recordText } from '../../src/export/record-text.ts';
import { recordTimeline } from '../../src/export/record-timeline.ts';
import { stepsCsv } from '../../src/export/steps-csv.ts';
import { windowsCsv } from '../../src/export/windows-csv.ts';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { Chair } from '../engine/chair.ts';
import { confirm, dwell, protocolOf, settingOf, step, window } from '../engine/fixture.ts';
import { sourceOf } from './journals.ts';

const wet = protocolOf(
  [
    step('etch', 'tooth', dwell(15, 20, 30)),
    step('dry', 'tooth', confirm, { after: ['etch/same'] }),
    step('coat', 'tooth', confirm, { after: ['dry/same'] }),
  ],
  { windows: [window('wet', 'dry/end -> coat/start', { maxS: 60 })] },
);

/** 11 is etched and left wet over the gap; 21 is begun and ended behind it. */
const chair = new Chair(settingOf(wet, ['11', '21', '22'])).rows(`
  at 0 s     start etch 11
  at 0 s     start etch 22
  at 20 s    end etch 22
  at 22 s    confirm dry 22
  at 25 s    wall -1 h
             reload 20 s
             end etch 11
  at 50 s    start etch 21
  at 1:10    end etch 21
             confirm dry 21
             confirm coat 21 22
`);
const source = sourceOf(chair.log);
const facts = recordFacts(source);
const of = (key: string) => facts.steps.find((s) => s.key === key);

describe('a record over a gap of unknown length', () => {
  it('tells lengths over it without an upper end, and those behind it exactly', () => {
    expect(of('etch@tooth:11')?.elapsed).toEqual({ loMs: 22_000, hiMs: null });
    expect(of('etch@tooth:11')?.end?.at).toMatchObject({ hiMs: null, toUtc: null });
    expect(of('etch@tooth:11')).toMatchObject({ shortByMs: 0, overByMs: null });
    expect(of('etch@tooth:21')?.elapsed).toEqual({ loMs: 20_000, hiMs: 20_000 });
    expect(of('etch@tooth:21')).toMatchObject({ shortByMs: 0, overByMs: 0 });
    expect(facts.gaps).toMatchObject([{ length: { loMs: 0, hiMs: null }, isUntrusted: true }]);
  });

  it('tells the window over it as perhaps broken, its margin as not known', () => {
    const told = facts.windows.map((w) => [w.subject, w.state, w.marginToMaxMs]);
    expect(told).toEqual([
      ['tooth:21', 'kept', 60_000],
      ['tooth:22', 'may-be-broken', null],
    ]);
    expect(facts.breaches.map((b) => [b.kind, b.subject, b.by, b.perhaps])).toEqual([
      ['over', 'tooth:11', null, true],
      ['late', 'tooth:22', null, true],
    ]);
  });

  it('is the same after JSON: nothing in it is infinite', () => {
    expect(JSON.parse(JSON.stringify(facts))).toEqual(facts);
    expect(() => canonicalText(facts)).not.toThrow();
  });

  it('says so in words', () => {
    const text = recordText(facts);
    expect(text).toContain('etch, tooth 11, at least 22 s elapsed');
    expect(text).toContain('may be over the limit, nobody knows by how much');
    expect(text).toContain('max 60 s, margin not known');
    expect(text).toContain('or later');
    expect(text).not.toMatch(/Infinity|NaN|null|undefined|Invalid/);
  });

  it('leaves the cells of its tables empty where nobody knows', () => {
    const rowsOf = (text: string): Record<string, string>[] =>
      parse(text, { columns: true, bom: true });
    const etch = rowsOf(stepsCsv(facts)).find(
      (r) => r['step'] === 'etch' && r['subject'] === 'tooth:11',
    );
    expect(etch).toMatchObject({ elapsed_min_ms: '22000', elapsed_max_ms: '', over_by_ms: '' });
    const late = rowsOf(windowsCsv(facts)).find((r) => r['subject'] === 'tooth:22');
    expect(late).toMatchObject({
      state: 'may-be-broken',
      elapsed_max_ms: '',
      margin_to_max_ms: '',
    });
  });

  it('is a quantity that is not less than what is known in FHIR', () => {
    const { entry } = fhirBundle(facts) as unknown as {
      entry: { resource: Record<string, unknown> }[];
    };
    const observations = entry
      .map((e) => e.resource)
      .filter((r) => r['resourceType'] === 'Observation');
    const found = observations.find((r) => JSON.stringify(r).includes('at least 22 s'));
    expect(found).toMatchObject({ valueQuantity: { value: 22, comparator: '>=' } });
    expect(found?.['effectivePeriod']).toEqual({ start: '2026-11-27T09:00:00.000Z' });
  });

  it('is written in every form without a made-up figure', () => {
    for (const { id } of EXPORT_FORMS) {
      expect(exportFile(source, id).text, id).not.toMatch(/Infinity|NaN|Invalid/);
    }
  });

  it('has its place in the picture', () => {
    const picture = recordTimeline({ frame: recordFrame(source), facts, planned: null });
    expect(Number.isFinite(picture.endMs) && Number.isFinite(picture.doneEndMs)).toBe(true);
    expect(picture.gaps).toEqual([{ fromMs: 22_000, toMs: 22_000, isOpenEnded: true }]);
    const marks = picture.lanes.flatMap((l) => l.marks).filter((m) => m.step === 'etch');
    expect(marks.map((m) => [m.subjects[0], m.took.hiMs])).toEqual([
      ['tooth:11', null],
      ['tooth:22', 20_000],
      ['tooth:21', 20_000],
    ]);
  });
});
