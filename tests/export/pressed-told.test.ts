/** How each step was pressed is told for what it is: lists, sweeps, what a later press said, paced light. */
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { eventWords } from '../../src/cli/rehearse-words.ts';
import { caseDates } from '../../src/export/case-calendar.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { recordText } from '../../src/export/record-text.ts';
import { stepsCsv } from '../../src/export/steps-csv.ts';
import { windowsCsv } from '../../src/export/windows-csv.ts';
import { recordModel } from '../../src/ui/record/page/record-model.ts';
import { sourceOf } from './journals.ts';
import { followPressed, pressedChair, pressedWhole, untilOffer } from './pressed-journals.ts';

const chair = pressedWhole();
const source = sourceOf(chair.log);
const facts = recordFacts(source);
const of = (key: string) =>
  present(
    facts.steps.find((s) => s.key === key),
    key,
  );
const text = recordText(facts);
const lineOf = (title: string, subject: string): string =>
  present(
    text.split('\n').find((l) => l.startsWith(`  ${title}, ${subject}`)),
    title,
  );
const pressOf = (type: string, step: string): number =>
  present(
    chair.log.records.find(
      (r) => r.event.type === type && 'step' in r.event && r.event.step === step,
    ),
    `${type} ${step}`,
  ).press;

describe('a step of a record', () => {
  it('is one line of a list that was confirmed as a whole', () => {
    expect(of('charge@case').pressed).toEqual({ kind: 'list', title: 'Opening', lines: 9 });
    expect(lineOf('Tablet charge', '')).toContain('one of 9 lines confirmed together (Opening)');
    expect(of('pause-over@case').pressed).toBeNull();
  });

  it('is swept: each subject between the shortest and the longest the hands may have taken', () => {
    const acid = of('acid@unit:21');
    expect(acid.pressed).toEqual({ kind: 'swept', start: true, end: true });
    const press = present(chair.log.state.runs['acid@unit:21']?.startedAt, 'acid').loMs;
    // The second in the order, two to six seconds for each: after 2 s at the earliest, 12 s at the latest.
    expect(acid.start?.at).toMatchObject({ loMs: press + 2000, hiMs: press + 12_000 });
    expect(lineOf('Acid', 'unit 21')).toMatch(
      /swept with one press: began between .* \d\d:\d\d:\d\d and \d\d:\d\d:\d\d, ended between /,
    );
    expect(of('acid-rinse@unit:21').pressed).toEqual({ kind: 'swept', start: true, end: false });
  });

  it('is said by the press of a later one, between what was known before and that press', () => {
    const load = of('load@unit:11');
    expect(load.pressed).toEqual({ kind: 'implied', by: 'seat', title: 'Seat' });
    expect(load.end?.at.loMs).toBe(of('sample-bead@mix:1').end?.at.loMs);
    expect(load.end?.at.hiMs).toBe(of('seat@unit:11').end?.at.hiMs);
    expect(load.elapsed).toEqual({ loMs: 0, hiMs: 0 });
    expect(lineOf('Load', 'unit 11')).toMatch(/said by the press of “Seat”, between .* and /);
  });

  it('is paced: each exposure with its seconds, the pass begun by one press and confirmed by another', () => {
    const tack = of('tack@tooth:11');
    expect(tack.pressed).toEqual({ kind: 'paced', pacedMs: 3000 });
    expect(tack.exposures).toHaveLength(1);
    expect(tack.exposures[0]).toMatchObject({
      isPaced: true,
      given: { loMs: 3000, hiMs: 3000 },
      on: { press: pressOf('light-pass-begun', 'tack') },
      off: { press: pressOf('light-pass-confirmed', 'tack') },
    });
    expect(lineOf('Tack', 'tooth 11')).toContain('3 s paced by tones and confirmed afterwards');
    // A place after the first may have been lit a change-over earlier or later than its tone: 3 s each way.
    const widths = ['11', '21'].map((tooth) => {
      const onAt = present(of(`expose@tooth:${tooth}`).exposures[0]?.onAt, tooth);
      return (onAt.hiMs ?? 0) - onAt.loMs;
    });
    expect(widths.toSorted((a, b) => a - b)).toEqual([0, 6000]);
  });
});

it('waits for the finishing visit from the latest that the last light can have ended', () => {
  const ends = facts.steps.flatMap((s) => (s.action === 'expose' ? [s.end?.at.toUtc ?? ''] : []));
  const latest = Math.max(...ends.map((utc) => Date.parse(utc)));
  // Contacts stay closed for 24 hours: common practice, no source.
  expect(caseDates(facts).finishingNotBeforeMs).toBe(latest + 24 * 3_600_000);
  const earliest = Math.max(
    ...facts.steps.flatMap((s) =>
      s.action === 'expose' && s.end ? [Date.parse(s.end.at.fromUtc)] : [],
    ),
  );
  expect(latest).toBeGreaterThan(earliest);
});

