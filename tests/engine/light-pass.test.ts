/** A pass of light: what counts of it, where it may be stopped, and what is due again. */
import { describe, expect, it } from 'vitest';
import { atLight, given, inPresses, offered, passRows, press } from './light-pass.ts';

describe('a pass of light', () => {
  it('leads over one surface of the teeth in turn, and then over the next', () => {
    const chair = atLight(['11', '21']);
    press(chair, 'pass-begin');
    expect(passRows(chair)).toEqual(['11 facial 0 to 10 lit', '21 facial 13 to 23 to-come']);
    chair.at(23_000);
    press(chair, 'pass-confirm');
    expect(given(chair)).toEqual(['11 facial 10000', '21 facial 10000']);
    expect(chair.view.offers[0]).toMatchObject({ kind: 'pass-begin', surface: 'lingual' });
    press(chair, 'pass-begin');
    chair.at(46_000);
    press(chair, 'pass-confirm');
    expect([chair.status('expose@unit:11'), chair.status('expose@unit:21')]).toEqual([
      'done',
      'done',
    ]);
    expect(given(chair)).toHaveLength(4);
  });

  it('is not offered while nobody has heard the tones', () => {
    const chair = atLight(['11', '21']);
    chair.do({ do: 'note-tones', heard: false }, null);
    expect(chair.view.offers[0]?.kind).toBe('light-on');
  });

  it.each([
    ['reload 2 s', 'closed'],
    ['sleep 40 s', 'asleep-or-moved'],
    ['reload 3 min', 'closed'],
  ] as const)('that nobody confirms leaves nothing exposed after %s', (row, cause) => {
    const chair = atLight(['11', '21']);
    press(chair, 'pass-begin');
    const before = chair.at(14_000).stamp;
    chair.rows(row);
    chair.do({ do: 'note-gap', before, after: chair.stamp, cause }, null);
    expect(given(chair)).toEqual([]);
    expect(chair.view.pass?.isStopped).toBe(true);
    expect(offered(chair, 'pass-confirm').places).toHaveLength(1);
  });

  it('keeps the bar while the light is due, whatever else could be begun', () => {
    const chair = atLight(['11', '21']);
    press(chair, 'pass-begin');
    chair.at(1000);
    expect(chair.view.attention.inHand?.kind).toBe('pass-stop');
    chair.at(11_500);
    expect(chair.view.attention.inHand?.kind).toBe('pass-stop');
    chair.at(23_000);
    const next = chair.view.attention.inHand;
    expect(next).toMatchObject({ kind: 'pass-begin', surface: 'lingual' });
    expect(next?.confirms).toHaveLength(2);
    expect(offered(chair, 'pass-confirm').places).toHaveLength(2);
  });

  it('has the clock of the place that is lit, and between two places that of the change-over', () => {
    const chair = atLight(['11', '21'], { restSeconds: 15, walk: 'by-unit' });
    const own = () => {
      const { kind, subjects, surface, targetMs, elapsed } = chair.view.attention.own ?? {};
      return `${kind} ${subjects} ${surface} ${elapsed?.loMs} of ${targetMs}`;
    };
    press(chair, 'pass-begin');
    expect(own()).toBe('exposure unit:11 facial 0 of 10000');
    chair.at(9999);
    expect(own()).toBe('exposure unit:11 facial 9999 of 10000');
    chair.at(10_000);
    // 15 s of rest, and the 3 s by which the next place may be lit before its tone.
    expect(own()).toBe('rest unit:11 lingual 0 of 18000');
    chair.at(27_999);
    expect(own()).toBe('rest unit:11 lingual 17999 of 18000');
    chair.at(28_000);
    expect(own()).toBe('exposure unit:11 lingual 0 of 10000');
    expect(chair.view.cues).toEqual([]);
    chair.at(38_000);
    expect(chair.view.attention.own).toBeNull();
    expect(chair.view.clocks).toEqual([]);
  });

  it('is stopped and goes on with the place at which it was stopped', () => {
    const chair = atLight(['11', '21']);
    press(chair, 'pass-begin');
    chair.at(15_000);
    press(chair, 'pass-stop');
    expect(passRows(chair)).toEqual(['11 facial -15 to -5 led', '21 facial 0 to 10 cut']);
    chair.at(20_000);
    expect(chair.view.offers.map(({ kind }) => kind).slice(0, 2)).toEqual([
      'pass-begin',
      'pass-confirm',
    ]);
    press(chair, 'pass-begin');
    chair.at(30_000);
    press(chair, 'pass-confirm');
    expect(given(chair)).toEqual(['11 facial 10000', '21 facial 10000']);
  });

  it('that is stopped between two places has cut none of them', () => {
    const chair = atLight(['11', '21']);
    press(chair, 'pass-begin');
    chair.at(11_500);
    press(chair, 'pass-stop');
    expect(passRows(chair)).toEqual(['11 facial -11.5 to -1.5 led', '21 facial 0 to 10 to-come']);
  });

  it('counts only what stays ticked; the rest is due and comes again', () => {
    const chair = atLight(['11', '21', '12']);
    press(chair, 'pass-begin');
    chair.at(40_000);
    const places = offered(chair, 'pass-confirm').places ?? [];
    press(
      chair,
      'pass-confirm',
      places.filter(({ subject }) => subject !== 'unit:21'),
    );
    expect(given(chair)).toEqual(['11 facial 10000', '12 facial 10000']);
    expect(chair.view.teeth.find(({ tooth }) => tooth === '21')?.surfaces[0]?.givenMs).toBe(0);
    expect(offered(chair, 'pass-begin').places).toMatchObject([
      { subject: 'unit:21', surface: 'facial', setMs: 10_000 },
    ]);
  });

  it('of which nothing was lit counts nothing, and is due as a whole', () => {
    const chair = atLight(['11', '21']);
    press(chair, 'pass-begin');
    chair.at(23_000);
    press(chair, 'pass-confirm', []);
    expect(given(chair)).toEqual([]);
    expect(chair.view.pass).toBeNull();
    expect(offered(chair, 'pass-begin').places).toHaveLength(2);
  });

  it('cannot be confirmed before its last tone', () => {
    const chair = atLight(['11', '21']);
    press(chair, 'pass-begin');
    chair.at(15_000);
    const { step, subjects } = offered(chair, 'pass-stop');
    const places = [{ subject: 'unit:11', surface: 'facial' as const, position: 1, setMs: 10_000 }];
    const no = chair.do({
      do: 'press',
      offer: { kind: 'pass-confirm', step, subjects, places },
    });
    expect(no?.code).toBe('not-yet');
  });

  it('gives each press of a place that takes several, and takes one back alone', () => {
    const exposures = { expose: { '11': [inPresses(10, 10)], '21': [inPresses(10, 10)] } };
    const chair = atLight(['11', '21'], { surfaces: ['facial'], plan: { exposures } });
    press(chair, 'pass-begin');
    expect(passRows(chair).map((row) => row.split(' ').slice(0, 4).join(' '))).toEqual([
      '11 facial 0 to',
      '11 facial 13 to',
      '21 facial 26 to',
      '21 facial 39 to',
    ]);
    chair.at(49_000);
    const places = offered(chair, 'pass-confirm').places ?? [];
    press(chair, 'pass-confirm', places.slice(1));
    expect(given(chair)).toEqual(['11 facial 10000', '21 facial 10000', '21 facial 10000']);
    // The second press of 11 counts with its own tone, 13 s after the first.
    const [own] = chair.log.state.runs['expose@unit:11']?.exposures ?? [];
    expect(own?.paced?.at.loMs).toBe(10_000 + 13_000 - 10_000 - 3000 + 3000);
    expect(offered(chair, 'pass-begin').places).toMatchObject([{ subject: 'unit:11' }]);
  });
});

