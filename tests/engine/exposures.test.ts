/** Light: what is credited, what is owed, where the light goes next, and how teeth rest. */
import { describe, expect, it } from 'vitest';
import { Chair } from './chair.ts';
import { expose, protocolOf, settingOf, step } from './fixture.ts';

const twoSurfaces = (restSeconds: number, walk: 'by-surface' | 'by-unit' = 'by-surface') =>
  protocolOf([
    step(
      'expose',
      'unit',
      expose({
        surfaces: ['facial', 'lingual'],
        seconds: 10,
        walk,
        ...(restSeconds > 0 ? { restSeconds } : {}),
      }),
    ),
  ]);

/** A plan of an earlier version: what the step says of rest is all there is. */
const NO_RESTS = { restMs: {} };

const given = (chair: Chair, unit: string) =>
  chair.log.state.runs[`expose@unit:${unit}`]?.exposures.map(
    (e) => `${e.surface} ${e.given.loMs}-${e.given.hiMs}`,
  );

const nextLight = (chair: Chair) => {
  const { subjects, surface, kind, setMs, dueInMs } = chair.view.offers[0] ?? {};
  return `${kind} ${subjects?.join()} ${surface} ${setMs} in ${dueInMs}`;
};

describe('an exposure', () => {
  it('is never credited beyond the time that was set: the light switches itself off', () => {
    const chair = new Chair(settingOf(twoSurfaces(0), ['11'])).rows(`
      at 0 s   light-on expose 11 facial
      at 25 s  light-off expose 11
    `);
    expect(given(chair, '11')).toEqual(['facial 10000-10000']);
    expect(chair.view.teeth[0]?.surfaces[0]).toMatchObject({ givenMs: 10_000, state: 'done' });
  });

  it('that is interrupted is resumed for what is still owed', () => {
    const chair = new Chair(settingOf(twoSurfaces(0), ['11'], NO_RESTS)).rows(`
      at 0 s  light-on expose 11 facial
      at 4 s  light-off expose 11
    `);
    expect(chair.view.teeth[0]?.surfaces[0]).toMatchObject({ givenMs: 4000, state: 'short' });
    expect(nextLight(chair)).toBe('light-on unit:11 facial 6000 in 0');
    chair.rows(`
      at 30 s  light-on expose 11 facial
      at 36 s  light-move expose 11 lingual
      at 46 s  light-off expose 11
    `);
    expect(given(chair, '11')).toEqual([
      'facial 4000-4000',
      'facial 6000-6000',
      'lingual 10000-10000',
    ]);
    expect(chair.status('expose@unit:11')).toBe('done');
    expect(chair.breaches).toEqual([]);
  });

  it('counts by the shortest possible time when the device slept under the light', () => {
    const chair = new Chair(settingOf(twoSurfaces(0), ['11'], NO_RESTS)).rows(`
      at 0 s  light-on expose 11 facial
      at 3 s  sleep 20 s
              light-off expose 11
    `);
    expect(given(chair, '11')).toEqual(['facial 3000-10000']);
    expect(nextLight(chair)).toBe('light-on unit:11 facial 7000 in 0');
  });

  it.each([
    ['by-surface', '11 1, 21 1, 12 1, 11 2, 21 2, 12 2'],
    ['by-unit', '11 1, 11 2, 21 1, 21 2, 12 1, 12 2'],
  ] as const)('in several positions goes %s: %s', (walk, order) => {
    // A tooth cools while others are lit: rest between exposures is common practice, no source.
    const surface = { surface: 'facial', setMs: 8000, positions: 2, decidedBy: 'dose' } as const;
    const teeth = ['11', '21', '12'];
    const exposures = { expose: Object.fromEntries(teeth.map((tooth) => [tooth, [surface]])) };
    const chair = new Chair(settingOf(twoSurfaces(0, walk), teeth, { exposures, ...NO_RESTS }));
    const went: string[] = [];
    for (let at = 0; at < 6; at += 1) {
      const [on] = chair.view.offers;
      if (on === undefined) break;
      went.push(`${on.subjects[0]?.slice('unit:'.length)} ${on.position ?? 1}`);
      chair.do({ do: 'press', offer: on });
      chair.at(chair.trueMs + 8000);
      const off = chair.view.offers.find((o) => o.kind === 'light-off');
      if (off) chair.do({ do: 'press', offer: off });
    }
    expect(went.join(', ')).toBe(order);
  });

  it('in several positions is owed for each of them', () => {
    const surfaces = [{ surface: 'facial', setMs: 8000, positions: 2, decidedBy: 'dose' }] as const;
    const exposures = { expose: { '11': surfaces } };
    const chair = new Chair(settingOf(twoSurfaces(0), ['11'], { exposures })).rows(`
      at 0 s  light-on expose 11 facial 8 1
      at 8 s  light-off expose 11
    `);
    expect(chair.view.offers[0]).toMatchObject({ position: 2, count: 2, of: 2, setMs: 8000 });
    expect(chair.view.teeth[0]?.surfaces[0]).toMatchObject({ givenMs: 8000, setMs: 16_000 });
    chair.rows(`
      at 9 s   light-on expose 11 facial 8 2
      at 17 s  light-off expose 11
    `);
    expect(chair.status('expose@unit:11')).toBe('done');
  });

  it('shows how much was given while it is on', () => {
    const chair = new Chair(settingOf(twoSurfaces(0), ['11'])).rows(
      'at 0 s light-on expose 11 facial',
    );
    expect(chair.at(4000).view.teeth[0]?.surfaces).toEqual([
      { surface: 'facial', givenMs: 4000, setMs: 10_000, state: 'running' },
      { surface: 'lingual', givenMs: 0, setMs: 10_000, state: 'waiting' },
    ]);
  });
});

