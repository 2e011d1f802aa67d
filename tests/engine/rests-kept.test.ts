/**
 * A rest between exposures and a gap between coats that were not kept are recorded like any other limit.
 * That a minimum is judged by the shortest time that may have passed is the rule of the whole record.
 */
import { describe, expect, it } from 'vitest';
import { extend, recordPress } from '../../src/engine/log.ts';
import { signItems } from '../../src/engine/sign-list.ts';
import type { CaseEvent } from '../../src/engine/types.ts';
import { Chair } from './chair.ts';
import { coats, expose, protocolOf, settingOf, step } from './fixture.ts';
import { atLight, given, press } from './light-pass.ts';

const REST = [
  step('expose', 'unit', expose({ surfaces: ['facial', 'lingual'], seconds: 10, restSeconds: 20 })),
];

/** What was not kept, with "may" where it may have been. */
const broken = (chair: Chair): string[] =>
  chair.log.state.breaches.map(
    ({ kind, subject, by, perhaps, nth }) =>
      `${perhaps ? 'may ' : ''}${kind} ${subject} ${by}${nth === undefined ? '' : ` (${nth})`}`,
  );

const lit = (teeth: readonly string[], restMs = {}) =>
  new Chair(settingOf(protocolOf(REST), teeth, { restMs }));

describe('the rest between two exposures of one tooth', () => {
  it.each([
    { at: '30 s', breaches: [] },
    { at: '29999 ms', breaches: ['rest-short unit:11 1'] },
    { at: '12 s', breaches: ['rest-short unit:11 18000'] },
  ])('with the light on again at $at breaks $breaches', ({ at, breaches }) => {
    const chair = lit(['11']).rows(`
      at 0 s   light-on expose 11 facial
      at 10 s  light-off expose 11
      at ${at} light-on expose 11 lingual
    `);
    expect(broken(chair)).toEqual(breaches);
    expect(chair.log.state.breaches.map((b) => [b.of, b.what, b.at.loMs])).toEqual(
      breaches.map(() => ['expose', 'step', chair.trueMs]),
    );
  });

  it('counts for the tooth, not for another one', () => {
    const chair = lit(['11', '21']).rows(`
      at 0 s   light-on expose 11 facial
      at 10 s  light-move expose 21 facial
      at 20 s  light-move expose 11 lingual
    `);
    expect(broken(chair)).toEqual(['rest-short unit:11 10000']);
  });

  it('counts over every step that gives light', () => {
    const protocol = protocolOf([
      step('tack', 'unit', expose({ surfaces: ['facial'], seconds: 3 })),
      step('expose', 'unit', expose({ surfaces: ['facial'], seconds: 10, restSeconds: 20 }), {
        after: ['tack/same'],
      }),
    ]);
    const chair = new Chair(settingOf(protocol, ['11'], { restMs: {} })).rows(`
      at 0 s  light-on tack 11 facial
      at 3 s  light-off tack 11
      at 9 s  light-on expose 11 facial
    `);
    expect(broken(chair)).toEqual(['rest-short unit:11 14000']);
  });

  it.each([
    [
      'where the lamp was off before anybody pressed so',
      `at 25 s  light-off expose 11
       at 31 s  light-on expose 11 lingual`,
    ],
    [
      'behind a gap',
      `at 10 s  light-off expose 11
       at 15 s  sleep 30 s
       at 46 s  light-on expose 11 lingual`,
    ],
  ])('may have been kept %s', (_, rows) => {
    const chair = lit(['11']).rows(`at 0 s  light-on expose 11 facial\n${rows}`);
    expect(broken(chair)).toEqual(['may rest-short unit:11 14000']);
  });

  it('is a limit as the step states it, and no longer where the plan asks for more', () => {
    const chair = lit(['11'], { expose: { 11: 40_000 } }).rows(`
      at 0 s   light-on expose 11 facial
      at 10 s  light-off expose 11
      at 30 s  light-on expose 11 lingual
    `);
    expect(broken(chair)).toEqual([]);
    const unstated = protocolOf([
      step('expose', 'unit', expose({ surfaces: ['facial', 'lingual'], seconds: 10 })),
    ]);
    const planned = new Chair(settingOf(unstated, ['11'], { restMs: { expose: { 11: 40_000 } } }));
    planned.rows(`
      at 0 s   light-on expose 11 facial
      at 10 s  light-move expose 11 lingual
    `);
    expect(broken(planned)).toEqual([]);
  });

  it('is something to sign for', () => {
    const chair = lit(['11']).rows(`
      at 0 s   light-on expose 11 facial
      at 10 s  light-move expose 11 lingual
    `);
    expect(signItems(chair.log.state).map(({ id }) => id)).toEqual([
      'breach 2 rest-short expose unit:11',
    ]);
  });
});