describe('the rest of a tooth', () => {
  it('is kept by the tones: no place begins before it', () => {
    const chair = atLight(['11'], { restSeconds: 15, walk: 'by-unit' });
    press(chair, 'pass-begin');
    // Its place may be lit a change-over of 3 s before the tone.
    expect(passRows(chair)).toEqual(['11 facial 0 to 10 lit', '11 lingual 28 to 38 to-come']);
  });

  it('comes from the plan where that says one', () => {
    const chair = atLight(['11'], {
      walk: 'by-unit',
      plan: { restMs: { expose: { '11': 8000 } } },
    });
    press(chair, 'pass-begin');
    expect(passRows(chair)[1]).toBe('11 lingual 18 to 28 to-come');
  });

  it('is kept by the tones where the press comes too early', () => {
    const chair = atLight(['11', '21'], { restSeconds: 15 });
    press(chair, 'pass-begin');
    chair.at(23_000);
    press(chair, 'pass-confirm');
    // 11 went dark at 10 s or up to a change-over later, and rests until 25 s.
    expect(offered(chair, 'pass-begin').dueInMs).toBe(2000);
    press(chair, 'pass-begin');
    // Nobody presses at this place, which may be lit a change-over of 3 s before its tone.
    expect(passRows(chair)[0]).toBe('11 lingual 5 to 15 to-come');
  });

  it('begins when the light was stopped on the tooth', () => {
    const chair = atLight(['11', '21'], { restSeconds: 15 });
    press(chair, 'pass-begin');
    chair.at(4000);
    press(chair, 'pass-stop');
    chair.at(6000);
    // 11 rests until 19 s, 13 s from now, and may be lit 3 s before its tone; 21 was not lit and goes first.
    expect(offered(chair, 'pass-begin')).toMatchObject({ dueInMs: 0 });
    press(chair, 'pass-begin');
    expect(passRows(chair)).toEqual(['21 facial 0 to 10 lit', '11 facial 16 to 26 to-come']);
  });

  it('holds after a pass of which what was cut is not confirmed', () => {
    const chair = atLight(['11'], { restSeconds: 15, walk: 'by-unit' });
    press(chair, 'pass-begin');
    chair.at(4000);
    press(chair, 'pass-stop');
    expect(chair.view.attention.inHand).toMatchObject({ kind: 'pass-begin', dueInMs: 15_000 });
    press(chair, 'pass-confirm', []);
    chair.at(9000);
    expect(offered(chair, 'pass-begin').dueInMs).toBe(10_000);
  });
});