describe('the walk of the light', () => {
  const walked = (chair: Chair, presses: number) =>
    Array.from({ length: presses }, () => {
      const due = chair.view.offers[0]?.dueInMs ?? 0;
      const offer = chair.at(chair.trueMs + due).next();
      return `${chair.trueMs / 1000} ${offer.kind} ${offer.subjects.join()} ${offer.surface}`;
    });

  it('goes surface by surface, so that each tooth rests while the others are lit', () => {
    const chair = new Chair(settingOf(twoSurfaces(15), ['11', '21', '12']));
    expect(walked(chair, 7)).toEqual([
      '0 light-on unit:11 facial',
      '10 light-move unit:21 facial',
      '20 light-move unit:12 facial',
      '30 light-move unit:11 lingual',
      '40 light-move unit:21 lingual',
      '50 light-move unit:12 lingual',
      '60 light-off unit:12 lingual',
    ]);
    expect(chair.view.finished).toBe(true);
  });

  it('goes unit by unit where the protocol says so, and waits for the rest', () => {
    const chair = new Chair(settingOf(twoSurfaces(5, 'by-unit'), ['11']));
    expect(walked(chair, 4)).toEqual([
      '0 light-on unit:11 facial',
      '10 light-off unit:11 facial',
      // The step says 5 s; the plan lets a tooth rest 20 s between two exposures (derived from the
      // slope of Zarpellon et al. and 140 s of cooling: five of 20 s at 1200 mW/cm2 warm by 5.2 C).
      '30 light-on unit:11 lingual',
      '40 light-off unit:11 lingual',
    ]);
  });

  it('goes to the next tooth while one rests, whatever the order of the step', () => {
    const chair = new Chair(settingOf(twoSurfaces(0, 'by-unit'), ['11', '21']));
    expect(walked(chair, 5)).toEqual([
      '0 light-on unit:11 facial',
      '10 light-move unit:21 facial',
      '20 light-off unit:21 facial',
      '30 light-on unit:11 lingual',
      '40 light-move unit:21 lingual',
    ]);
  });

  it('gives one place in two presses where the plan says so, with a rest between them', () => {
    const surface = { surface: 'facial', setMs: 25_000, positions: 1, decidedBy: 'dose' } as const;
    const exposures = { expose: { '11': [{ ...surface, presses: [15_000, 10_000] }] } };
    const protocol = protocolOf([
      step('expose', 'unit', expose({ surfaces: ['facial'], seconds: 10 })),
    ]);
    const chair = new Chair(settingOf(protocol, ['11'], { exposures }));
    expect(nextLight(chair)).toBe('light-on unit:11 facial 15000 in 0');
    chair.rows(`
      at 0 s   light-on expose 11 facial 15
      at 15 s  light-off expose 11
    `);
    expect(chair.status('expose@unit:11')).toBe('running');
    expect(nextLight(chair)).toBe('light-on unit:11 facial 10000 in 20000');
    chair.rows(`
      at 35 s  light-on expose 11 facial 10
      at 45 s  light-off expose 11
    `);
    expect(chair.status('expose@unit:11')).toBe('done');
  });

  it('a press that was stopped early is made up for; under 3 s goes with the next press', () => {
    const surface = { surface: 'facial', setMs: 25_000, positions: 1, decidedBy: 'dose' } as const;
    const exposures = { expose: { '11': [{ ...surface, presses: [15_000, 10_000] }] } };
    const protocol = protocolOf([
      step('expose', 'unit', expose({ surfaces: ['facial'], seconds: 10 })),
    ]);
    const owedAfter = (seconds: number) =>
      nextLight(
        new Chair(settingOf(protocol, ['11'], { exposures, ...NO_RESTS })).rows(`
          at 0 s  light-on expose 11 facial 15
          at ${seconds} s  light-off expose 11
        `),
      );
    expect(owedAfter(8)).toBe('light-on unit:11 facial 7000 in 0');
    expect(owedAfter(13)).toBe('light-on unit:11 facial 12000 in 0');
  });

  it('lets a tooth that has not rested wait, and takes the next that has', () => {
    const chair = new Chair(settingOf(twoSurfaces(30, 'by-unit'), ['11', '21'])).rows(`
      at 0 s   light-on expose 11 facial
      at 10 s  light-off expose 11
    `);
    expect(nextLight(chair)).toBe('light-on unit:21 facial 10000 in 0');
  });

  it('rests a tooth over all exposing steps', () => {
    const protocol = protocolOf([
      step('tack', 'unit', expose({ surfaces: ['facial'], seconds: 3, walk: 'by-unit' })),
      step('expose', 'unit', expose({ surfaces: ['facial'], seconds: 10, restSeconds: 20 }), {
        after: ['tack'],
      }),
    ]);
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s  light-on tack 11 facial
      at 3 s  light-off tack 11
    `);
    expect(nextLight(chair)).toBe('light-on unit:11 facial 10000 in 20000');
  });

  // A tooth cools from the moment the light last left it, whichever step that was for: rest between
  // exposures is common practice, no source.
  it('counts the rest from the last light, over steps and within one', () => {
    const surfaces = ['facial', 'lingual', 'incisal'] as const;
    const protocol = protocolOf([
      step('tack', 'unit', expose({ surfaces: ['facial'], seconds: 3 })),
      step('expose', 'unit', expose({ surfaces, seconds: 10, restSeconds: 20 }), {
        after: ['tack'],
      }),
    ]);
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s   light-on tack 11 facial
      at 3 s   light-off tack 11
      at 30 s  light-on expose 11 facial
      at 40 s  light-off expose 11
    `);
    expect(nextLight(chair)).toBe('light-on unit:11 lingual 10000 in 20000');
    chair.rows(`
      at 60 s  light-on expose 11 lingual
      at 70 s  light-off expose 11
    `);
    expect(nextLight(chair.at(75_000))).toBe('light-on unit:11 incisal 10000 in 15000');
  });

  it('may be begun too early by people: it is their hand', () => {
    const chair = new Chair(settingOf(twoSurfaces(30), ['11'])).rows(`
      at 0 s   light-on expose 11 facial
      at 10 s  light-move expose 11 lingual
    `);
    expect(chair.clocks).toEqual(['expose unit:11 [0, 0]']);
  });
});

describe('the light while it is on', () => {
  it('offers nothing else of the light than to stop it, and to move it once its time is over', () => {
    const chair = new Chair(settingOf(twoSurfaces(0), ['11', '21'])).rows(
      'at 0 s light-on expose 11 facial',
    );
    expect(chair.at(4000).view.offers.map((o) => `${o.kind} ${o.dueInMs}`)).toEqual([
      'light-off 6000',
    ]);
    expect(chair.at(10_000).view.offers.map((o) => o.kind)).toEqual(['light-move', 'light-off']);
  });
});
