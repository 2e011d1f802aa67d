/** What each of the six actions records, and which bounds it breaks. Rules of the trade: practice. */
import { describe, expect, it } from 'vitest';
import { Chair } from './chair.ts';
import {
  choose,
  coats,
  confirm,
  dwell,
  ETCH_ROUND,
  expose,
  protocolOf,
  SMALL_WHOLE,
  settingOf,
  step,
  tally,
} from './fixture.ts';

const etchTwo = () =>
  new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows('at 0 s confirm ready case');

describe('confirm', () => {
  it('is done by one press, with its evidence and who pressed', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['11']));
    chair.at(3000);
    const offer = { kind: 'confirm', step: 'ready', subjects: ['case'] } as const;
    expect(chair.do({ do: 'press', offer, evidence: '1180' }, 'assistant-b')).toBeNull();
    expect(chair.log.state.runs['ready@case']).toMatchObject({
      status: 'done',
      startedAt: { loMs: 3000, hiMs: 3000 },
      endedAt: { loMs: 3000, hiMs: 3000 },
      evidence: '1180',
      by: 'assistant-b',
    });
  });
});

describe('dwell', () => {
  it.each([
    { end: '15 s', breaches: [] },
    { end: '14999 ms', breaches: ['short etch tooth:11 by 1'] },
    { end: '12 s', breaches: ['short etch tooth:11 by 3000'] },
    { end: '30 s', breaches: [] },
    { end: '30001 ms', breaches: ['over etch tooth:11 by 1'] },
    { end: '1:12', breaches: ['over etch tooth:11 by 42000'] },
  ])('ended at $end breaks $breaches and is done all the same', ({ end, breaches }) => {
    const chair = etchTwo().rows(`
      at 0 s    start etch 11
      at ${end} end etch 11
    `);
    expect(chair.breaches).toEqual(breaches);
    expect(chair.status('etch@tooth:11')).toBe('done');
  });

  it('without bounds is never short or over', () => {
    const chair = new Chair(settingOf(protocolOf([step('wait', 'case', dwell(null, 60))]), ['11']));
    chair.rows(`
      at 0 s  start wait case
      at 1 s  end wait case
    `);
    expect(chair.breaches).toEqual([]);
  });
});

describe('coats', () => {
  const protocol = protocolOf([
    step('coats', 'tooth', coats(3, 4), { together: true }),
    step('stand', 'tooth', dwell(10, 15), {
      after: ['coats/same'],
      together: true,
      beginsWith: 'coats',
    }),
  ]);

  it('end with the last coat, which starts the clock that begins with them', () => {
    const chair = new Chair(settingOf(protocol, ['11', '21'])).rows(`
      at 0 s   coat coats 11 21
      at 4 s   coat coats 11 21
      at 9 s   coat coats 11 21
      at 14 s  end stand 11 21
    `);
    const run = chair.log.state.runs['coats@tooth:21'];
    expect(run?.counts.map((c) => c.loMs)).toEqual([0, 4000, 9000]);
    expect(chair.log.state.runs['stand@tooth:21']?.startedAt?.loMs).toBe(9000);
    expect(chair.breaches).toEqual([
      'short stand tooth:11 by 5000',
      'short stand tooth:21 by 5000',
    ]);
  });

  it('offer the next coat once the gap has passed, and say which one it is', () => {
    const chair = new Chair(settingOf(protocol, ['11', '21'])).rows('at 0 s coat coats 11 21');
    expect(chair.at(1500).view.offers[0]).toMatchObject({ count: 2, of: 3, dueInMs: 2500 });
    expect(chair.at(4000).view.offers[0]).toMatchObject({ count: 2, of: 3, dueInMs: 0 });
  });

  it('may be more than planned; the end moves with the extra coat', () => {
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s   coat coats 11
      at 4 s   coat coats 11
      at 8 s   coat coats 11
      at 12 s  coat coats 11
    `);
    expect(chair.log.state.runs['coats@tooth:11']).toMatchObject({
      status: 'done',
      endedAt: { loMs: 12_000 },
    });
  });
});

describe('tally', () => {
  const protocol = protocolOf([step('strips', 'contact', tally(2))]);

  it('counts passes, ends when pressed done, and records each pass over the limit', () => {
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s  pass strips 12-11
      at 2 s  pass strips 12-11
    `);
    expect(chair.offers[0]).toBe('passes-done strips contact:12-11');
    chair.rows(`
      at 4 s  pass strips 12-11
      at 6 s  passes-done strips 12-11
    `);
    expect(chair.breaches).toEqual(['passes-over strips contact:12-11 by 1']);
    expect(chair.status('strips@contact:12-11')).toBe('done');
  });
});

