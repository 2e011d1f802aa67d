/** The team's own change-over: learned from light that was pressed place by place, and planned with. */
import { describe, expect, it } from 'vitest';
import { explainFewest } from '../../src/plan/grouping.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { recordedCase, recordedChanges } from '../../src/runtime/cases/own-paces.ts';
import { changeOversOf } from '../../src/runtime/lead/own-changes.ts';
import { Chair } from '../engine/chair.ts';
import { caseOf, settingOf } from '../engine/fixture.ts';
import { atLight, pacedLight, press } from '../engine/light-pass.ts';

const TEETH = ['11', '21', '12'];

/** Seated teeth whose light is pressed place by place. */
function byPress(rows: string, restSeconds?: number): Chair {
  const light = pacedLight({ ...(restSeconds === undefined ? {} : { restSeconds }) });
  const chair = new Chair(settingOf(light, TEETH, { restMs: {} }));
  for (const tooth of TEETH) chair.rows(`confirm seat ${tooth}`);
  return chair.rows(rows);
}

const tooks = (chair: Chair) => changeOversOf(chair.log).map(({ tookMs }) => tookMs);

describe('a change-over', () => {
  it('is from the end of one exposure to the light on the next tooth', () => {
    // By hand: the lamp goes off by itself at 10 s and is on 21 at 14 s; off at 24 s, on 12 at 29 s.
    const chair = byPress(`
      at 0 s   light-on expose 11 facial
      at 14 s  light-move expose 21 facial
      at 25 s  light-off expose 21
      at 29 s  light-on expose 12 facial
    `);
    expect(tooks(chair)).toEqual([4000, 5000]);
  });

  it('is none on the same tooth, after something else was done, or after a long pause', () => {
    const chair = byPress(`
      at 0 s    light-on expose 11 facial
      at 10 s   light-off expose 11
      at 13 s   light-on expose 11 lingual
      at 23 s   light-off expose 11
      at 24 s   note suction
      at 26 s   light-on expose 21 facial
      at 36 s   light-off expose 21
      at 140 s  light-on expose 12 facial
    `);
    expect(tooks(chair)).toEqual([]);
  });

  it('is none where the tooth had to rest first', () => {
    const rows = `
      at 0 s   light-on expose 11 facial
      at 10 s  light-off expose 11
      at 12 s  light-on expose 21 facial
      at 22 s  light-off expose 21
      at 27 s  light-on expose 11 lingual
    `;
    expect(tooks(byPress(rows))).toEqual([2000, 5000]);
    expect(tooks(byPress(rows, 15))).toEqual([2000]);
  });

  it('is none where nobody knows how long it was, or where the press was taken back', () => {
    const asleep = byPress(`
      at 0 s   light-on expose 11 facial
      at 10 s  light-off expose 11
      at 11 s  sleep 2 s
               light-on expose 21 facial
    `);
    expect(tooks(asleep)).toEqual([]);
    const undone = byPress(`
      at 0 s   light-on expose 11 facial
      at 10 s  light-off expose 11
      at 12 s  light-on expose 21 facial
      at 13 s  undo
    `);
    expect(tooks(undone)).toEqual([]);
  });

  it('is not learned from a pass: there the tones set the time', () => {
    const chair = atLight(TEETH, {});
    press(chair, 'pass-begin');
    chair.at(40_000);
    press(chair, 'pass-confirm');
    expect(tooks(chair)).toEqual([]);
  });
});

describe('the plan', () => {
  const one = byPress(`
    at 0 s   light-on expose 11 facial
    at 14 s  light-move expose 21 facial
    at 28 s  light-move expose 12 facial
  `);
  const { protocol } = one.log.state.opened;
  const spec = caseOf(TEETH);
  const cases = (count: number) => Array.from({ length: count }, () => recordedCase(one.log));

  it('leads by the own change-over once it was timed five times', () => {
    expect(recordedChanges(spec, protocol, cases(2))).toEqual([]);
    const changeOvers = recordedChanges(spec, protocol, cases(3));
    expect(changeOvers).toMatchObject([{ step: 'expose', medianMs: 4000, count: 6 }]);
    const own = { ...spec, changeOvers };
    expect(makeRunPlan(own, protocol).changeMs).toEqual({ expose: 4000 });
    expect(makeRunPlan(spec, protocol).changeMs).toBeUndefined();
    const why = explainFewest({ spec: own, protocol, tables: null }).why;
    expect(why.find(({ id }) => id === 'change-over/expose')).toMatchObject({
      value: 4,
      inputs: { records: 6, protocolSeconds: 3 },
    });
  });

  it('times the tones of a pass by it', () => {
    const chair = new Chair(settingOf(protocol, TEETH, { restMs: {}, changeMs: { expose: 4000 } }));
    chair.do({ do: 'note-tones', heard: true }, null);
    for (const tooth of TEETH) chair.rows(`confirm seat ${tooth}`);
    press(chair, 'pass-begin');
    expect(chair.view.pass?.places.map(({ startsInMs }) => startsInMs)).toEqual([
      0, 14_000, 28_000,
    ]);
  });

  it('takes them with the case file, one for each step', () => {
    const change = { step: 'expose', medianMs: 4000, p90Ms: 6000, count: 6 };
    const file = { ...spec, changeOvers: [change] };
    expect(parseCase(file)).toMatchObject({ ok: true, value: { changeOvers: [change] } });
    const twice = parseCase({ ...file, changeOvers: [change, change] });
    expect(twice).toMatchObject({ ok: false, error: [{ place: 'case.changeOvers[1].step' }] });
  });
});
