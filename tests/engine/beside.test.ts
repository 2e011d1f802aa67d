/** What is recorded beside the steps: emergencies, injections, counts, and when the patient may rest. */
import { describe, expect, it } from 'vitest';
import { countsOf } from '../../src/engine/counts.ts';
import { presses } from '../../src/engine/log.ts';
import { isFieldClosed, mayRestNow } from '../../src/engine/rest-now.ts';
import type { Action } from '../../src/protocol/types.ts';
import { Chair } from './chair.ts';
import { confirm, dwell, ETCH_ROUND, protocolOf, settingOf, step, window } from './fixture.ts';

const counted = (equals?: string): Action => ({
  kind: 'confirm',
  evidence: {
    kind: 'reading',
    label: 'Cords',
    unit: 'pieces',
    min: 0,
    max: 20,
    ...(equals === undefined ? {} : { equals }),
  },
});

const CORDS = protocolOf([
  step('ready', 'case', confirm),
  step('cord-in', 'tooth', counted(), { after: ['ready'] }),
  step('cord-out', 'case', counted('cord-in'), { after: ['cord-in'] }),
]);

/** Presses a step with what was typed for it. */
function press(chair: Chair, name: string, subject: string, evidence?: string): void {
  const offer = { kind: 'confirm', step: name, subjects: [subject] } as const;
  const more = evidence === undefined ? {} : { evidence };
  expect(chair.do({ do: 'press', offer, ...more })).toBeNull();
}

describe('an emergency', () => {
  const note = { card: 'choking', act: 'opened' } as const;

  it('is noted, voids nothing, and leaves the bar and undo as they were', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['11', '12']));
    chair.rows('at 1 s next\nat 5 s start etch 11');
    const [before, undoable] = [chair.view, presses(chair.log).at(-1)];
    expect(chair.do({ do: 'note-emergency', note })).toBeNull();
    expect(chair.view).toEqual(before);
    expect(presses(chair.log).at(-1)).toBe(undoable);
    expect(chair.log.state.emergencies).toMatchObject([{ ...note, at: { loMs: 5000 } }]);
    expect(chair.log.state.voided).toEqual([]);
    chair.rows('undo');
    expect(chair.log.state.emergencies).toHaveLength(1);
  });

  it('is noted after the signature too; an injection is not', () => {
    const chair = new Chair(settingOf(CORDS, ['11']));
    press(chair, 'ready', 'case');
    press(chair, 'cord-in', 'tooth:11', '1 pieces');
    press(chair, 'cord-out', 'case', '1 pieces');
    chair.rows('sign-off dentist-a');
    expect(chair.do({ do: 'note-emergency', note })).toBeNull();
    const given = { agent: 'a', technique: 't', teeth: ['11'] };
    expect(chair.do({ do: 'give-anaesthesia', given })?.code).toBe('case-closed');
  });
});

describe('an injection', () => {
  const given = { agent: 'lidocaine-100', technique: 'lower-block', teeth: ['46', '45'] };

  it('can be moved in time and taken back, and a top-up voids nothing', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['46', '45']));
    chair.rows('at 1 s next\nat 10 s start etch 46');
    expect(chair.do({ do: 'give-anaesthesia', given })).toBeNull();
    chair.rows('retime -5 s');
    chair.at(600_000);
    expect(chair.do({ do: 'give-anaesthesia', given: { ...given, ml: 0.9 } })).toBeNull();
    const { injections, voided, runs } = chair.log.state;
    expect(injections.map((i) => [i.at.loMs, i.ml])).toEqual([
      [5000, undefined],
      [600_000, 0.9],
    ]);
    expect(voided).toEqual([]);
    expect(runs['etch@tooth:46']?.status).toBe('running');
    chair.rows('undo');
    expect(chair.log.state.injections).toHaveLength(1);
  });

  it.each([[[]], [['46', '19x']], [['90']]])('is refused for %j', (teeth) => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['46']));
    expect(chair.do({ do: 'give-anaesthesia', given: { ...given, teeth } })?.code).toBe(
      'unknown-subject',
    );
  });
});