describe('choose', () => {
  it('opens only the steps of the chosen option; the others count for nothing', () => {
    const protocol = protocolOf([
      step('way', 'case', choose({ id: 'short' }, { id: 'long' })),
      step('extra', 'case', confirm, { after: ['way'], onlyIf: [{ step: 'way', option: 'long' }] }),
      step('last', 'case', confirm, { after: ['extra'] }),
    ]);
    const short = new Chair(settingOf(protocol, ['11'])).rows('at 0 s choose way case short');
    expect(short.offers).toEqual(['confirm last case']);
    expect(short.view).toMatchObject({ done: 1, total: 2 });
    const long = new Chair(settingOf(protocol, ['11'])).rows('at 0 s choose way case long');
    expect(long.offers).toEqual(['confirm extra case']);
    expect(long.view).toMatchObject({ done: 1, total: 3 });
  });

  it('loops: an option that redoes steps voids them and nothing else, with its words as reason', () => {
    const chair = new Chair(settingOf(SMALL_WHOLE, ['11', '21'])).rows(`
      at 0 s   confirm ready case
      at 5 s   confirm fit 11 21
      at 20 s  choose shade case again
    `);
    expect(chair.log.state.voided.map((v) => v.key)).toEqual([
      'fit@unit:11',
      'fit@unit:21',
      'shade@case',
    ]);
    expect(chair.log.state.voided[0]?.reason).toBe('again');
    expect(chair.status('ready@case')).toBe('done');
    chair.rows(`
      at 30 s  confirm fit 11 21
      at 40 s  choose shade case accepted
    `);
    expect(chair.log.state.runs['shade@case']?.option).toBe('accepted');
    expect(chair.offers[0]).toBe('start etch tooth:11');
  });
});

describe('skip', () => {
  it('keeps the reason, frees what waits for the step and counts as over', () => {
    const chair = etchTwo().rows('at 1 s skip etch 11 because no enamel left');
    expect(chair.log.state.runs['etch@tooth:11']).toMatchObject({
      status: 'skipped',
      reason: 'no enamel left',
    });
    expect(chair.offers).toContain('start etch tooth:21');
  });

  it('of an exposure records how much light is missing', () => {
    const protocol = protocolOf([
      step('expose', 'unit', expose({ surfaces: ['facial', 'lingual'], seconds: 10 })),
    ]);
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s  light-on expose 11 facial
      at 4 s  skip expose 11 because the light failed
    `);
    expect(chair.breaches).toEqual(['exposure-short expose unit:11 by 16000']);
    expect(chair.view.finished).toBe(true);
  });
});

describe('expose', () => {
  it('is done when every surface has had its time', () => {
    const protocol = protocolOf([
      step('expose', 'unit', expose({ surfaces: ['facial', 'lingual'], seconds: 10 })),
    ]);
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s   light-on expose 11 facial
      at 10 s  light-move expose 11 lingual
      at 20 s  light-off expose 11
    `);
    expect(chair.status('expose@unit:11')).toBe('done');
    expect(chair.breaches).toEqual([]);
  });
});
