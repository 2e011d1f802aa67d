/**
 * Steps, waits and times that depend on what the case file says of a tooth or unit. Times: enamel
 * 15/30/60 s and dentine 10/12/15 s of phosphoric acid (clinical figures with their sources stand in
 * the protocols); here they only have to be told apart. Rules of the trade: practice.
 */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { deepFreeze } from '../../src/base/freeze.ts';
import { decideOpening } from '../../src/engine/decide.ts';
import { readBackLines } from '../../src/engine/read-back.ts';
import { fewestPlan } from '../../src/plan/grouping.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { checkCaseFits } from '../../src/protocol/check-materials.ts';
import type { ToothFacts } from '../../src/protocol/facts.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { bareId } from '../../src/protocol/subjects.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { readBackWords } from '../../src/words/read-back-words.ts';
import { Chair } from './chair.ts';
import { caseOf, confirm, dwell, protocolOf, secondsFigure, step, window } from './fixture.ts';

const dentine = { fact: 'substrate', is: ['dentine-shows'] } as const;
const margin = { fact: 'substrate', is: ['enamel', 'dentine-shows'] } as const;

/** Enamel first; where dentine shows it joins for its last seconds; one rinse for both. */
const TWO_CLOCKS = protocolOf(
  [
    step('ready', 'case', confirm),
    step(
      'etch',
      'tooth',
      {
        ...dwell(15, 30, 60),
        variants: [
          {
            where: [dentine],
            minMs: secondsFigure(5),
            targetMs: secondsFigure(18),
            maxMs: secondsFigure(45),
          },
        ],
      } as never,
      { after: ['ready'], hands: [4, 4], where: [margin] },
    ),
    step('etch-dentine', 'tooth', dwell(10, 12, 15), {
      after: ['etch/same', 'ready'],
      beginsWith: 'etch',
      hands: [4, 4],
      where: [{ fact: 'substrate', is: ['dentine-shows', 'no-enamel-margin'] }],
    }),
    step('rinse', 'tooth', dwell(10, 15), {
      after: ['etch-dentine/same'],
      together: true,
      roundOf: 'etch',
      beginsWith: 'etch-dentine',
      paceSeconds: 15,
    }),
    step('dry', 'tooth', confirm, { after: ['rinse/same'], where: [margin] }),
    step('bond', 'tooth', confirm, { after: ['dry/same'] }),
  ],
  { windows: [window('dry-soon', 'dry/end -> bond/end', { maxS: 60 })] },
);

function opened(teeth: readonly ToothFacts[], protocol: Protocol = TWO_CLOCKS, more = {}) {
  const bare = caseOf(teeth.map(({ tooth }) => tooth));
  const parsed = parseCase({ ...bare, teeth: teeth.filter((t) => t.substrate), ...more });
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  const spec: CaseFile = parsed.value;
  return new Chair(deepFreeze({ spec, protocol, plan: fewestPlan(spec, protocol) }));
}

const tooth = (tooth: string, ...substrate: NonNullable<ToothFacts['substrate']>): ToothFacts =>
  substrate.length === 0 ? { tooth } : { tooth, substrate };

