/** Lives as they follow from what was noted: the table of findings, late entry, bonding again. */
import { describe, expect, it } from 'vitest';
import { checkVisit } from '../../src/outcomes/check-visit.ts';
import { addDays } from '../../src/outcomes/days.ts';
import type {
  BondedCase,
  Finding,
  FollowUp,
  KeptVisit,
  UnitFound,
  Visit,
} from '../../src/outcomes/follow-up-types.ts';
import type { LifeEnd } from '../../src/outcomes/life-types.ts';
import { leftOut, livesOf, timed } from '../../src/outcomes/lives.ts';
import { END_POINTS } from '../../src/outcomes/vocabulary.ts';
import vectors from '../outcomes/vectors.json' with { type: 'json' };
import { bonded, found, visit } from './clinic.ts';

const DAY_0 = '2020-01-01';
const on = (day: number): string => addDays(DAY_0, day);
const TODAY = on(3000);

const kept = (one: Visit, n: number): KeptVisit => ({
  id: `v${n}`,
  visit: one,
  by: null,
  atWallMs: n,
  was: [],
});

function followUp(change: Partial<BondedCase>, visits: readonly Visit[], caseId = 'c'): FollowUp {
  return {
    caseId,
    bonded: bonded({ bondedOn: DAY_0, ...change }),
    visits: visits.map(kept),
    struck: [],
    recallsEnded: null,
    differing: [],
    unread: [],
    heads: [],
  };
}

const one = bonded().units.slice(0, 1);

/** The ends of the unit 11, days from its bonding. */
const lifeOf = (visits: readonly Visit[], change: Partial<BondedCase> = {}) =>
  livesOf([followUp({ units: one, ...change }, visits)], TODAY);

const none = (afterDay: number): LifeEnd => ({ event: 'none', afterDay, byDay: null });
const ended = (event: 'event' | 'competing', afterDay: number, byDay = afterDay): LifeEnd => ({
  event,
  afterDay,
  byDay,
});

interface Want {
  readonly event: string;
  readonly after?: number;
  readonly by?: number | null;
  readonly entry?: number;
}

interface Told {
  readonly why: string;
  readonly observedFromDay?: number;
  readonly visits: readonly (readonly [number, string, number?])[];
  readonly rebondedDay?: number;
  readonly visitsAfter?: readonly (readonly [number, string, number?])[];
}

const visitsOf = (told: Told['visits']): readonly Visit[] =>
  told.map(([day, finding, stated]) => {
    const named = (finding === 'lost' ? 'lost-retention' : finding) as Finding;
    const more: Partial<UnitFound> = stated === undefined ? {} : { statedDay: on(stated) };
    return visit(on(day), found('11', named, more));
  });

/** An end in the words of the vectors. */
const said = (end: LifeEnd | null | undefined) =>
  end === null || end === undefined
    ? { excluded: 'failed-before-observation' }
    : { event: end.event, after: end.afterDay, by: end.byDay };