describe('in the middle of a pass', () => {
  it('a unit that is set aside is led to no more; the others are', () => {
    const chair = atLight(['11', '21', '12']);
    press(chair, 'pass-begin');
    chair.at(2000);
    expect(chair.do({ do: 'set-aside', unit: '21', reason: 'does not fit' })).toBeNull();
    expect(passRows(chair)).toEqual(['11 facial -2 to 8 lit', '12 facial 24 to 34 to-come']);
    chair.at(36_000);
    press(chair, 'pass-confirm');
    expect(given(chair)).toEqual(['11 facial 10000', '12 facial 10000']);
  });

  it('a step that is skipped ends the pass for its tooth', () => {
    const chair = atLight(['11', '21']);
    press(chair, 'pass-begin');
    chair.at(14_000).rows('skip expose 21 because no time');
    expect(passRows(chair)).toEqual(['11 facial -14 to -4 led']);
    press(chair, 'pass-confirm');
    expect(given(chair)).toEqual(['11 facial 10000']);
  });

  it('an undo takes the pass back, and a stop that was undone was none', () => {
    const chair = atLight(['11', '21']);
    press(chair, 'pass-begin');
    chair.at(4000);
    press(chair, 'pass-stop');
    chair.at(5000).rows('undo');
    expect(passRows(chair)[0]).toBe('11 facial -5 to 5 lit');
    chair.rows('undo');
    expect(chair.view.pass).toBeNull();
    expect(given(chair)).toEqual([]);
  });

  it('a pass that was begun earlier than it was pressed is moved as a whole', () => {
    const chair = atLight(['11', '21']);
    chair.at(10_000);
    press(chair, 'pass-begin');
    chair.at(14_000).rows('retime -3 s');
    expect(passRows(chair)).toEqual(['11 facial -7 to 3 lit', '21 facial 6 to 16 to-come']);
    chair.at(30_000);
    press(chair, 'pass-confirm');
    expect(chair.log.state.runs['expose@unit:11']?.startedAt?.loMs).toBe(7000);
  });

  it('it is not moved to before the unit was seated', () => {
    const chair = atLight(['11']);
    chair.at(10_000).rows('undo').rows('confirm seat 11');
    chair.at(12_000);
    press(chair, 'pass-begin');
    expect(chair.at(13_000).refusals('retime -5 s')).toEqual([
      'retime -5 s: moves-before-its-start',
    ]);
    chair.rows('retime -2 s');
    chair.at(16_000);
    press(chair, 'pass-stop');
    expect(chair.at(17_000).refusals('retime -8 s')).toEqual([
      'retime -8 s: moves-before-its-start',
    ]);
    const begun = chair.log.records.find(({ event }) => event.type === 'light-pass-begun');
    const later = chair.do({ do: 'retime', press: begun?.press ?? 0, byMs: 6500 });
    expect(later?.code).toBe('moves-past-now');
  });

  it('the light that failed stops it, and is asked for again', () => {
    const chair = atLight(['11', '21']);
    press(chair, 'pass-begin');
    chair.at(14_000).rows('way-back own light-failed case because battery');
    expect(chair.view.pass?.isStopped).toBe(true);
    expect(chair.view.attention.asked).toMatchObject({
      because: 'light-failed',
      ways: [{ kind: 'go-on', offer: { kind: 'pass-begin', resumes: true } }],
    });
  });

  it('a unit whose work no longer counts is led to no more', () => {
    const chair = atLight(['11', '21']);
    press(chair, 'pass-begin');
    chair.at(12_000);
    const no = chair.do({
      do: 'take-way-back',
      wayBack: null,
      mishap: 'unit-dropped',
      subjects: ['unit:11'],
      voids: ['seat@unit:11'],
      reason: 'came off',
    });
    expect(no).toBeNull();
    expect(passRows(chair)).toEqual(['21 facial 1 to 11 to-come']);
    expect(given(chair)).toEqual([]);
  });
});