describe('a tooth on which dentine shows', () => {
  it('has two clocks: 18 s of enamel alone, then 12 s of both, ended by one rinse', () => {
    const chair = opened([tooth('11', 'enamel', 'dentine-shows')]).rows(`
      at 0 s   confirm ready case
      at 0 s   start etch 11
      at 18 s  end etch 11
    `);
    expect(chair.status('etch-dentine@tooth:11')).toBe('running');
    chair.rows('at 30 s end etch-dentine 11');
    expect(chair.status('rinse@tooth:11')).toBe('running');
    expect(chair.breaches).toEqual([]);
  });

  it.each([
    { end: '33001 ms', breaches: ['over etch-dentine tooth:11 by 1'] },
    { end: '33 s', breaches: [] },
    { end: '27 s', breaches: ['short etch-dentine tooth:11 by 1000'] },
  ])('is judged by the dentine clock: rinsed at $end breaks $breaches', ({ end, breaches }) => {
    const chair = opened([tooth('11', 'dentine-shows')]).rows(`
      at 0 s    confirm ready case
      at 0 s    start etch 11
      at 18 s   end etch 11
      at ${end} end etch-dentine 11
    `);
    expect(chair.breaches).toEqual(breaches);
  });

  it('is not in one round with enamel', () => {
    const chair = opened([
      tooth('12', 'enamel'),
      tooth('11', 'dentine-shows'),
      tooth('21', 'enamel'),
    ]);
    expect(chair.log.state.plan.rounds['etch']).toEqual([['tooth:12', 'tooth:21'], ['tooth:11']]);
    expect(chair.log.state.plan.rounds['etch-dentine']).toEqual([['tooth:11']]);
  });
});

describe('a tooth of enamel', () => {
  it('has one clock, which the rinse ends', () => {
    const chair = opened([tooth('11', 'enamel')]).rows(`
      at 0 s   confirm ready case
      at 0 s   start etch 11
      at 30 s  end etch 11
    `);
    expect(chair.status('rinse@tooth:11')).toBe('running');
    expect(chair.refusals('start etch-dentine 11')).toEqual([
      'start etch-dentine 11: does-not-apply',
    ]);
  });
});

describe('a tooth without enamel at its margin', () => {
  it('begins with dentine by a press of its own and is not asked to dry', () => {
    const chair = opened([tooth('11', 'no-enamel-margin')]).rows(`
      at 0 s   confirm ready case
      at 1 s   start etch-dentine 11
      at 13 s  end etch-dentine 11
      at 28 s  end rinse 11
    `);
    expect(chair.view.offers[0]).toMatchObject({ step: 'bond', subjects: ['tooth:11'] });
    expect(chair.breaches).toEqual([]);
  });
});

describe('a tooth that nobody was asked about', () => {
  it('is a finding by name, and no step that depends on the answer belongs to it', () => {
    const spec = caseOf(['11']);
    expect(checkCaseFits(spec, TWO_CLOCKS).map(({ code, values }) => [code, values])).toEqual([
      ['not-asked', { id: '11', fact: 'substrate' }],
    ]);
    const chair = opened([tooth('11')]).rows('at 0 s confirm ready case');
    expect(chair.log.state.plan.rounds['etch']).toEqual([]);
  });

  it('is a reason not to begin a patient case, named; a rehearsal may begin', () => {
    const spec = caseOf(['11', '21']);
    const about = {
      spec: { ...spec, teeth: [{ tooth: '21', substrate: ['enamel' as const] }] },
      protocol: TWO_CLOCKS,
      protocolHash: 'hash-1',
      approval: { hash: 'hash-1', by: 'lead-c', onWallMs: 0 },
      plan: fewestPlan(spec, TWO_CLOCKS),
    };
    const patient = decideOpening({ ...about, mode: 'patient' });
    expect(patient.ok ? null : patient.error).toEqual({
      code: 'not-asked',
      values: { ids: '11', count: 1 },
      missing: ['substrate'],
    });
    expect(decideOpening({ ...about, mode: 'rehearsal' }).ok).toBe(true);
  });

  it('is refused in a file for a tooth to which nothing is bonded', () => {
    const parsed = parseCase({
      ...caseOf(['11']),
      teeth: [{ tooth: '21', substrate: ['enamel'] }],
    });
    expect(parsed.ok ? [] : parsed.error.map(({ place }) => place)).toEqual([
      'case.teeth[0].tooth',
    ]);
  });
});