describe('visits to times: rules proposed with the vectors, no source', () => {
  const vector = vectors.vectors.find(({ id }) => id === 'visits-to-times');
  const told = vector?.input as unknown as readonly Told[];
  const expected = vector?.expected as unknown as readonly Readonly<Record<string, Want>>[];
  const EVENTS: Readonly<Record<string, string>> = {
    lost: 'event',
    failed: 'event',
    other: 'competing',
    none: 'none',
  };
  const inOurs = (end: Pick<Want, 'event'>) =>
    'excluded' in end ? end : { ...end, event: EVENTS[end.event] };

  it.each(told.map((row, at) => [row.why, row, expected[at] ?? {}] as const))(
    '%s',
    (_why, row, want) => {
      const visits = visitsOf(row.visits);
      const { observedFromDay: from } = row;
      const seen = from === undefined ? {} : { seenFrom: on(from) };
      if ('error' in want) {
        const [last] = visits.slice(-1);
        const about = followUp({ units: one }, visits.slice(0, -1));
        const faults = checkVisit(last ?? visit(DAY_0), { followUp: about, today: TODAY });
        expect(faults.map(({ code }) => code)).toEqual([want['error']]);
        return;
      }
      const again = row.rebondedDay;
      const named: readonly Visit[] =
        again === undefined
          ? visits
          : visits.map((each) => ({
              ...each,
              units: each.units.map((u) =>
                u.findings[0] === 'in-place'
                  ? u
                  : { ...u, done: 'bonded-again' as const, bondedAgainIn: 'd' },
              ),
            }));
      const first = followUp({ units: one, ...seen }, named);
      const second =
        again === undefined
          ? []
          : [followUp({ units: one, bondedOn: on(again) }, visitsOf(row.visitsAfter ?? []), 'd')];
      const [life, later] = livesOf([first, ...second], TODAY);
      for (const endPoint of ['retention', 'success'] as const) {
        const wanted = want[endPoint];
        if (wanted === undefined) continue;
        const { entry, ...end } = wanted;
        expect(said(life?.ends[endPoint])).toEqual(inOurs(end));
        if (entry !== undefined) expect(life?.entryDay).toBe(entry);
      }
      if (want['secondLife'] !== undefined) {
        expect(said(later?.ends.retention)).toEqual(inOurs(want['secondLife']));
        expect([life?.patient, life?.id, later?.id]).toEqual([later?.patient, 'c/11', 'd/11']);
      }
    },
  );

  it('has every row of the vector', () => {
    expect(told).toHaveLength(11);
    expect(expected).toHaveLength(11);
  });
});

describe('what each finding is the end of', () => {
  const at = (of: UnitFound) => {
    const [life] = lifeOf([visit(on(180), found('11', 'in-place')), visit(on(365), of)]);
    return END_POINTS.map((endPoint) => life?.ends[endPoint]?.event);
  };
  const E = 'event';
  const C = 'competing';
  it.each([
    [found('11', 'in-place'), ['none', 'none', 'none']],
    [found('11', 'not-seen'), ['none', 'none', 'none']],
    [found('11', 'lost-retention'), [E, E, E]],
    [found('11', 'partly-loose', { done: 'left' }), [E, E, E]],
    [found('11', 'lost-retention', { done: 'bonded-again' }), [E, 'none', E]],
    [found('11', 'lost-retention', { done: 'replaced' }), [E, E, E]],
    [found('11', 'fractured', { done: 'repaired' }), ['none', 'none', E]],
    [found('11', 'fractured', { done: 'replaced' }), [C, E, E]],
    [found('11', 'caries'), ['none', 'none', E]],
    [found('11', 'caries', { done: 'replaced' }), [C, E, E]],
    [found('11', 'chipped'), ['none', 'none', E]],
    [found('11', 'margin-stained', { done: 'repaired' }), ['none', 'none', E]],
    [found('11', 'sensitive'), ['none', 'none', E]],
    [found('11', 'replaced-other'), [C, C, C]],
    [found('11', 'tooth-lost'), [C, C, C]],
    // Not in the table: a unit that is gone is no longer followed.
    [found('11', 'chipped', { done: 'replaced' }), [C, C, E]],
    [found('11', 'in-place', { retainers: [] }), ['none', 'none', 'none']],
  ] as const)('%j', (of, want) => {
    expect(at(of)).toEqual(want);
  });

  it('of one loose retainer of a bridge, the loss of the bridge', () => {
    const bridge = bonded().units.slice(2);
    const retainers = [
      { tooth: '13', findings: ['in-place'] as const },
      { tooth: '15', findings: ['partly-loose'] as const },
    ];
    const seen = visit(on(365), { unit: '13-15', findings: ['in-place'], retainers });
    const [life] = livesOf([followUp({ units: bridge }, [seen])], TODAY);
    expect(life?.ends.retention).toEqual(ended('event', 0, 365));
  });

  it('counts the first end only, and each end point for itself', () => {
    const [life] = lifeOf([
      visit(on(180), found('11', 'chipped')),
      visit(on(365), found('11', 'in-place')),
      visit(on(700), found('11', 'lost-retention', { statedDay: on(690) })),
      visit(on(800), found('11', 'in-place')),
    ]);
    expect(life?.ends).toEqual({
      retention: ended('event', 690),
      survival: ended('event', 690),
      success: ended('event', 0, 180),
    });
  });

  it('lost at one visit and bonded again at a later one: not the end of survival', () => {
    const [life, second] = lifeOf([
      visit(on(300), found('11', 'lost-retention')),
      visit(on(310), found('11', 'lost-retention', { done: 'bonded-again' })),
      visit(on(900), found('11', 'lost-retention')),
    ]);
    expect(life?.ends.retention).toEqual(ended('event', 0, 300));
    expect(life?.ends.survival).toEqual(none(310));
    expect(second).toMatchObject({ id: 'c/11#2', bondedOn: on(310), revision: null, lots: [] });
    expect(second?.unit.limits).toEqual([]);
    expect(second?.ends.survival).toEqual(ended('event', 0, 590));
  });
});

