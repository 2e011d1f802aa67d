/** Who waits for whom, who goes together, and what the bar offers first. */
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
  secondsFigure,
  settingOf,
  step,
  window,
} from './fixture.ts';

describe('a round', () => {
  const four = ['11', '21', '12', '22'];

  it('gives each tooth a clock of its own and pressing in turn keeps every dwell alike', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, four)).rows(`
      at 0 s   confirm ready case
      at 0 s   start etch 11
      at 4 s   start etch 21
      at 8 s   start etch 12
      at 12 s  start etch 22
    `);
    expect(chair.at(16_000).clocks).toEqual([
      'etch tooth:11 [16000, 16000]',
      'etch tooth:21 [12000, 12000]',
      'etch tooth:12 [8000, 8000]',
      'etch tooth:22 [4000, 4000]',
    ]);
    chair.rows(`
      at 20 s  end etch 11
      at 24 s  end etch 21
      at 28 s  end etch 12
      at 32 s  end etch 22
    `);
    expect(chair.breaches).toEqual([]);
    expect(chair.clocks).toEqual([
      'rinse tooth:11 [12000, 12000]',
      'rinse tooth:21 [8000, 8000]',
      'rinse tooth:12 [4000, 4000]',
      'rinse tooth:22 [0, 0]',
    ]);
  });

  it('begins the rinse of a tooth with the press that ends its etch', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, four)).rows(`
      at 0 s   confirm ready case
      at 0 s   start etch 11
      at 20 s  end etch 11
    `);
    expect(chair.log.state.runs['rinse@tooth:11']?.startedAt?.loMs).toBe(20_000);
    expect(chair.status('rinse@tooth:21')).toBe('none');
  });

  it('rinses together once the last of it has begun, judged by the shortest', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(`
      at 0 s   confirm ready case
      at 0 s   start etch 11
      at 4 s   start etch 21
      at 20 s  end etch 11
    `);
    expect(chair.offers.some((id) => id.startsWith('end rinse'))).toBe(false);
    chair.rows('at 24 s end etch 21');
    expect(chair.view.offers[0]).toMatchObject({
      id: 'end rinse tooth:11 tooth:21',
      dueInMs: 15_000,
    });
    chair.rows('at 33 s end rinse 11 21');
    expect(chair.breaches).toEqual(['short rinse tooth:21 by 1000']);
  });

  it('is not begun while an earlier one still keeps the hands', () => {
    const rounds = { etch: [['tooth:11', 'tooth:21'], ['tooth:12']] };
    const chair = new Chair(settingOf(ETCH_ROUND, ['11', '21', '12'], { rounds })).rows(`
      at 0 s   confirm ready case
      at 0 s   start etch 11
    `);
    expect(chair.offers[0]).toBe('start etch tooth:21');
    chair.rows(`
      at 4 s   start etch 21
      at 20 s  end etch 11
      at 24 s  end etch 21
    `);
    expect(chair.offers[0]).toBe('end rinse tooth:11 tooth:21');
    chair.rows('at 39 s end rinse 11 21');
    expect(chair.offers[0]).toBe('start etch tooth:12');
  });

  it('may be pressed out of the planned order: people know better', () => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(`
      at 0 s   confirm ready case
      at 0 s   start etch 21
      at 4 s   start etch 11
      at 20 s  end etch 21
      at 25 s  end etch 11
    `);
    expect(chair.breaches).toEqual([]);
  });
});

