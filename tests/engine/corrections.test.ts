/** Undo, "that was 5 s ago", ways back: corrections are entries, and the log is read with them. */
import { describe, expect, it } from 'vitest';
import { presses } from '../../src/engine/log.ts';
import type { CaseState } from '../../src/engine/types.ts';
import { Chair } from './chair.ts';
import {
  confirm,
  dwell,
  ETCH_ROUND,
  expose,
  protocolOf,
  SMALL_WHOLE,
  settingOf,
  step,
} from './fixture.ts';

const etching = () =>
  new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(`
    at 0 s  confirm ready case
    at 0 s  start etch 11
    at 4 s  start etch 21
  `);

/** The anchor tells what the clocks said last; everything else is what people did. */
const withoutAnchor = ({ anchor: _, ...rest }: CaseState) => rest;

describe('undo', () => {
  it('brings back exactly the state before, and the record keeps both', () => {
    const chair = etching();
    const before = withoutAnchor(chair.log.state);
    chair.rows(`
      at 20 s  end etch 11
      at 22 s  undo
    `);
    expect(withoutAnchor(chair.log.state)).toEqual(before);
    expect(chair.log.records.map((r) => r.event.type)).toEqual([
      'case-opened',
      'step-confirmed',
      'step-started',
      'step-started',
      'step-ended',
      'step-started',
      'press-retracted',
    ]);
  });

  it('takes back one press after the other, but not the opening', () => {
    const chair = etching().rows(`
      undo
      undo
      undo
    `);
    expect(chair.offers).toEqual(['confirm ready case']);
    expect(chair.refusals('undo')).toEqual(['undo: nothing-to-undo']);
  });

  it('of a whole press takes all that was pressed with it', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(`
      at 0 s   confirm ready case
      at 0 s   start etch 11 21
      at 20 s  end etch 11 21
      at 21 s  undo
    `);
    expect(chair.status('etch@tooth:21')).toBe('running');
    expect(chair.status('rinse@tooth:11')).toBe('none');
  });

  it('takes a breach with the press that caused it', () => {
    const chair = etching().rows('at 10 s end etch 11');
    expect(chair.breaches).toEqual(['short etch tooth:11 by 5000']);
    expect(chair.rows('at 11 s undo').breaches).toEqual([]);
  });

  it('leaves alone what the app noted by itself', () => {
    const chair = etching();
    const before = chair.stamp;
    chair.rows('sleep 60 s');
    chair.do({ do: 'note-gap', before, after: chair.stamp, cause: 'asleep-or-moved' }, null);
    chair.rows('undo');
    expect(chair.status('etch@tooth:21')).toBe('none');
    expect(chair.log.state.gaps).toHaveLength(1);
  });

  it('of a signed case opens it again', () => {
    const protocol = protocolOf([step('only', 'case', confirm)]);
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s  confirm only case
      at 1 s  sign-off dentist-a
      at 2 s  undo
    `);
    expect(chair.log.state.closed).toBeNull();
  });
});

describe('retime', () => {
  it('moves the last press and judges it again', () => {
    const chair = etching().rows('at 34 s end etch 11');
    expect(chair.breaches).toEqual(['over etch tooth:11 by 4000']);
    chair.rows('at 36 s retime -5 s');
    expect(chair.breaches).toEqual([]);
    expect(chair.log.state.runs['etch@tooth:11']?.endedAt?.loMs).toBe(29_000);
    // The clock that began with the same press moves too.
    expect(chair.log.state.runs['rinse@tooth:11']?.startedAt?.loMs).toBe(29_000);
  });

  it('pressed twice moves the same press twice', () => {
    const chair = etching().rows(`
      at 34 s  end etch 11
      at 36 s  retime -5 s
      at 37 s  retime -5 s
    `);
    expect(chair.log.state.runs['etch@tooth:11']?.endedAt?.loMs).toBe(24_000);
  });

  it('and back again is as if nothing had been said', () => {
    const chair = etching().rows('at 34 s end etch 11');
    const before = withoutAnchor(chair.log.state);
    chair.rows(`
      at 36 s  retime -5 s
      at 37 s  retime 5 s
    `);
    expect(withoutAnchor(chair.log.state)).toEqual(before);
  });

  it('is itself taken back by undo', () => {
    const chair = etching().rows(`
      at 34 s  end etch 11
      at 36 s  retime -5 s
      at 37 s  undo
    `);
    expect(chair.log.state.runs['etch@tooth:11']?.endedAt?.loMs).toBe(34_000);
    expect(chair.status('etch@tooth:11')).toBe('done');
  });

  it('passes over notes and acknowledged cues: they have no moment to move', () => {
    const chair = etching().rows(`
      at 34 s  end etch 11
      at 35 s  note patient coughed
      at 36 s  acknowledge a-cue
      at 37 s  retime -5 s
    `);
    expect(chair.log.state.runs['etch@tooth:11']?.endedAt?.loMs).toBe(29_000);
  });

  it.each([
    { row: 'at 36 s retime 3 s', code: 'moves-past-now' },
    { row: 'at 36 s retime -35 s', code: 'moves-before-its-start' },
  ])('is refused when it $code', ({ row, code }) => {
    const chair = etching().rows('at 34 s end etch 11');
    expect(chair.refusals(row)).toEqual([`${row.slice(8)}: ${code}`]);
    expect(chair.log.state.runs['etch@tooth:11']?.endedAt?.loMs).toBe(34_000);
  });

  it('in small steps cannot pass the limits of one big step', () => {
    const chair = etching().rows(`
      at 34 s  end etch 11
      at 36 s  retime -20 s
    `);
    expect(chair.refusals('retime -20 s')).toEqual(['retime -20 s: moves-before-its-start']);
    chair.rows('retime 20 s');
    expect(chair.refusals('retime 2001 ms')).toEqual(['retime 2001 ms: moves-past-now']);
    chair.rows('retime 2 s');
  });

  it('does not move a step before what it waits for', () => {
    const protocol = protocolOf([
      step('dry', 'tooth', confirm),
      step('coat', 'tooth', confirm, { after: ['dry/same'] }),
    ]);
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 20 s  confirm dry 11
      at 30 s  confirm coat 11
      at 31 s  retime -10 s
    `);
    expect(chair.refusals('retime -1 ms')).toEqual(['retime -1 ms: moves-before-its-start']);
  });

  it('sees an earlier press where a correction has put it', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['11'])).rows(`
      at 0 s   confirm ready case
      at 20 s  start etch 11
      at 22 s  retime -10 s
      at 30 s  end etch 11
      at 31 s  retime -18 s
    `);
    expect(chair.log.state.runs['etch@tooth:11']?.startedAt?.loMs).toBe(10_000);
    expect(chair.log.state.runs['etch@tooth:11']?.endedAt?.loMs).toBe(12_000);
    expect(chair.refusals('retime -3 s')).toEqual(['retime -3 s: moves-before-its-start']);
  });

  it('does not put the light in two places at once', () => {
    const protocol = protocolOf([
      step('tack', 'unit', expose({ surfaces: ['facial'], seconds: 5 })),
    ]);
    const chair = new Chair(settingOf(protocol, ['11', '21'])).rows(`
      at 10 s  light-on tack 11 facial
      at 15 s  light-off tack 11
      at 18 s  light-on tack 21 facial
      at 19 s  retime -3 s
    `);
    expect(chair.refusals('retime -1 s')).toEqual(['retime -1 s: moves-before-its-start']);
  });

  it('is refused for a length that is no number', () => {
    const chair = etching();
    expect(chair.do({ do: 'retime', byMs: Number.NaN })?.code).toBe('moves-past-now');
    expect(chair.do({ do: 'retime', byMs: Number.POSITIVE_INFINITY })?.code).toBe('moves-past-now');
    expect(chair.do({ do: 'retime', byMs: Number.NEGATIVE_INFINITY })?.code).toBe(
      'moves-before-its-start',
    );
  });

  it('can name an older press', () => {
    const chair = etching().rows('at 25 s end etch 11');
    const started = chair.log.records.find((r) => r.event.type === 'step-started')?.press ?? 0;
    chair.at(26_000).do({ do: 'retime', press: started, byMs: 2000 });
    expect(chair.log.state.runs['etch@tooth:11']?.startedAt?.loMs).toBe(2000);
    expect(chair.do({ do: 'retime', press: started, byMs: 23_001 })?.code).toBe('moves-past-now');
  });
});