describe('what contradicts itself, or was over before', () => {
  it('takes a stated day only where a later entry has not seen the unit after it', () => {
    const [life] = lifeOf([
      visit(on(300), found('11', 'in-place')),
      visit(on(365), found('11', 'lost-retention', { statedDay: on(240) })),
    ]);
    expect(life?.ends.retention).toEqual(ended('event', 300, 365));
  });

  it('of units from before the app: enters where it was first looked at, and is left out where it was over then', () => {
    const seenFrom = on(400);
    const after = lifeOf([visit(on(500), found('11', 'lost-retention'))], { seenFrom });
    expect(after[0]).toMatchObject({ entryDay: 400, possibleDays: 3000 });
    expect(after[0]?.ends.retention).toEqual(ended('event', 400, 500));
    const late = lifeOf([visit(on(400), found('11', 'chipped'))], { seenFrom });
    expect(late[0]?.ends.retention).toEqual(none(400));
    expect(late.map((life) => life.ends.success)).toEqual([null]);
    expect([leftOut(late, 'success'), leftOut(late, 'retention')]).toEqual([1, 0]);
    expect(timed(late, 'success', 'visit')).toEqual([]);
    expect(lifeOf([], { seenFrom })[0]).toMatchObject({ entryDay: 400 });
  });
});

describe('one time for each life', () => {
  const lives = lifeOf([
    visit(on(100), found('11', 'in-place')),
    visit(on(301), found('11', 'lost-retention')),
  ]);

  it('at the visit that found it, or half way between the two', () => {
    const about = { entry: 0, event: 'event', patient: 'C-101' } as const;
    expect(timed(lives, 'retention', 'visit')).toEqual([{ ...about, time: 301 }]);
    expect(timed(lives, 'retention', 'mid-gap')).toEqual([{ ...about, time: 200.5 }]);
  });

  it('is after its entry, also of what was found on the day of the bonding', () => {
    const atOnce = lifeOf([visit(on(0), found('11', 'lost-retention'))]);
    expect(timed(atOnce, 'retention', 'mid-gap')).toMatchObject([{ entry: 0, time: 0.5 }]);
  });

  it('does not depend on the order in which visits or cases were noted', () => {
    const visits = visitsOf([
      [100, 'in-place'],
      [301, 'lost'],
      [500, 'in-place'],
    ]);
    const cases = ['x', 'y', 'z'].map((id, n) => followUp({}, visits.slice(n), id));
    const turned = cases
      .map((each) => ({ ...each, visits: each.visits.toReversed() }))
      .toReversed();
    const byId = (all: ReturnType<typeof livesOf>) =>
      all.toSorted((a, b) => (a.id < b.id ? -1 : 1));
    expect(byId(livesOf(turned, TODAY))).toEqual(byId(livesOf(cases, TODAY)));
  });
});