describe('a round that a way back has torn apart', () => {
  it('lets the one that lags behind catch up coat by coat', () => {
    const protocol = protocolOf([step('coats', 'tooth', coats(3), { together: true })]);
    const chair = new Chair(settingOf(protocol, ['11', '21', '12'])).rows(`
      at 0 s  coat coats 11 21 12
      at 5 s  coat coats 11 21 12
    `);
    const way = { do: 'take-way-back', wayBack: null, mishap: 'saliva', reason: 'wet' } as const;
    chair.do({ ...way, subjects: ['tooth:21'], voids: ['coats@tooth:21'] });
    const pressed = [chair.next(), chair.next(), chair.next()];
    expect(pressed.map((o) => `${o.id} ${o.count}`)).toEqual([
      'coat coats tooth:21 1',
      'coat coats tooth:21 2',
      'coat coats tooth:11 tooth:21 tooth:12 3',
    ]);
    expect(chair.view.finished).toBe(true);
  });

  it('lets a dwell begin again for one while it goes on for the others', () => {
    const protocol = protocolOf([step('prime', 'unit', dwell(30, 60), { together: true })]);
    const chair = new Chair(settingOf(protocol, ['11', '21'])).rows('at 0 s start prime 11 21');
    const way = {
      do: 'take-way-back',
      wayBack: null,
      mishap: 'unit-dropped',
      reason: 'x',
    } as const;
    chair.do({ ...way, subjects: ['unit:21'], voids: ['prime@unit:21'] });
    expect(chair.offers).toEqual(['start prime unit:21', 'end prime unit:11']);
  });
});

describe('links', () => {
  const chain = protocolOf([
    step('clean', 'tooth', confirm),
    step('mixed', 'mix', confirm, { after: ['clean'] }),
    step('load', 'unit', confirm, { after: ['mixed/linked', 'seat/previous'] }),
    step('seat', 'unit', confirm, { after: ['load/same'] }),
    step('excess', 'mix', confirm, { after: ['seat/linked'] }),
  ]);
  const mixes = { mixes: [['11', '21'], ['12']] };
  const fresh = () => new Chair(settingOf(chain, ['11', '21', '12'], mixes));

  it('all: a barrier holds until every subject has passed', () => {
    const chair = fresh().rows('at 0 s confirm clean 11');
    expect(chair.refusals('confirm mixed 1')).toEqual(['confirm mixed 1: not-yet']);
    chair.rows(`
      at 5 s  confirm clean 21
      at 9 s  confirm clean 12
      at 9 s  confirm mixed 1
    `);
    expect(chair.status('mixed@mix:1')).toBe('done');
  });

  it('linked: a unit waits for its own mix only, and the mix for all of its units', () => {
    const chair = fresh().rows(`
      at 0 s   confirm clean 11 21 12
      at 5 s   confirm mixed 1
      at 9 s   confirm load 11
    `);
    expect(chair.refusals('confirm load 12')).toEqual(['confirm load 12: not-yet']);
    chair.rows('at 12 s confirm seat 11');
    expect(chair.refusals('confirm excess 1')).toEqual(['confirm excess 1: not-yet']);
    chair.rows(`
      at 15 s  confirm load 21
      at 18 s  confirm seat 21
      at 20 s  confirm excess 1
    `);
    expect(chair.status('excess@mix:1')).toBe('done');
  });

  it('previous: the next unit waits for the one before it; the first for nobody', () => {
    const chair = fresh().rows(`
      at 0 s  confirm clean 11 21 12
      at 5 s  confirm mixed 1
    `);
    const refusal = chair.do({
      do: 'press',
      offer: { kind: 'confirm', step: 'load', subjects: ['unit:21'] },
    });
    expect(refusal).toMatchObject({ code: 'not-yet', missing: ['seat@unit:11'] });
    chair.rows('confirm load 11');
  });

  it('a step that does not apply hands the waiting on to what it waits for itself', () => {
    const protocol = protocolOf([
      step('way', 'case', choose({ id: 'plain' }, { id: 'extra' })),
      step('clean', 'tooth', confirm, { after: ['way'] }),
      step('extra', 'tooth', confirm, {
        after: ['clean/same'],
        onlyIf: [{ step: 'way', option: 'extra' }],
      }),
      step('etch', 'tooth', confirm, { after: ['extra/same'] }),
    ]);
    const chair = new Chair(settingOf(protocol, ['11', '21'])).rows(`
      at 0 s  choose way case plain
      at 1 s  confirm clean 11
      at 2 s  confirm etch 11
    `);
    expect(chair.refusals('confirm etch 21')).toEqual(['confirm etch 21: not-yet']);
  });

  it('an edge lets a step wait for the start of another', () => {
    const protocol = protocolOf([
      step('warm', 'case', dwell(null, 60)),
      step('talk', 'case', confirm, { after: ['warm/all/start'] }),
    ]);
    const chair = new Chair(settingOf(protocol, ['11']));
    expect(chair.refusals('confirm talk case')).toEqual(['confirm talk case: not-yet']);
    chair.rows(`
      at 1 s  start warm case
      at 2 s  confirm talk case
    `);
  });
});