describe('what is counted in', () => {
  /** Counts in on both teeth and out of the case; answers what is told. */
  function afterCounting(out: string | undefined) {
    const chair = new Chair(settingOf(CORDS, ['11', '12']));
    press(chair, 'ready', 'case');
    expect(countsOf(chair.log.state)).toEqual([]);
    chair.at(60_000);
    press(chair, 'cord-in', 'tooth:11', '2 pieces');
    chair.at(90_000);
    press(chair, 'cord-in', 'tooth:12', '1 pieces');
    const before = countsOf(chair.log.state);
    expect(before).toMatchObject([{ label: 'Cords', in: 3, out: null, isOut: false }]);
    expect(before[0]?.since.loMs).toBe(60_000);
    press(chair, 'cord-out', 'case', out);
    return countsOf(chair.log.state)[0];
  }

  it.each([
    ['3 pieces', { in: 3, out: 3, isOut: true, isEven: true }],
    ['2 pieces', { in: 3, out: 2, isOut: true, isEven: false }],
    ['4 pieces (expected 0 to 3)', { in: 3, out: 4, isOut: true, isEven: false }],
    [undefined, { in: 3, out: null, isOut: true, isEven: false }],
  ])('against what was typed on the way out: %s', (out, told) => {
    expect(afterCounting(out)).toMatchObject(told);
  });
});

describe('a rest of 5 min', () => {
  const REST_MS = 300_000;
  const protocol = protocolOf(
    [
      step('ready', 'case', confirm),
      step('dam', 'case', confirm, { field: 'closes', after: ['ready'] }),
      step('etch', 'tooth', dwell(15, 20, 30), { after: ['dam'], hands: [4, 4] }),
      step('dry', 'tooth', confirm, { after: ['etch'], together: true }),
      step('cover', 'tooth', confirm, { after: ['dry'], together: true }),
      step('dam-off', 'case', confirm, { after: ['cover'], field: 'opens' }),
    ],
    { windows: [window('wet', 'dry/end -> cover/end', { maxS: 290 })] },
  );

  it('is open until a limit would be broken by it, and again after; rinsing waits for the field', () => {
    const chair = new Chair(settingOf(protocol, ['11']));
    const now = () => [
      mayRestNow(chair.view, { protocol, restMs: REST_MS }),
      isFieldClosed(chair.log.state),
    ];
    chair.rows('at 1 s next');
    expect(now()).toEqual([true, false]);
    chair.rows('at 2 s next');
    expect(now()).toEqual([true, true]);
    chair.rows('at 10 s start etch 11');
    expect(now()).toEqual([false, true]);
    chair.rows('at 30 s end etch 11');
    expect(now()).toEqual([true, true]);
    chair.rows('at 40 s next');
    expect(now()).toEqual([false, true]);
    chair.rows('at 50 s next\nat 60 s next');
    expect(now()).toEqual([true, false]);
  });

  it('is not open while uncured resin lies open, nor while something is owed after a mishap', () => {
    const waiting = protocolOf(
      [
        step('ready', 'case', confirm),
        step('seat', 'unit', confirm, { after: ['ready'] }),
        step('found', 'unit', confirm, { after: ['ready'], onlyIf: [{ wayBack: 'dropped' }] }),
        step('light', 'unit', confirm, { after: ['seat'] }),
        step('polish', 'unit', confirm, { after: ['light'] }),
      ],
      {
        windows: [{ ...window('open', 'seat/end -> light/end', { maxS: 1800 }), amber: true }],
        waysBack: [
          {
            id: 'dropped',
            title: 'A unit was dropped',
            mishap: 'unit-dropped',
            per: 'unit',
            voids: [],
            proposal: 'Look for it.',
            basis: { kind: 'practice' },
          },
        ],
      },
    );
    const chair = new Chair(settingOf(waiting, ['11']));
    const now = () => mayRestNow(chair.view, { protocol: waiting, restMs: REST_MS });
    chair.rows('at 1 s next');
    expect(now()).toBe(true);
    chair.rows('at 10 s next');
    expect(now()).toBe(false);
    chair.rows('at 20 s next');
    expect(now()).toBe(true);
    chair.rows('at 30 s way-back dropped unit-dropped unit:11 because it fell');
    expect(now()).toBe(false);
  });
});
