/**
 * A gap whose length nobody knows: the clock was set back while the app was closed. It has no upper
 * end, so every maximum over it counts as passed, until people say how long it was. What begins
 * behind it is exact.
 */
import { describe, expect, it } from 'vitest';
import { elapsed, shift } from '../../src/engine/axis.ts';
import { conditioningOf } from '../../src/engine/conditioning.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { momentsOf, replay } from '../../src/engine/log.ts';
import { readBackWords } from '../../src/words/read-back-words.ts';
import { Chair } from './chair.ts';
import {
  confirm,
  ETCH_ROUND,
  expose,
  protocolOf,
  SMALL_WHOLE,
  settingOf,
  step,
  window,
} from './fixture.ts';

/** Closed for 20 s of which the tablet knows nothing: its clock was set back an hour meanwhile. */
const SET_BACK = `
  wall -1 h
  reload 20 s
`;

const started = (rows: string): Chair => new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(rows);

const lasted = (chair: Chair, key: string) => {
  const run = chair.log.state.runs[key];
  if (!run?.startedAt || !run.endedAt) throw new Error(`${key} is not over`);
  const { loMs, hiMs } = elapsed(run.startedAt, run.endedAt);
  return [loMs, hiMs];
};

describe('a clock over a gap of unknown length', () => {
  it.each([
    {
      what: 'seen before anything is noted',
      rows: `at 0 s confirm ready case
             at 0 s start etch 11
             at 10 s note here
             ${SET_BACK}`,
      clocks: ['etch tooth:11 [10000, Infinity]'],
    },
    {
      what: 'goes on counting what is known',
      rows: `at 0 s confirm ready case
             at 0 s start etch 11
             at 10 s note here
             ${SET_BACK}
             note back
             at 35 s note still here`,
      clocks: ['etch tooth:11 [15000, Infinity]'],
    },
    {
      what: 'is exact when it began behind the gap',
      rows: `at 0 s confirm ready case
             at 0 s start etch 11
             at 10 s note here
             ${SET_BACK}
             start etch 21
             at 36 s note still here`,
      clocks: ['etch tooth:11 [16000, Infinity]', 'etch tooth:21 [6000, 6000]'],
    },
    {
      what: 'is open again behind the second of two such gaps',
      rows: `at 0 s confirm ready case
             at 0 s start etch 11
             at 10 s note here
             ${SET_BACK}
             start etch 21
             at 36 s note still here
             ${SET_BACK}
             note back`,
      clocks: ['etch tooth:11 [16000, Infinity]', 'etch tooth:21 [6000, Infinity]'],
    },
    {
      what: 'adds a sleep behind the gap to what began there',
      rows: `at 0 s confirm ready case
             at 1 s note here
             ${SET_BACK}
             start etch 21
             at 25 s sleep 30 s`,
      clocks: ['etch tooth:21 [4000, 34000]'],
    },
  ])('$what', ({ rows, clocks }) => {
    expect(started(rows).clocks).toEqual(clocks);
  });

  it('is not one clock with another that began at the same known place before the gap', () => {
    const chair = started(`
      at 0 s    confirm ready case
      at 10 s   start etch 11
                wall -1 h
                reload 20 s
                start etch 21
    `);
    expect(chair.clocks).toEqual(['etch tooth:11 [0, Infinity]', 'etch tooth:21 [0, 0]']);
    expect(new Set(chair.view.clocks.map((c) => c.id)).size).toBe(2);
  });

  it('stays where it was in a gap of which the clock tells the length', () => {
    const chair = started(`
      at 0 s    confirm ready case
      at 0 s    start etch 11
      at 10 s   note here
      at 12 s   reload 20 s
                note back
    `);
    expect(chair.clocks).toEqual(['etch tooth:11 [10000, 32000]']);
    expect(chair.log.state.anchor.at).toEqual({ loMs: 10_000, hiMs: 32_000 });
  });
});