describe('passes of light', () => {
  it('are told with their stops, what they were gone on with and who confirmed what', () => {
    const [stopped] = facts.passes.filter((p) => p.step === 'expose');
    expect(stopped?.turns.map((t) => t.kind)).toEqual(['begun', 'stopped', 'resumed']);
    expect(stopped?.turns.every((t) => t.pressed?.by === 'Dentist A')).toBe(true);
    expect(stopped?.confirmed).toMatchObject({ impliedBy: null, pressed: { by: 'Dentist A' } });
    expect(stopped?.places.map((p) => [p.subject, p.state])).toEqual([
      ['tooth:11', 'confirmed'],
      ['tooth:21', 'confirmed'],
    ]);
    expect(text).toMatch(
      /Expose: begun .*; stopped .*; resumed .*; confirmed .*: tooth 11 facial 10 s/,
    );
  });

  it('that nobody confirmed count for nothing, and are told as that', () => {
    const open = followPressed(pressedChair(), { until: untilOffer('pass-confirm', 'expose') });
    const told = recordFacts(sourceOf(open.log));
    const pass = present(told.passes.at(-1), 'a pass');
    expect(pass.confirmed).toBeNull();
    expect(new Set(pass.places.map((p) => p.state))).toEqual(new Set(['open']));
    for (const { subject, surface } of pass.places) {
      const given = told.steps
        .filter((s) => s.step === 'expose' && s.subject === subject)
        .flatMap((s) => s.exposures.filter((e) => e.surface === surface));
      expect(given).toEqual([]);
    }
    expect(pass.places.length).toBeGreaterThan(0);
    expect(recordText(told)).toContain('paced, not confirmed, nothing of it counts: tooth 11');
    const page = recordModel(sourceOf(open.log));
    expect(page.passes.at(-1)?.words).toContain('paced, not confirmed');
  });

  it('that somebody confirmed without any place say that nothing was lit', () => {
    const none = followPressed(pressedChair(), { until: untilOffer('pass-confirm', 'expose') });
    const offer = present(none.view.offers[0], 'an offer');
    expect(none.do({ do: 'press', offer: { ...offer, places: [] } })).toBeNull();
    const told = recordFacts(sourceOf(none.log));
    expect(new Set(told.passes.at(-1)?.places.map((p) => p.state))).toEqual(new Set(['left-out']));
    expect(recordText(told)).toMatch(
      /confirmed .* by Dentist A: none of it was lit; left out: tooth 11/,
    );
  });

  it('stand while nobody watched the clocks as stopped, by no press', () => {
    const slept = followPressed(pressedChair(), { until: untilOffer('pass-stop', 'expose') });
    slept.at(slept.trueMs + 2000);
    const before = slept.stamp;
    slept.rows('sleep 60 s');
    slept.do({ do: 'note-gap', before, after: slept.stamp, cause: 'asleep-or-moved' }, null);
    const turns = recordFacts(sourceOf(slept.log)).passes.at(-1)?.turns;
    expect(turns?.map((t) => [t.kind, t.pressed === null])).toEqual([
      ['begun', false],
      ['stopped', true],
    ]);
  });

  it('are offered only where tones are heard, and the record says whether they were', () => {
    const silent = pressedChair();
    silent.do({ do: 'note-tones', heard: false });
    const { tones } = recordFacts(sourceOf(silent.log));
    expect(tones.map((t) => t.heard)).toEqual([true, false]);
  });
});

describe('a press that was taken back', () => {
  it('is told with how it was pressed, in the record and in the terminal', () => {
    const undone = followPressed(pressedChair(), { until: untilOffer('confirm', 'seat') });
    undone.next();
    const event = undone.log.records.find(
      ({ event: e }) => e.type === 'step-confirmed' && e.impliedBy !== undefined,
    )?.event;
    expect(event && eventWords(event)).toBe('step-confirmed load unit:11 (by seat)');
    undone.rows('undo');
    const told = recordFacts(sourceOf(undone.log));
    expect(recordText(told)).toContain(
      'taken back (step-confirmed load unit 11 (by seat); step-confirmed seat unit 11)',
    );
    // Undoing the later press undoes what it said.
    expect(told.steps.some((s) => s.step === 'load')).toBe(false);
  });

  it('of a pass names its places, of tones whether they were heard', () => {
    const words = chair.log.records.map(({ event }) => eventWords(event));
    expect(words).toContain('tones-heard (heard)');
    expect(words).toContain('light-pass-confirmed tack (tooth:11 facial 1 3 s)');
    expect(
      words.some((w) => /^step-started acid unit:11 unit:21 \(sweep 2 s to 6 s\)$/.test(w)),
    ).toBe(true);
    expect(words.join(' ')).not.toContain('[object');
  });
});

describe('its tables', () => {
  const rows = (csvText: string): Record<string, string>[] =>
    parse(csvText, { columns: true, bom: true });
  const step = (key: string) =>
    rows(stepsCsv(facts)).find((r) => `${r['step']}@${r['subject']}` === key);

  it('tell the earliest, the latest and the way of pressing', () => {
    const acid = of('acid@unit:21');
    expect(step('acid@unit:21')).toMatchObject({
      start_case_ms: String(acid.start?.at.loMs),
      start_latest_case_ms: String(acid.start?.at.hiMs),
      pressed: 'swept',
      limits: 'kept',
    });
    expect(step('load@unit:11')).toMatchObject({ pressed: 'implied', pressed_with: 'seat' });
    expect(step('charge@case')).toMatchObject({ pressed: 'list', pressed_with: 'Opening' });
    expect(step('tack@tooth:11')).toMatchObject({ pressed: 'paced', paced_ms: '3000' });
    expect(step('seat@unit:11')).toMatchObject({ pressed: '', pressed_with: '', paced_ms: '' });
  });

  it('tell of each window how its edges were pressed', () => {
    const working = rows(windowsCsv(facts)).find((r) => r['window'] === 'cement-open');
    expect(working).toMatchObject({ opened_pressed: '', closed_pressed: 'paced', state: 'kept' });
    expect(Number(working?.['closed_latest_case_ms'])).toBeGreaterThanOrEqual(
      Number(working?.['closed_case_ms']),
    );
  });
});
