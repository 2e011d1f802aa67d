/**
 * Passes of light over any course of presses: what counts adds up exactly to the plan, every tooth rests
 * for as long as the plan says, and nothing counts that nobody confirmed.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { presses } from '../../src/engine/log.ts';
import { Chair } from './chair.ts';
import { confirm, expose, protocolOf, settingOf, step } from './fixture.ts';
import { atLight, given, inPresses, offered, PACED, press } from './light-pass.ts';

const TEETH = ['11', '21', '12'];

type Turn =
  | { readonly do: 'wait'; readonly ms: number }
  | { readonly do: 'press' }
  | { readonly do: 'untick'; readonly at: number }
  | { readonly do: 'undo' }
  | { readonly do: 'reload'; readonly ms: number };

const turns: fc.Arbitrary<Turn> = fc.oneof(
  { weight: 5, arbitrary: fc.record({ do: fc.constant('wait'), ms: fc.nat(20_000) }) },
  { weight: 5, arbitrary: fc.constant({ do: 'press' }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('untick'), at: fc.nat(5) }) },
  { weight: 1, arbitrary: fc.constant({ do: 'undo' }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('reload'), ms: fc.nat(90_000) }) },
) as fc.Arbitrary<Turn>;

function take(chair: Chair, turn: Turn): void {
  switch (turn.do) {
    case 'wait':
      chair.at(chair.trueMs + turn.ms);
      return;
    case 'press':
      if (chair.view.offers[0]?.step === 'expose') chair.next();
      return;
    case 'untick': {
      const offer = chair.view.offers.find(({ kind }) => kind === 'pass-confirm');
      if (offer === undefined) return;
      const places = (offer.places ?? []).filter((_, i) => i !== turn.at);
      expect(chair.do({ do: 'press', offer: { ...offer, places } })).toBeNull();
      return;
    }
    case 'undo':
      // The units stay seated.
      if (presses(chair.log).length > TEETH.length) chair.do({ do: 'undo' });
      return;
    case 'reload': {
      const before = chair.stamp;
      chair.rows(`reload ${turn.ms} ms`);
      chair.do({ do: 'note-gap', before, after: chair.stamp, cause: 'closed' }, null);
      return;
    }
  }
}

/** When the light was on each tooth, if every tone is followed: by the stamps of the presses that stand. */
function litAt(chair: Chair): ReadonlyMap<string, readonly (readonly [number, number])[]> {
  const taken = new Set(
    chair.log.records.flatMap(({ event }) =>
      event.type === 'press-retracted' ? [event.press] : [],
    ),
  );
  const events = chair.log.records
    .filter(({ press: own }) => !taken.has(own))
    .map(({ event, stamp }) => ({
      event,
      ms: event.type === 'gap-found' ? event.before.wallMs : stamp.wallMs,
    }));
  const lit = new Map<string, (readonly [number, number])[]>();
  for (const [i, { event, ms }] of events.entries()) {
    if (event.type !== 'light-pass-begun') continue;
    const end = events
      .slice(i + 1)
      .find((e) => ['light-pass-stopped', 'gap-found'].includes(e.event.type));
    for (const { subject, fromMs, setMs } of event.places) {
      const from = ms + fromMs;
      const to = Math.min(from + setMs, end?.ms ?? Number.POSITIVE_INFINITY);
      if (to > from) lit.set(subject, [...(lit.get(subject) ?? []), [from, to]]);
    }
  }
  return lit;
}

const owedMs = { facial: 14_000, lingual: 10_000 };

function chairOf(walk: 'by-surface' | 'by-unit'): Chair {
  const plans = [inPresses(6, 8), { ...inPresses(10), surface: 'lingual' as const }];
  const exposures = { expose: Object.fromEntries(TEETH.map((tooth) => [tooth, plans])) };
  return atLight(TEETH, { walk, restSeconds: 12, plan: { exposures } });
}

const sums = (chair: Chair): Record<string, number> => {
  const sum: Record<string, number> = {};
  for (const row of given(chair)) {
    const [tooth, surface, ms] = row.split(' ');
    const key = `${tooth} ${surface}`;
    sum[key] = (sum[key] ?? 0) + Number(ms);
  }
  return sum;
};