describe('limits over a gap of unknown length', () => {
  const over = `
    at 0 s    confirm ready case
    at 0 s    start etch 11
    at 10 s   note here
              ${SET_BACK}
              note back
  `;

  it('count as passed: alarm, order and breach, while a minimum is judged by what is known', () => {
    const chair = started(over);
    const cue = (kind: string) => chair.view.cues.find((c) => c.kind === kind)?.dueInMs;
    expect([cue('over'), cue('now')]).toEqual([-Infinity, 10_000]);
    const end = chair.view.offers.find((o) => o.id.startsWith('end etch'));
    // The limit may have passed already: it is wanted now, though its least time is not known to be over.
    expect(end).toMatchObject({ dueInMs: 0, slackMs: -Infinity, boundBy: 'etch' });
    chair.rows('at 32 s end etch 11');
    expect(lasted(chair, 'etch@tooth:11')).toEqual([12_000, Infinity]);
    expect(chair.breaches).toEqual([
      'short etch tooth:11 by 3000',
      'over etch tooth:11 by Infinity',
    ]);
  });

  it('foretell the next change at a known time', () => {
    const chair = started(over);
    expect(chair.view.nextChangeInMs).toBe(5000);
    expect(chair.at(chair.trueMs + 60_000).view.nextChangeInMs).toBeNull();
  });

  it('of a window break it, and no window that opens behind the gap', () => {
    const wet = protocolOf(
      [step('dry', 'tooth', confirm), step('coat', 'tooth', confirm, { after: ['dry/same'] })],
      { windows: [window('wet', 'dry/end -> coat/start', { maxS: 60 })] },
    );
    const chair = new Chair(settingOf(wet, ['11', '21'])).rows(`
      at 0 s    confirm dry 11
      at 10 s   note here
                ${SET_BACK}
                confirm dry 21
    `);
    const coat = (tooth: string) =>
      chair.view.offers.find((o) => o.step === 'coat' && o.subjects[0] === `tooth:${tooth}`);
    expect(coat('11')?.slackMs).toBe(-Infinity);
    // The hands are 5 s on 11 before: of the 60 s that is what they leave.
    expect(coat('21')?.slackMs).toBe(55_000);
    chair.rows('at 40 s confirm coat 11 21');
    expect(chair.breaches).toEqual(['late wet tooth:11 by Infinity']);
  });

  it('credit no more light than was set, and rest by what is known', () => {
    const lit = protocolOf([
      step(
        'light',
        'unit',
        expose({ surfaces: ['facial', 'lingual'], seconds: 10, restSeconds: 15 }),
      ),
    ]);
    const chair = new Chair(settingOf(lit, ['11'])).rows(`
      at 0 s   light-on light 11 facial
      at 4 s   note here
               ${SET_BACK}
               light-off light 11
    `);
    expect(chair.log.state.runs['light@unit:11']?.exposures).toMatchObject([
      { given: { loMs: 4000, hiMs: 10_000 } },
    ]);
    // The plan rests a tooth for 20 s at least, whatever shorter rest a protocol names.
    expect(chair.view.offers[0]).toMatchObject({ kind: 'light-on', setMs: 6000, dueInMs: 20_000 });
  });

  it('make a primed unit one whose limit may have passed, without a false figure', () => {
    const shield = protocolOf(
      [step('prime', 'unit', confirm), step('load', 'unit', confirm, { after: ['prime/same'] })],
      {
        windows: [window('shield', 'prime/end -> load/start', { maxS: 3600, protects: 'shield' })],
      },
    );
    const chair = new Chair(settingOf(shield, ['11'])).rows(`
      at 0 s     confirm prime 11
      at 5 min   note here
                 ${SET_BACK}
                 note back
    `);
    const { state } = chair.log;
    const layout = layoutOf(state);
    const now = chair.view.at;
    const found = conditioningOf({ state, layout, unit: 'unit:11', now });
    expect(found).toMatchObject({ reasons: ['overnight-unsure'], repeat: 'conditioning' });
    const lines = found ? [{ code: 'conditioning', unit: null, found } as const] : [];
    const told = readBackWords(lines, { nameOf: (subject) => subject });
    expect(told).toEqual([
      'Condition and prime again: primed at least 5 min ago, perhaps left overnight (practice)',
    ]);
  });
});

describe('corrections over a gap of unknown length', () => {
  const etched = `
    at 0 s    confirm ready case
    at 0 s    start etch 11
    at 10 s   note here
              ${SET_BACK}
              note back
    at 35 s   end etch 11
  `;

  it('settling gives it a length, and all is judged anew', () => {
    const chair = started(etched);
    expect(lasted(chair, 'etch@tooth:11')).toEqual([15_000, Infinity]);
    chair.rows('settle last 20 s');
    expect(lasted(chair, 'etch@tooth:11')).toEqual([35_000, 35_000]);
    expect(chair.breaches).toEqual(['over etch tooth:11 by 5000']);
    expect(chair.log.state.gaps).toMatchObject([
      { settled: true, untrusted: false, loMs: 20_000, hiMs: 20_000 },
    ]);
    chair.rows('undo');
    expect(lasted(chair, 'etch@tooth:11')).toEqual([15_000, Infinity]);
  });

  it('only a length that is a number settles it', () => {
    const chair = started(etched);
    const gap = chair.log.state.gaps[0]?.seq ?? -1;
    expect(chair.do({ do: 'settle-gap', gap, lengthMs: Infinity })?.code).toBe('gap-length');
  });

  it('a press may be moved as before, and not past now', () => {
    const chair = started(etched);
    expect(chair.refusals('retime 5 s')).toEqual(['retime 5 s: moves-past-now']);
    chair.rows('retime -2 s');
    expect(lasted(chair, 'etch@tooth:11')).toEqual([13_000, Infinity]);
  });

  it('nothing infinite is written down, and the log read back is the same', () => {
    const chair = started(etched).rows('settle last 20 s\nundo');
    const records = JSON.parse(JSON.stringify(chair.log.records));
    expect(records).toEqual(chair.log.records);
    expect(replay(records).state).toEqual(chair.log.state);
    expect(momentsOf(replay(records))).toEqual(momentsOf(chair.log));
  });
});

it('places behind a gap of unknown length move by a known length', () => {
  const chair = started(`
    at 0 s   confirm ready case
    at 5 s   note here
             ${SET_BACK}
             note back
  `);
  const { at } = chair.log.state.anchor;
  expect(at).toEqual({ loMs: 5000, hiMs: Infinity, behind: { gaps: 1, hiMs: 5000 } });
  expect(elapsed(at, shift(at, 1500))).toEqual({ loMs: 1500, hiMs: 1500 });
});

it('a whole case can be finished over such gaps, by pressing what is offered', () => {
  const chair = new Chair(settingOf(SMALL_WHOLE, ['11', '21']));
  for (let i = 0; i < 200 && !chair.view.finished; i += 1) {
    const { offers, nextChangeInMs } = chair.view;
    expect(offers[0], `press ${i}`).toBeDefined();
    const due = Math.max(0, offers[0]?.dueInMs ?? 0);
    chair.at(chair.trueMs + Math.max(due, Math.min(1000, nextChangeInMs ?? 1000)));
    chair.next();
    if (i % 7 === 3) chair.rows(`wall -1 h\nreload 3 s`);
  }
  expect(chair.view.finished).toBe(true);
  expect(chair.log.state.gaps.filter((g) => g.untrusted).length).toBeGreaterThan(3);
});
