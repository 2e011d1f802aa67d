/**
 * The picture of a record against the rows of what was done and against the record's own facts. The
 * rows of the test are the standard: a bar must lie where the rows say. Where a whole case is too
 * long to count by hand, every bar is held to the step fact of the same journal.
 */
import { describe, expect, it } from 'vitest';
import { type CaseLog, momentOf, momentsOf } from '../../src/engine/log.ts';
import type { RecordSource } from '../../src/export/export-source.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { recordFrame } from '../../src/export/record-frame.ts';
import { recordTimeline } from '../../src/export/record-timeline.ts';
import type { LengthFact } from '../../src/export/record-types.ts';
import { openingTimeline } from '../../src/plan/replan.ts';
import { DEMO_CASES, eventful, finished, followed, sourceOf } from './journals.ts';

const pictureOf = (source: RecordSource, o: { readonly isPlanned: boolean }) => {
  const facts = recordFacts(source);
  const planned = o.isPlanned ? openingTimeline(source.log.state) : null;
  return {
    facts,
    planned,
    picture: recordTimeline({ frame: recordFrame(source), facts, planned }),
  };
};

const bare = (source: RecordSource) => pictureOf(source, { isPlanned: false });

/** Seconds of the bars of a step: subjects, from, to, and whether they still count. */
function barsOf(source: RecordSource, step: string) {
  return bare(source)
    .picture.lanes.filter((lane) => lane.kind === 'person')
    .flatMap((lane) => lane.marks)
    .filter((m) => m.step === step)
    .map((m) => [m.subjects.join(' '), m.from.loMs / 1000, m.to.loMs / 1000, m.isVoided]);
}

describe('bars of what was done', () => {
  it('lie where the rows say, moved presses and runs that no longer count included', () => {
    // Rows: 11 from 70 s to 83 s; 21 from 74 s, ended at 95 s and moved 2 s earlier, later voided by
    // the way back and etched again from 170 s to 190 s; 22 begun at 78 s, undone, begun at 80 s.
    expect(barsOf(sourceOf(eventful().log), 'etch')).toEqual([
      ['tooth:11', 70, 83, false],
      ['tooth:21', 74, 93, true],
      ['tooth:22', 80, 120, false],
      ['tooth:21', 170, 190, false],
    ]);
  });

  it('are one where one press stood for several subjects', () => {
    expect(barsOf(sourceOf(eventful().log), 'dry')).toEqual([
      ['tooth:21', 150, 150, true],
      ['tooth:11 tooth:22', 150, 150, false],
      ['tooth:21', 210, 210, false],
    ]);
  });

  it('are marked where a bound was not kept', () => {
    // 11 had 13 s of at least 15 s, 22 had 40 s of at most 30 s; the bounds stand in the fixture.
    const marks = bare(sourceOf(eventful().log)).picture.lanes.flatMap((l) => l.marks);
    const broken = marks.filter((m) => m.step === 'etch' && m.isBroken).map((m) => m.subjects[0]);
    expect(broken).toEqual(['tooth:11', 'tooth:22']);
  });

  it.each<[string, () => CaseLog]>([
    ['an eventful case', () => finished().log],
    ...DEMO_CASES.map((name): [string, () => CaseLog] => [name, () => followed(name).log]),
  ])('equal the times of the record: %s', (_, make) => {
    const { facts, picture } = bare(sourceOf(make()));
    const marks = picture.lanes.filter((l) => l.kind === 'person').flatMap((l) => l.marks);
    for (const step of facts.steps) {
      if (step.status === 'skipped' || !step.start?.pressed) continue;
      const own = marks.filter(
        (m) => m.step === step.step && m.subjects.includes(step.subject) && !m.isVoided,
      );
      if (step.action !== 'expose') {
        const to = step.end ?? step.start;
        expect(
          own.map((m) => [m.from, m.to]),
          step.key,
        ).toEqual([[lengthOf(step.start.at), lengthOf(to.at)]]);
        continue;
      }
      // Each exposure is a bar as long as the light that was given.
      expect(own.map((m) => m.to.loMs - m.from.loMs).sort(), step.key).toEqual(
        step.exposures.map((e) => e.given.loMs).sort(),
      );
    }
  });

  it('put each exposure where the light was pressed on', () => {
    const log = followed('two-veneers').log;
    const { facts, picture } = bare(sourceOf(log));
    const lit = picture.lanes.find((l) => l.id === 'light')?.marks ?? [];
    const onMs = facts.steps
      .flatMap((s) => s.exposures)
      .map((e) => Date.parse(e.on?.pressedUtc ?? '') - Date.parse(facts.openedUtc));
    expect(onMs.length).toBeGreaterThan(4);
    // No gap and no moved press in a followed case: the wall clock is the case axis.
    expect(lit.map((m) => m.from.loMs)).toEqual(onMs.toSorted((a, b) => a - b));
  });
});

const lengthOf = ({ loMs, hiMs }: LengthFact) => ({ loMs, hiMs });