describe('a mix made again', () => {
  const chain = protocolOf([
    step('mixed', 'mix', confirm, { after: ['tack/previous'] }),
    step('load', 'unit', confirm, { after: ['mixed/linked', 'seat/previous'] }),
    step('seat', 'unit', confirm, { after: ['load/same'] }),
    step('excess', 'mix', confirm, { after: ['seat/linked'] }),
    step('tack', 'unit', expose({ surfaces: ['facial'], seconds: 3 }), {
      after: ['excess/linked'],
    }),
  ]);

  it('takes the units it is made for out of their old mix', () => {
    const chair = new Chair(settingOf(chain, ['11', '21', '12'], { mixes: [['11', '21', '12']] }));
    chair.rows(`
      at 0 s   confirm mixed 1
      at 5 s   confirm load 11
      at 9 s   confirm seat 11
      at 10 s  add-mix 21 12
    `);
    expect(chair.log.state.plan.mixes).toEqual([['11'], ['21', '12']]);
    expect(chair.refusals('confirm load 21')).toEqual(['confirm load 21: not-yet']);
  });

  it('never locks the case, whichever units it is made for and whenever', () => {
    const teeth = ['11', '21', '12', '22'];
    const mixes = [
      ['11', '21'],
      ['12', '22'],
    ];
    for (let presses = 0; presses < 14; presses += 3) {
      for (let chosen = 1; chosen < 16; chosen += 1) {
        const chair = new Chair(settingOf(chain, teeth, { mixes }));
        const follow = (atMost: number) => {
          for (let i = 0; i < atMost && !chair.view.finished; i += 1) {
            chair.at(chair.trueMs + 3000).next();
          }
        };
        follow(presses);
        const units = teeth.filter((_, i) => (chosen & (1 << i)) !== 0);
        chair.rows(`add-mix ${units.join(' ')}`);
        follow(40);
        expect(chair.view.finished, `${presses} presses, then ${units.join(' ')}`).toBe(true);
      }
    }
  });
});