describe('a condition that excludes', () => {
  const protocol = protocolOf([
    step('acid', 'tooth', confirm, { where: [{ fact: 'substrate', isNot: ['no-enamel-margin'] }] }),
  ]);

  it.each([
    { substrate: ['enamel'] as const, offered: ['tooth:11'] },
    { substrate: ['no-enamel-margin', 'build-up'] as const, offered: undefined },
    { substrate: [] as const, offered: undefined },
  ])('$substrate: $offered', ({ substrate, offered }) => {
    const chair = opened([tooth('11', ...substrate)], protocol);
    expect(chair.view.offers.find((o) => o.step === 'acid')?.subjects).toEqual(offered);
  });
});

describe('what was answered', () => {
  it('is read aloud with the teeth before the work, in words', () => {
    const teeth = [tooth('11', 'enamel', 'dentine-shows'), tooth('21')];
    const chair = opened(teeth).rows('at 0 s confirm ready case');
    const now = present(chair.log.state.runs['ready@case']?.endedAt, 'an instant');
    const lines = readBackLines(chair.log.state, 'teeth', {
      now,
      subjects: [],
    });
    expect(readBackWords(lines, { nameOf: bareId })).toEqual([
      '11, veneer, lithium disilicate',
      '21, veneer, lithium disilicate',
      '11: Enamel, Dentine shows',
    ]);
  });
});

describe('a choice of the clinic', () => {
  const choices = [
    {
      id: 'route',
      title: 'Adhesive',
      options: [
        { id: 'lit', label: 'Exposed thin' },
        { id: 'paired', label: 'With its activator' },
      ],
      default: 'lit',
    },
  ];
  const steps = [
    step('bond', 'tooth', confirm),
    step('light', 'tooth', confirm, {
      after: ['bond/same'],
      where: [{ choice: 'route', is: ['lit'] }],
    }),
    step('mix-in', 'case', confirm, { where: [{ choice: 'route', is: ['paired'] }] }),
  ];
  const protocol = deepFreeze({ ...protocolOf([step('bond', 'tooth', confirm)]), choices, steps });

  it.each([
    { more: {}, first: ['bond'] },
    { more: { choices: { route: 'paired' } }, first: ['bond', 'mix-in'] },
    { more: { choices: { route: 'gone' } }, first: ['bond'] },
  ])('$more offers $first', ({ more, first }) => {
    const chair = opened([tooth('11')], protocol, more);
    expect(chair.view.offers.map((o) => o.step).toSorted()).toEqual(first);
  });
});

describe('units that are cleaned one by one', () => {
  it('wait for the contacts between units that are seated already, and for no others', () => {
    const protocol = protocolOf([
      step('seat', 'unit', confirm, { after: ['floss/earlier'] }),
      step('floss', 'contact', confirm, { after: ['seat/linked'] }),
    ]);
    const chair = opened([tooth('11'), tooth('21'), tooth('22')], protocol).rows(`
      at 0 s confirm seat 11
      at 1 s confirm floss 12-11
    `);
    expect(chair.refusals('confirm seat 22')).toEqual(['confirm seat 22: not-yet']);
    chair.rows('at 2 s confirm seat 21');
    expect(chair.refusals('confirm seat 22')).toEqual(['confirm seat 22: not-yet']);
    chair.rows(`
      at 3 s confirm floss 11-21
      at 4 s confirm seat 22
    `);
  });
});

describe('a window from the second unit at a contact', () => {
  it('runs from the unit that stands last in the order of the case, not from the first', () => {
    const floss = window('floss-soon', 'seat/end -> floss/end', { maxS: 60, match: 'last' });
    const protocol = protocolOf(
      [
        step('seat', 'unit', confirm),
        step('floss', 'contact', confirm, { after: ['seat/linked'] }),
      ],
      { windows: [floss] },
    );
    const chair = opened([tooth('11'), tooth('21')], protocol).rows(`
      at 0 s   confirm seat 11
      at 20 s  confirm floss 12-11
      at 100 s confirm seat 21
      at 160 s confirm floss 11-21
      at 161 s confirm floss 21-22
    `);
    expect(chair.breaches).toEqual(['late floss-soon contact:21-22 by 1000']);
  });
});
