import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { AXIS_START, earliestMs, elapsed, latestMs, shift } from '../../src/engine/axis.ts';
import { sweptAt } from '../../src/engine/sweep.ts';
import { checkPressing } from '../../src/protocol/check-pressing.ts';
import { howClosely, sweepWidthMs, withPressing } from '../../src/protocol/how-closely.ts';
import type { Pressing, Protocol } from '../../src/protocol/types.ts';
import { waysToPress } from '../../src/protocol/ways-to-press.ts';
import { drop, type Json, json, put, sharedText } from './documents.ts';
import {
  inStep,
  PRESSED,
  plainTemplate,
  pressedTemplate,
  read,
  sweepTime,
  withPressed,
} from './pressed-support.ts';

const pressed = read(pressedTemplate);

const SHIPPED = [
  'thin-veneers-separate-bottle-etch-and-rinse',
  'finishing-visit',
  'zirconia-crown-wing-bridge-dual-cured',
];

const wayOf = (protocol: Protocol, id: string): Pressing | null =>
  protocol.steps.find((step) => step.id === id)?.pressed ?? null;

/** "Acid: 1 sweep, rounds of 2" for each limit that the step's own way of pressing touches. */
function told(document: Json, id: string): readonly string[] {
  const protocol = read(document);
  return howClosely(protocol, id, wayOf(protocol, id)).map(({ title, each, pressed: now }) => {
    const blurs = now.blurs.map((blur) => blur.kind).join('+') || 'exact';
    const before = each.blurs.map((blur) => blur.kind).join('+') || 'exact';
    const round = now.roundMax === null ? '' : `, rounds of ${now.roundMax}`;
    return `${title}: ${before} → ${blurs}${round}${now.isLost ? ', lost' : ''}`;
  });
}

const times = fc
  .tuple(fc.integer({ min: 1, max: 9000 }), fc.integer({ min: 0, max: 9000 }))
  .map(([shortestMs, moreMs]) => ({ shortestMs, longestMs: shortestMs + moreMs }));

describe('how closely a limit is judged', () => {
  it('a sweep is as wide as the engine spreads it', () => {
    fc.assert(
      fc.property(times, fc.integer({ min: 1, max: 12 }), (time, number) => {
        const at = sweptAt(shift(AXIS_START, 60_000), time, number - 1);
        expect(sweepWidthMs(time, number)).toBe(latestMs(at) - earliestMs(at));
        expect(sweepWidthMs(time, number)).toBeLessThanOrEqual(number * time.longestMs);
      }),
    );
  });

  // Tried out on the axis of the engine: the last of the round may be ended at any instant.
  it('names the largest round of which "kept" can be said of the last', () => {
    const acid = { minMs: 20_000, maxMs: 60_000 };
    const seen = new Set<number | null>();
    fc.assert(
      fc.property(times, (end) => {
        const sweep = { kind: 'sweep', end: sweepTime(end.shortestMs, end.longestMs) };
        const document = ['minMs', 'maxMs'].reduce<Json>(
          (d, key) =>
            put(d, inStep('acid', 'action', key), {
              value: key === 'minMs' ? acid.minMs : acid.maxMs,
              basis: { kind: 'practice' },
            }),
          withPressed(pressedTemplate, { acid: sweep }),
        );
        const plain = ['byMaterial', 'variants'].reduce<Json>(
          (d, key) => drop(d, inStep('acid', 'action', key)),
          document,
        );
        const protocol = read(plain);
        const own = howClosely(protocol, 'acid', wayOf(protocol, 'acid')).find(
          (limit) => limit.id === 'acid',
        );
        const start = shift(AXIS_START, 5000);
        const canBeKept = (number: number): boolean =>
          Array.from({ length: 700 }, (_, i) => i * 100).some((afterMs) => {
            const ended = sweptAt(shift(start, afterMs), end, number - 1);
            const took = elapsed(start, ended);
            return took.loMs >= acid.minMs && took.hiMs <= acid.maxMs;
          });
        const most = own?.pressed.roundMax ?? null;
        seen.add(most);
        expect(own?.pressed.isLost).toBe(false);
        if (most !== null) {
          // The instants tried lie 100 ms apart.
          const room = acid.maxMs - acid.minMs - 100;
          // One alone is pressed.
          if (most > 1 && sweepWidthMs(end, most) <= room) expect(canBeKept(most)).toBe(true);
          expect(canBeKept(most + 1)).toBe(false);
        }
      }),
      { numRuns: 60 },
    );
    expect(seen.size).toBeGreaterThan(2);
  });

  it.each<[string, readonly string[]]>([
    ['load', []],
    ['charge', []],
    ['acid', ['Acid: exact → sweep+sweep, rounds of 3', 'Acid rinse: exact → sweep']],
    ['etch-dentine', ['Dentine too: exact → sweep, rounds of 1', 'Rinse: exact → sweep']],
    [
      'tack',
      [
        'Working time: exact → paced',
        'Floss the contact: exact → paced',
        'Contact may close: exact → paced',
      ],
    ],
    ['gel-lifted', []],
    ['expose', ['Seated, unexposed: exact → paced', 'Light still owed: exact → paced+paced']],
  ])('tells of %s which limits its way touches', (id, lines) => {
    expect(told(pressedTemplate, id)).toEqual(lines);
  });

  it('puts an implied step between what is known before it and the press that says so', () => {
    const [seated] = howClosely(pressed, 'seat', { kind: 'implied', by: ['tack'] });
    expect(seated?.pressed.blurs.at(-1)).toEqual({
      kind: 'implied',
      step: 'Seat',
      // Loaded is said by a later press itself, so the step before that is the last one known.
      since: expect.arrayContaining(['Sample bead', 'Resin, teeth']),
      by: ['Tack'],
    });
    expect(seated?.each.blurs).toEqual([]);
  });

  it('a start with a limit under a minute is exact, and so are the first coat and the last', () => {
    const swept = withPressed(pressedTemplate, {
      etch: { kind: 'sweep', start: sweepTime(2000, 4000) },
      coats: { kind: 'implied', by: ['coats'] },
    });
    // On enamel it has 60 s, where dentine shows 45 s: there each tooth is pressed.
    expect(told(swept, 'etch')).toEqual([
      'Etch: exact → sweep, rounds of 21',
      'Etch: exact → exact',
      // Its own end is swept, and its start is the end of the etch.
      'Dentine too: sweep → sweep, rounds of 1',
    ]);
    expect(told(swept, 'coats').every((line) => line.includes('exact → exact'))).toBe(true);
    expect(told(swept, 'coats')).not.toHaveLength(0);
  });

  it('names a limit that nobody could judge any more', () => {
    const twoLines = withPressed(pressedTemplate, {
      'materials-out': { kind: 'list', list: 'pause' },
      'read-teeth': { kind: 'list', list: 'pause' },
    });
    const window = put(twoLines, ['windows', 0, 'to', 'step'], 'read-teeth');
    expect(told(window, 'read-teeth')).toEqual(['Warm-up, adhesive: list → list+list, lost']);
    const implied = withPressed(pressedTemplate, {
      'adhesive-mixed': { kind: 'implied', by: ['etch-dry'] },
    });
    expect(told(implied, 'adhesive-mixed')).toEqual([
      'Warm-up, adhesive: exact → implied, lost',
      'Adhesive open: exact → implied',
    ]);
  });
});