describe('the agenda', () => {
  it('puts what is due before what can wait, and among the due the least slack first', () => {
    const protocol = protocolOf([
      step('slow', 'case', dwell(10, 20, 100)),
      step('quick', 'case', dwell(10, 20, 40)),
      step('later', 'case', dwell(10, 90, 95)),
      step('free', 'case', confirm),
    ]);
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s  start slow case
      at 0 s  start quick case
      at 0 s  start later case
    `);
    const ids = (atMs: number) => chair.at(atMs).view.offers.map((o) => `${o.id} ${o.slackMs}`);
    expect(ids(25_000)).toEqual([
      'end quick case 15000',
      'end slow case 75000',
      'end later case 70000',
      // Nothing new is begun while a clock wants the hands.
      'confirm free case null',
    ]);
    // A broken window still comes first: its slack is below all others.
    expect(ids(50_000)[0]).toBe('end quick case -10000');
  });

  it('ranks by the chain: a step whose successors are pressed for time goes before a free one', () => {
    const protocol = protocolOf(
      [
        step('open', 'case', confirm),
        step('free', 'case', confirm, { after: ['open'] }),
        step('apply', 'case', confirm, { after: ['open'], paceSeconds: 20 }),
        step('seat', 'case', confirm, { after: ['apply'], paceSeconds: 30 }),
      ],
      { windows: [window('working', 'open/end -> seat/end', { maxS: 90 })] },
    );
    const chair = new Chair(settingOf(protocol, ['11'])).rows('at 0 s confirm open case');
    // 90 s less the 30 s of seating and the 20 s of applying are left before it must begin.
    expect(chair.view.offers.map((o) => [o.id, o.slackMs])).toEqual([
      ['confirm apply case', 40_000],
      ['confirm free case', null],
    ]);
  });

  it('does not begin what would keep the hands past a running clock', () => {
    const protocol = protocolOf([
      step('stand', 'case', dwell(10, 20, 25)),
      step('brief', 'case', confirm, { paceSeconds: 8 }),
      step('long', 'case', confirm, { paceSeconds: 30 }),
    ]);
    const chair = new Chair(settingOf(protocol, ['11'])).rows('at 0 s start stand case');
    expect(chair.offers).toEqual(['confirm brief case', 'end stand case', 'confirm long case']);
    // The call comes at 20 s and the brief one takes 8 s: it fits until 12 s, to the millisecond.
    const firsts = [11_000, 12_000, 12_001, 13_000].map((at) => {
      const { offers, nextChangeInMs } = chair.at(at).view;
      return `${at} ${offers[0]?.id}, again in ${nextChangeInMs}`;
    });
    expect(firsts).toEqual([
      '11000 confirm brief case, again in 1001',
      '12000 confirm brief case, again in 1',
      '12001 end stand case, again in 2999',
      '13000 end stand case, again in 2000',
    ]);
  });

  // By hand: 11 may stay to 30 s, and three more touches take 3 x 4 s. At 18 s these twelve seconds
  // are just there; a millisecond later they are not, and 11 must come first.
  it.each([
    [17_000, 'start etch tooth:21', 1001],
    [17_999, 'start etch tooth:21', 2],
    [18_000, 'start etch tooth:21', 1],
    [18_001, 'end etch tooth:11', 1999],
  ])('begins a round as long as its first still has room: at %i ms %s', (at, first, nextMs) => {
    const chair = new Chair(settingOf(ETCH_ROUND, ['11', '21', '12', '22'])).rows(`
      at 0 s  confirm ready case
      at 0 s  start etch 11
    `);
    const view = chair.at(at).view;
    expect([view.offers[0]?.id, view.nextChangeInMs]).toEqual([first, nextMs]);
  });

  it('holds back what a window with a minimum still forbids, and says for how long', () => {
    const protocol = protocolOf(
      [step('out', 'case', confirm), step('use', 'case', confirm, { after: ['out'] })],
      { windows: [window('warm', 'out/end -> use/end', { minS: 600 })] },
    );
    const chair = new Chair(settingOf(protocol, ['11'])).rows('at 0 s confirm out case');
    expect(chair.at(60_000).view.offers[0]).toMatchObject({
      id: 'confirm use case',
      dueInMs: 540_000,
    });
    expect(chair.view.nextChangeInMs).toBe(540_000);
  });

  it('offers nothing once the case is closed', () => {
    const protocol = protocolOf([step('only', 'case', coats(1))]);
    const chair = new Chair(settingOf(protocol, ['11'])).rows(`
      at 0 s  coat only case
      at 1 s  sign-off dentist-a
    `);
    expect(chair.offers).toEqual([]);
    expect(chair.log.state.closed).toMatchObject({ by: 'dentist-a', at: { loMs: 1000 } });
  });

  it('binds by the tightest of several limits, and names it', () => {
    const protocol = protocolOf(
      [step('dry', 'case', confirm), step('coat', 'case', dwell(5, 10), { after: ['dry'] })],
      {
        windows: [
          window('middle', 'dry/end -> coat/start', { maxS: 60 }),
          window('tight', 'dry/end -> coat/start', { maxS: 40 }),
          window('loose', 'dry/end -> coat/start', { maxS: 90 }),
        ],
      },
    );
    const chair = new Chair(settingOf(protocol, ['11'])).rows('at 0 s confirm dry case');
    expect(chair.at(10_000).view.offers[0]).toMatchObject({ slackMs: 30_000, boundBy: 'tight' });
  });

  it('binds a running dwell by its own maximum', () => {
    const long = { ...dwell(5, 10), maxMs: secondsFigure(12) };
    const chair = new Chair(settingOf(protocolOf([step('air', 'case', long)]), ['11']));
    chair.rows('at 0 s start air case');
    expect(chair.at(4000).view.offers[0]).toMatchObject({ slackMs: 8000, boundBy: 'air' });
  });
});