describe.each(['by-surface', 'by-unit'] as const)('any course of passes, %s', (walk) => {
  it('gives at the end exactly what the plan says, and never more on the way', () => {
    fc.assert(
      fc.property(fc.array(turns, { maxLength: 25 }), (list) => {
        const chair = chairOf(walk);
        for (const turn of list) {
          take(chair, turn);
          for (const [key, ms] of Object.entries(sums(chair))) {
            expect(ms).toBeLessThanOrEqual(key.endsWith('facial') ? owedMs.facial : owedMs.lingual);
          }
        }
        for (let i = 0; i < 60 && chair.view.offers[0]?.step === 'expose'; i++) {
          chair.at(chair.trueMs + Math.max(0, chair.view.offers[0]?.dueInMs ?? 0));
          // What was stopped is gone on with; what is over is confirmed as a whole.
          chair.next();
        }
        expect(sums(chair)).toEqual(
          Object.fromEntries(
            TEETH.flatMap((tooth) => [
              [`${tooth} facial`, owedMs.facial],
              [`${tooth} lingual`, owedMs.lingual],
            ]),
          ),
        );
      }),
      { numRuns: 60 },
    );
  });

  it('lets every tooth rest for as long as the plan says', () => {
    fc.assert(
      fc.property(fc.array(turns, { maxLength: 25 }), (list) => {
        const chair = chairOf(walk);
        // Without an undo and without "nothing was lit": then every tone is a lamp that was on.
        for (const turn of list) if (turn.do !== 'undo' && turn.do !== 'untick') take(chair, turn);
        for (const [tooth, spans] of litAt(chair)) {
          const sorted = spans.toSorted((a, b) => a[0] - b[0]);
          for (const [i, [from]] of sorted.entries()) {
            const before = sorted[i - 1];
            if (before !== undefined) {
              expect(from - before[1], `rest of ${tooth}`).toBeGreaterThanOrEqual(12_000);
            }
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('counts nothing that nobody has confirmed', () => {
    fc.assert(
      fc.property(fc.array(turns, { maxLength: 25 }), (list) => {
        const chair = chairOf(walk);
        for (const turn of list) {
          const [offer] = chair.view.offers;
          // The press that goes on with the next pass confirms the one before it.
          const isConfirm = offer?.kind === 'pass-confirm' || offer?.confirms !== undefined;
          if (turn.do === 'untick' || (turn.do === 'press' && isConfirm)) continue;
          take(chair, turn);
        }
        expect(given(chair)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });
});

describe('two steps of light', () => {
  const twoSteps = protocolOf([
    step('seat', 'unit', confirm),
    step('tack', 'unit', expose({ surfaces: ['facial'], seconds: 3, walk: 'by-unit' }), {
      after: ['seat'],
      pressed: PACED,
    }),
    step('expose', 'unit', expose({ surfaces: ['facial'], seconds: 10 }), {
      after: ['tack/same'],
      pressed: PACED,
    }),
  ]);

  it('are paced one after the other, and each pass is of one step', () => {
    const chair = new Chair(settingOf(twoSteps, ['11', '21'], { restMs: {} }));
    chair.do({ do: 'note-tones', heard: true }, null);
    chair.rows('confirm seat 11').rows('confirm seat 21');
    for (const unit of ['11', '21']) {
      expect(offered(chair, 'pass-begin')).toMatchObject({
        step: 'tack',
        subjects: [`unit:${unit}`],
      });
      press(chair, 'pass-begin');
      expect(chair.view.offers.filter(({ step: id }) => id === 'expose')).toEqual([]);
      chair.at(chair.trueMs + 3000);
      press(chair, 'pass-confirm');
    }
    expect(offered(chair, 'pass-begin')).toMatchObject({
      step: 'expose',
      subjects: ['unit:11', 'unit:21'],
    });
    press(chair, 'pass-begin');
    chair.at(chair.trueMs + 23_000);
    press(chair, 'pass-confirm');
    expect(given(chair)).toEqual([
      '11 facial 3000',
      '21 facial 3000',
      '11 facial 10000',
      '21 facial 10000',
    ]);
  });

  it('do not begin a pass of one while that of the other waits to be confirmed', () => {
    const chair = new Chair(settingOf(twoSteps, ['11', '21'], { restMs: {} }));
    chair.do({ do: 'note-tones', heard: true }, null);
    chair.rows('confirm seat 11').rows('confirm seat 21');
    press(chair, 'pass-begin');
    chair.at(1000);
    press(chair, 'pass-stop');
    const places = [{ subject: 'unit:21', surface: 'facial' as const, position: 1, setMs: 10_000 }];
    const no = chair.do({
      do: 'press',
      offer: { kind: 'pass-begin', step: 'expose', subjects: ['unit:21'], places },
    });
    expect(no?.code).toBe('light-is-on');
  });
});