describe('the ways that a step could be pressed', () => {
  const kinds = (id: string, protocol = pressed): readonly string[] => {
    const step = protocol.steps.find((each) => each.id === id);
    return step === undefined ? [] : waysToPress(protocol, step).map(({ kind }) => kind);
  };

  it.each<[string, readonly string[]]>([
    ['charge', ['list']],
    ['load', ['implied', 'list']],
    ['acid', ['sweep']],
    ['etch', ['sweep']],
    ['coats', ['implied']],
    ['bond-light', []],
    ['tack', ['paced']],
    // The warming of the adhesive has a minimum: its end is pressed for itself or with a list.
    ['adhesive-mixed', ['list']],
  ])('%s: %j', (id, ways) => {
    expect(kinds(id)).toEqual(ways);
  });

  it.each(SHIPPED)(
    'offers for %s only ways about which the checks find no fault, one press for each among them',
    (name) => {
      const document = read(json(sharedText(`protocols/${name}.json`)));
      const faults = (protocol: Protocol, id: string) => {
        const place = `protocol.steps[${protocol.steps.findIndex((step) => step.id === id)}]`;
        return checkPressing(protocol).filter(
          (found) => found.level === 'error' && found.place.startsWith(place),
        );
      };
      for (const { id } of document.steps) {
        const each = checkPressing(withPressing(document, id, null));
        expect([id, each.filter(({ level }) => level === 'error')]).toEqual([id, []]);
      }
      const offered = new Set<string>();
      for (const step of document.steps) {
        for (const way of waysToPress(document, step)) {
          offered.add(way.kind);
          const chosen = withPressing(document, step.id, way);
          expect([step.id, faults(chosen, step.id)]).toEqual([step.id, []]);
        }
      }
      expect(offered).toContain('implied');
    },
  );

  it('begins with the way it has, and otherwise with one that the checks take', () => {
    const template = read(plainTemplate);
    const [way] = waysToPress(pressed, pressed.steps.find(({ id }) => id === 'load') ?? never());
    expect(way).toEqual(PRESSED['load']);
    const acid = waysToPress(template, template.steps.find(({ id }) => id === 'acid') ?? never());
    expect(acid).toMatchObject([{ kind: 'sweep', end: { longestMs: { value: 10_000 } } }]);
  });
});

function never(): never {
  throw new Error('the step is there');
}