describe('a way back', () => {
  const wet = () =>
    new Chair(settingOf(SMALL_WHOLE, ['11', '21'])).rows(`
      at 0 s   confirm ready case
      at 0 s   confirm fit 11 21
      at 0 s   choose shade case accepted
      at 0 s   start etch 11
      at 4 s   start etch 21
      at 20 s  end etch 11
      at 24 s  end etch 21
      at 40 s  end rinse 11 21
    `);

  it('voids exactly what it names, for the subjects named, as far as it has begun', () => {
    const chair = wet().rows('at 45 s way-back wet saliva tooth:11 because the cheek slipped');
    expect(chair.log.state.voided.map((v) => v.key)).toEqual(['etch@tooth:11', 'rinse@tooth:11']);
    expect(chair.log.state.voided[0]).toMatchObject({
      reason: 'the cheek slipped',
      run: { endedAt: { loMs: 20_000 } },
    });
    expect(chair.log.state.waysBack).toMatchObject([
      { wayBack: 'wet', mishap: 'saliva', subjects: ['tooth:11'] },
    ]);
    expect(chair.status('etch@tooth:21')).toBe('done');
    expect(chair.offers[0]).toBe('start etch tooth:11');
  });

  it('is offered from its stage until the next, and refused outside', () => {
    const chair = wet();
    expect(chair.refusals('way-back gelled gelled-early mix:1 because firm')).toEqual([
      'way-back gelled gelled-early mix:1 because firm: unknown-way-back',
    ]);
    expect(chair.refusals('way-back wet blood tooth:11 because red')).toEqual([
      'way-back wet blood tooth:11 because red: unknown-way-back',
    ]);
    chair.rows(`
      at 50 s  confirm dry 11 21
      at 55 s  coat coats 11 21
    `);
    expect(chair.refusals('way-back wet saliva tooth:11 because late')).toEqual([
      'way-back wet saliva tooth:11 because late: unknown-way-back',
    ]);
  });

  it('needs a reason', () => {
    expect(wet().refusals('way-back wet saliva tooth:11')).toEqual([
      'way-back wet saliva tooth:11: reason-missing',
    ]);
  });

  it('of their own lets people name what no longer counts', () => {
    const chair = wet();
    const way = { do: 'take-way-back', wayBack: null, mishap: 'blood', reason: 'ours' } as const;
    const subjects = ['tooth:21'];
    expect(chair.do({ ...way, subjects, voids: ['rinse@tooth:21'] })).toBeNull();
    expect(chair.log.state.voided.map((v) => v.key)).toEqual(['rinse@tooth:21']);
    expect(chair.do({ ...way, subjects, voids: ['rinse@tooth:48'] })?.code).toBe('unknown-step');
    expect(chair.do({ ...way, subjects: ['tooth:48'] })?.code).toBe('unknown-subject');
  });

  it('opens the steps that wait for it', () => {
    const chair = wet();
    const again = () => chair.view.total;
    const before = again();
    chair.rows('at 45 s way-back wet saliva tooth:11 because the cheek slipped');
    expect(again()).toBe(before + 1);
  });

  it('is taken back whole by undo', () => {
    const chair = wet();
    const before = withoutAnchor(chair.log.state);
    chair.rows(`
      at 45 s  way-back wet saliva tooth:11 because the cheek slipped
      at 46 s  undo
    `);
    expect(withoutAnchor(chair.log.state)).toEqual(before);
  });

  it('keeps the breach of what it voids: it has happened', () => {
    const chair = new Chair(settingOf(SMALL_WHOLE, ['11'])).rows(`
      at 0 s   confirm ready case
      at 0 s   confirm fit 11
      at 0 s   choose shade case accepted
      at 0 s   start etch 11
      at 40 s  end etch 11
      at 45 s  way-back wet saliva tooth:11 because the cheek slipped
    `);
    expect(chair.breaches).toEqual(['over etch tooth:11 by 10000']);
  });
});

describe('the presses that can be taken back', () => {
  it('are those of people that still count, the opening apart', () => {
    const chair = etching().rows(`
      at 20 s  end etch 11
      at 21 s  undo
      at 22 s  note hello
    `);
    expect(presses(chair.log)).toEqual([1, 2, 3, 6]);
  });

  it('a dwell without bounds can be retimed too', () => {
    const protocol = protocolOf([step('wait', 'case', dwell(null, 20))]);
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 5 s  start wait case
      at 7 s  retime -5 s
    `);
    expect(chair.log.state.runs['wait@case']?.startedAt?.loMs).toBe(0);
  });
});