describe('moments of the presses', () => {
  it.each([
    ['an eventful case', () => finished().log],
    ['two veneers', () => followed('two-veneers').log],
  ])('are those that each press is found at by itself: %s', (_, make) => {
    const log = make();
    const moments = momentsOf(log);
    expect(moments.size).toBeGreaterThan(20);
    for (const [press, at] of moments) if (press > 0) expect(at).toEqual(momentOf(log, press));
  });
});

describe('windows of the picture', () => {
  it.each([
    ['an eventful case', () => finished().log],
    ['eight veneers', () => followed('eight-upper-veneers').log],
  ])('leave the smallest margin that the record tells: %s', (_, make) => {
    const { facts, picture } = bare(sourceOf(make()));
    const gauges = [...picture.windows.flat(), ...picture.lanes.flatMap((l) => l.gauges)];
    const closed = gauges.filter((g) => g.to !== null && g.maxMs !== null);
    expect(closed.length).toBeGreaterThan(2);
    for (const { window, subjects, fromMs, to, maxMs } of closed) {
      const own = facts.windows.filter(
        (w) => w.window === window && subjects.includes(w.subject) && w.opened.loMs === fromMs,
      );
      const tightest = Math.min(...own.map((w) => w.marginToMaxMs ?? Infinity));
      expect((maxMs ?? 0) - ((to?.hiMs ?? 0) - fromMs), window).toBe(tightest);
    }
  });

  it('stand with the mix they run from, or alone', () => {
    const { facts, picture } = bare(sourceOf(finished().log));
    const all = new Set(facts.windows.map((w) => w.window));
    const drawn = [...picture.windows.flat(), ...picture.lanes.flatMap((l) => l.gauges)];
    expect(new Set(drawn.map((g) => g.window))).toEqual(all);
    const mixes = picture.lanes.filter((l) => l.kind === 'mix');
    expect(mixes.every((l) => l.gauges.length > 0)).toBe(true);
  });
});

describe('the plan in the picture', () => {
  it('is the plan that the case was opened with, waiting left out', () => {
    const { planned, picture } = pictureOf(sourceOf(followed('two-veneers').log), {
      isPlanned: true,
    });
    const bars = (planned?.bars ?? []).filter((b) => b.part !== 'wait');
    for (const role of ['dentist', 'assistant'] as const) {
      const lane = picture.lanes.find((l) => l.id === role);
      expect(lane?.planned.map((b) => b.id)).toEqual(
        bars.filter((b) => b.by === role).map((b) => b.id),
      );
    }
    expect(picture.plannedEndMs).toBe(planned?.endMs);
  });

  it('stays the plan of the opening when the plan is changed later', () => {
    // `finished` adds a mix on the way; the picture compares with what was planned at first.
    const early = openingTimeline(eventful().log.state);
    const late = openingTimeline(finished().log.state);
    expect(late).toEqual(early);
  });

  it('tells each step as planned and as done', () => {
    const { picture } = pictureOf(sourceOf(followed('two-veneers').log), { isPlanned: true });
    const etch = picture.compared.find((c) => c.step === 'etch');
    expect(etch?.done?.toMs).toBeGreaterThan(etch?.done?.fromMs ?? Infinity);
    expect(etch?.planned?.toMs).toBeGreaterThan(etch?.planned?.fromMs ?? Infinity);
    expect(picture.compared.length).toBeGreaterThan(20);
  });
});

describe('changes in the picture', () => {
  it('stand at the press that made them, dead time as long as it may have been', () => {
    const { picture } = bare(sourceOf(eventful().log));
    // Rows: undone at 79 s, moved at 97 s, way back at 155 s, 7 s of sleep after 210 s, settled last.
    expect(picture.changes.map((c) => [c.kind, c.atMs / 1000]).slice(0, 3)).toEqual([
      ['correction', 79],
      ['correction', 97],
      ['way-back', 155],
    ]);
    expect(picture.gaps.map((g) => (g.toMs - g.fromMs) / 1000)).toEqual([7]);
  });
});

describe('windows as planned', () => {
  it.each([
    ['an eventful case', () => finished().log],
    ['eight veneers', () => followed('eight-upper-veneers').log],
  ])('are those of the plan, each once, in its lane or in its row: %s', (_, make) => {
    const { planned, picture } = pictureOf(sourceOf(make()), { isPlanned: true });
    const bands = planned?.bands.filter((b) => b.what === 'window') ?? [];
    const drawn = Object.values(picture.plannedWindows).flat();
    expect(drawn.map((w) => w.id).toSorted()).toEqual(bands.map((b) => b.id).toSorted());
    for (const { id, fromMs, toMs } of drawn) {
      expect(bands.find((b) => b.id === id)).toMatchObject({ fromMs, toMs });
    }
    const ofMixes = picture.lanes.flatMap((lane) => lane.plannedWindows.map((w) => w.id));
    expect(ofMixes.length).toBeGreaterThan(0);
    expect(bands.filter((b) => ofMixes.includes(b.id)).every((b) => b.id.includes('/mix:'))).toBe(
      true,
    );
  });

  it('are none where there is no plan', () => {
    const { picture } = bare(sourceOf(finished().log));
    expect(Object.values(picture.plannedWindows).flat()).toEqual([]);
  });
});
