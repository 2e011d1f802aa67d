/** Something goes wrong between a step that a later press would say and that press: people are asked. */
import { describe, expect, it } from 'vitest';
import { layoutOf } from '../../src/engine/layout.ts';
import { wayBackQuestion, waysBackOffered } from '../../src/engine/way-back-asked.ts';
import { type WayBackOffer, waysBackNow } from '../../src/engine/ways-back.ts';
import type { WayBack } from '../../src/protocol/types.ts';
import { Chair } from './chair.ts';
import { confirm, protocolOf, settingOf, step } from './fixture.ts';

type Way = Pick<WayBack, 'id' | 'mishap' | 'from' | 'until' | 'voids'>;

const way = (own: Way): WayBack => ({
  title: own.id,
  per: 'unit',
  proposal: 'Do it again.',
  basis: { kind: 'practice' },
  ...own,
});

const SEATING = protocolOf(
  [
    step('fit', 'unit', confirm, { together: true }),
    step('primer', 'unit', confirm, { after: ['fit/same'], together: true }),
    step('wiped', 'unit', confirm, {
      after: ['primer'],
      onlyIf: [{ wayBack: 'dropped', voided: 'load' }],
    }),
    step('cement', 'mix', confirm, { after: ['primer', 'wiped', 'seat/previous'] }),
    step('load', 'unit', confirm, {
      after: ['cement/linked', 'seat/previous'],
      pressed: { kind: 'implied', by: ['seat'] },
    }),
    step('seat', 'unit', confirm, { after: ['load/same'] }),
  ],
  {
    waysBack: [
      way({
        id: 'dropped',
        mishap: 'unit-dropped',
        from: { step: 'fit', edge: 'end' },
        until: { step: 'seat', edge: 'end' },
        voids: [
          { step: 'primer', link: 'same' },
          { step: 'load', link: 'same' },
        ],
      }),
      way({
        id: 'waited',
        mishap: 'left-in-light',
        from: { step: 'primer', edge: 'end' },
        until: { step: 'load', edge: 'end' },
        voids: [{ step: 'primer', link: 'same' }],
      }),
      way({
        id: 'loaded-in-light',
        mishap: 'left-in-light',
        from: { step: 'load', edge: 'end' },
        until: { step: 'seat', edge: 'end' },
        voids: [{ step: 'load', link: 'same' }],
      }),
      way({
        id: 'high',
        mishap: 'unit-will-not-seat',
        from: { step: 'load', edge: 'end' },
        voids: [
          { step: 'load', link: 'same' },
          { step: 'seat', link: 'same' },
        ],
      }),
    ],
  },
);

const ALL = ['unit:11', 'unit:12'];
const LOAD = [{ step: 'load', subjects: ['unit:11'] }];

/** Cement is out, and the press that comes is that of seating. */
function mixed(): Chair {
  return new Chair(settingOf(SEATING, ['11', '12'])).rows(`
    at 0 s    confirm fit 11 12
    at 10 s   confirm primer 11 12
    at 20 s   confirm cement 1
  `);
}

function asked(chair: Chair, id: string, subjects: readonly string[] = ['unit:11']) {
  const { state } = chair.log;
  const layout = layoutOf(state);
  const wayBack = layout.protocol.waysBack.find((w) => w.id === id);
  if (wayBack === undefined) throw new Error(id);
  const question = wayBackQuestion({ state, layout }, { wayBack, subjects });
  return (
    question && {
      done: question.done,
      yes: question.yes.wayBack.id,
      no: question.no?.wayBack.id ?? null,
    }
  );
}

const taken = (chair: Chair, id: string, mishap: WayBack['mishap'], wasDone: boolean) =>
  chair.do({
    do: 'take-way-back',
    wayBack: id,
    mishap,
    subjects: ['unit:11'],
    reason: 'it happened',
    ...(wasDone && { wasDone: true }),
  });

describe('before the press of a later step that would say it', () => {
  it.each([
    // What the way back voids opens the wiping only where the unit was loaded.
    ['dropped', { done: LOAD, yes: 'dropped', no: 'dropped' }],
    ['waited', { done: LOAD, yes: 'loaded-in-light', no: 'waited' }],
    ['loaded-in-light', { done: LOAD, yes: 'loaded-in-light', no: 'waited' }],
    ['high', { done: LOAD, yes: 'high', no: null }],
  ])('%s asks whether it was done', (id, question) => {
    expect(asked(mixed(), id)).toEqual(question);
  });

  it('offers the ways back that fit if it was done, for the unit that it can be true of', () => {
    const { state } = mixed().log;
    const layout = layoutOf(state);
    const told = (offers: readonly WayBackOffer[]) =>
      offers.map((o) => `${o.wayBack.id} ${o.subjects.join(' ')}`);
    expect(told(waysBackNow(state, layout))).toEqual([
      'dropped unit:11 unit:12',
      'waited unit:11 unit:12',
    ]);
    expect(told(waysBackOffered(state, layout))).toEqual([
      'dropped unit:11 unit:12',
      'waited unit:11 unit:12',
      'loaded-in-light unit:11',
      'high unit:11',
    ]);
  });

  it('asks nothing before the step could have been done, or once it was pressed', () => {
    const early = new Chair(settingOf(SEATING, ['11', '12'])).rows(`
      at 0 s    confirm fit 11 12
      at 10 s   confirm primer 11 12
    `);
    expect(asked(early, 'dropped', ALL)).toBeNull();
    expect(asked(mixed().rows('at 30 s confirm load 11'), 'dropped')).toBeNull();
    expect(asked(mixed(), 'dropped', ['unit:12'])).toBeNull();
  });
});

describe('the answer', () => {
  it('yes records the step first, in the same press, and what hangs on it is asked for', () => {
    const chair = mixed().at(30_000);
    expect(taken(chair, 'dropped', 'unit-dropped', true)).toBeNull();
    const last = chair.log.records.filter((r) => r.press === chair.log.records.at(-1)?.press);
    expect(last.map(({ event }) => event.type)).toEqual(['step-confirmed', 'way-back-taken']);
    expect(last[0]?.event).toMatchObject({ step: 'load', impliedBy: 'dropped' });
    expect(last[1]?.event).toMatchObject({ voided: ['primer@unit:11', 'load@unit:11'] });
    chair.rows('at 40 s confirm primer 11');
    expect(chair.offers).toContain('confirm wiped unit:11');
  });

  it('no records nothing of the step', () => {
    const chair = mixed().at(30_000);
    expect(taken(chair, 'dropped', 'unit-dropped', false)).toBeNull();
    expect(chair.log.records.at(-1)?.event).toMatchObject({ voided: ['primer@unit:11'] });
    chair.rows('at 40 s confirm primer 11');
    expect(chair.offers).not.toContain('confirm wiped unit:11');
  });

  it('takes a way back that only fits where it was done', () => {
    const chair = mixed().at(30_000);
    expect(taken(chair, 'high', 'unit-will-not-seat', false)?.code).toBe('unknown-way-back');
    expect(taken(chair, 'high', 'unit-will-not-seat', true)).toBeNull();
  });

  it('is taken back whole by one undo', () => {
    const chair = mixed().at(30_000);
    const before = chair.log.state.runs;
    taken(chair, 'high', 'unit-will-not-seat', true);
    chair.rows('undo');
    expect(chair.log.state.runs).toEqual(before);
    expect(chair.status('load@unit:11')).toBe('none');
  });
});