describe('the rest within a pass of light', () => {
  it.each([
    { walk: 'by-unit', teeth: ['11'] },
    { walk: 'by-surface', teeth: ['11', '21'] },
  ] as const)('has passed for certain where the tones lead $walk over $teeth', (o) => {
    const chair = atLight(o.teeth, { restSeconds: 20, walk: o.walk });
    for (let i = 0; chair.offers.some((offer) => offer.startsWith('pass-')); i += 1) {
      expect(i).toBeLessThan(9);
      press(chair, i === 0 ? 'pass-begin' : 'pass-confirm');
      if (i > 0 && chair.offers[0]?.startsWith('pass-begin')) press(chair, 'pass-begin');
      const ends = (chair.view.pass?.places ?? []).map(({ endsInMs }) => endsInMs);
      chair.at(chair.trueMs + Math.max(0, ...ends));
    }
    expect(given(chair)).toHaveLength(2 * o.teeth.length);
    expect(broken(chair)).toEqual([]);
  });

  it('is judged place by place where a journal of an older version led closer, each with a name of its own', () => {
    const chair = atLight(['11'], { restSeconds: 20, surfaces: ['facial', 'lingual', 'mesial'] });
    const place = { subject: 'unit:11', position: 1, setMs: 10_000 } as const;
    const places = (['facial', 'lingual', 'mesial'] as const).map((surface, i) => ({
      ...{ ...place, surface },
      fromMs: i * 30_000,
    }));
    const log = () => chair.log;
    const press = (event: CaseEvent) => {
      const o = { log: log(), events: [event], stamp: chair.stamp, by: 'dentist-a' };
      chair.log = extend(log(), recordPress(o));
    };
    press({ type: 'light-pass-begun', step: 'expose', places, changeMs: 3000 });
    chair.at(70_000);
    press({ type: 'light-pass-confirmed', step: 'expose', places });
    expect(broken(chair)).toEqual([
      'may rest-short unit:11 3000',
      'may rest-short unit:11 6000 (2)',
    ]);
    const ids = signItems(chair.log.state).map(({ id }) => id);
    expect(new Set(ids).size).toBe(2);
  });

  it('does not count what was cut as light before the places that came earlier', () => {
    const chair = atLight(['11'], { restSeconds: 15, surfaces: ['facial', 'lingual', 'mesial'] });
    press(chair, 'pass-begin');
    const [, second] = chair.view.pass?.places ?? [];
    chair.at((second?.startsInMs ?? 0) + 4000);
    press(chair, 'pass-stop');
    press(chair, 'pass-confirm');
    expect(broken(chair)).toEqual([]);
    const cutMs = chair.trueMs;
    chair.at(cutMs + 5000);
    chair.do({ do: 'note-tones', heard: false }, null);
    chair.rows('light-on expose 11 lingual');
    expect(broken(chair)).toEqual(['rest-short unit:11 10000']);
  });
});

describe('the gap between two coats', () => {
  const protocol = protocolOf([step('coats', 'tooth', coats(3, 4), { together: true })]);

  it('is judged before each coat', () => {
    const chair = new Chair(settingOf(protocol, ['11', '21'])).rows(`
      at 0 s  coat coats 11 21
      at 3 s  coat coats 11 21
      at 7 s  coat coats 11 21
    `);
    expect(broken(chair)).toEqual(['gap-short tooth:11 1000', 'gap-short tooth:21 1000']);
  });

  it('may have been kept behind a gap in which no clock was watched', () => {
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s   coat coats 11
      at 1 s   sleep 30 s
      at 32 s  coat coats 11
    `);
    expect(broken(chair)).toEqual(['may gap-short tooth:11 2000']);
  });
});
