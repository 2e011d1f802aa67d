import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findingLine } from '../../src/cli/words.ts';
import { checkDocument, checkWindows } from '../../src/plan/check-windows.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { runSeed, runSize } from '../tools/run-size.ts';
import { type Json, json, mutationsOf, put, templateText } from './documents.ts';

// Outside reference: sums of seconds done by hand; the method itself is checked in tests/temporal.

const template = json(templateText());

function read(value: Json): Protocol {
  const parsed = parseProtocol(value);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

const figure = (seconds: number): Json => ({ value: seconds * 1000, basis: { kind: 'practice' } });

interface Spec {
  readonly id: string;
  readonly per: string;
  readonly action: Json;
  readonly seconds: number;
  readonly slowSeconds?: number;
  readonly after?: Json;
  readonly more?: { [key: string]: Json };
}

function stepOf({ id, per, action, seconds, slowSeconds, after, more }: Spec): Json {
  return {
    id,
    stage: 'opening',
    title: `Step ${id}`,
    per,
    after: after ?? [],
    by: 'either',
    action,
    pace: { medianMs: figure(seconds), p90Ms: figure(slowSeconds ?? seconds) },
    ...more,
  };
}

function documentOf(steps: readonly Json[], windows: readonly Json[]): Protocol {
  const bare = { ...Object(template), steps: [...steps], windows: [...windows], waysBack: [] };
  return read(bare as Json);
}

const windowOf = (from: Json, to: Json, bounds: { [key: string]: Json }): Json => ({
  id: 'w',
  title: 'The window',
  from,
  to,
  match: 'same',
  protects: 'other',
  severity: 'warning',
  ...bounds,
});

const confirm = { kind: 'confirm' };
const linesOf = (protocol: Protocol) => checkWindows(protocol).map(findingLine);

describe('checkWindows', () => {
  it('finds nothing impossible in the first template', () => {
    expect(linesOf(read(template)).filter((line) => line.includes('error'))).toEqual([]);
  });

  it('names the steps in between with their seconds, and what is missing', () => {
    const protocol = documentOf(
      [
        stepOf({ id: 'prime', per: 'case', action: confirm, seconds: 10 }),
        stepOf({
          id: 'try',
          per: 'case',
          action: confirm,
          seconds: 90,
          after: [{ step: 'prime', link: 'same' }],
        }),
        stepOf({
          id: 'seat',
          per: 'case',
          action: confirm,
          seconds: 15,
          after: [{ step: 'try', link: 'same' }],
        }),
      ],
      [
        windowOf(
          { step: 'prime', edge: 'end' },
          { step: 'seat', edge: 'end' },
          { maxMs: figure(60) },
        ),
      ],
    );
    expect(linesOf(protocol)).toEqual([
      'protocol.windows[0]: error: "The window" allows 60 s, but at the usual pace "Step try" (90 s), "Step seat" (15 s) lie between: 45 s missing',
    ]);
  });

  it('tells apart what cannot be kept from what is lost on a slow day, as the sums say', () => {
    const link = (step: string) => [{ step, link: 'same' }];
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 0, max: 40 })), {
          minLength: 1,
          maxLength: 5,
        }),
        fc.integer({ min: 1, max: 300 }),
        (paces, limit) => {
          const chain = paces.map(([seconds, extra], i) =>
            stepOf({
              id: `s${i}`,
              per: 'unit',
              action: confirm,
              seconds,
              slowSeconds: seconds + extra,
              after: link(i === 0 ? 'from' : `s${i - 1}`),
              more: { together: true },
            }),
          );
          const start = stepOf({
            id: 'from',
            per: 'unit',
            action: confirm,
            seconds: 5,
            more: { together: true },
          });
          const to = { step: `s${paces.length - 1}`, edge: 'end' };
          const found = checkWindows(
            documentOf(
              [start, ...chain],
              [windowOf({ step: 'from', edge: 'end' }, to, { maxMs: figure(limit) })],
            ),
          );
          const usual = paces.reduce((sum, [seconds]) => sum + seconds, 0);
          const slow = paces.reduce((sum, [seconds, extra]) => sum + seconds + extra, 0);
          const expected =
            usual > limit
              ? [['window-cannot-be-kept', usual - limit]]
              : slow > limit
                ? [['window-tight-on-a-slow-day', slow - limit]]
                : [];
          expect(found.map(({ code, values }) => [code, values['missingSeconds']])).toEqual(
            expected,
          );
        },
      ),
      { numRuns: 150 },
    );
  });

  it('counts one pair of hands that goes from unit to unit', () => {
    // Two units at 40 s each: the first waits 80 s for the second to be seated.
    const steps = (together: boolean) => [
      stepOf({ id: 'load', per: 'unit', action: confirm, seconds: 1, more: { together: true } }),
      stepOf({
        id: 'seat',
        per: 'unit',
        action: confirm,
        seconds: 40,
        after: [{ step: 'load', link: 'all' }],
        more: { together },
      }),
    ];
    const window = windowOf(
      { step: 'load', edge: 'end' },
      { step: 'seat', edge: 'end' },
      { maxMs: figure(60) },
    );
    expect(checkWindows(documentOf(steps(true), [window]))).toEqual([]);
    expect(checkWindows(documentOf(steps(false), [window]))[0]?.values['missingSeconds']).toBe(20);
  });

  it('takes the minimum of a dwell, its target when there is none, and nothing for optional steps', () => {
    const dwell = (bounds: { [key: string]: Json }): Json => ({ kind: 'dwell', ...bounds });
    const missing = (action: Json, more: { [key: string]: Json } = {}) => {
      const steps = [
        stepOf({ id: 'a', per: 'case', action: confirm, seconds: 1 }),
        stepOf({
          id: 'b',
          per: 'case',
          action,
          seconds: 1,
          after: [{ step: 'a', link: 'same' }],
          more: { ...more, hands: { applyMs: figure(2), rinseMs: figure(2) } },
        }),
      ];
      const window = windowOf(
        { step: 'a', edge: 'end' },
        { step: 'b', edge: 'end' },
        { maxMs: figure(10) },
      );
      return checkWindows(documentOf(steps, [window]))[0]?.values['missingSeconds'] ?? 0;
    };
    expect(missing(dwell({ minMs: figure(15), targetMs: figure(20) }))).toBe(7);
    expect(missing(dwell({ targetMs: figure(20) }))).toBe(12);
    expect(missing(dwell({ targetMs: figure(20) }), { optional: true })).toBe(0);
  });

  it('explains a maximum that collides with another window', () => {
    const steps = [
      stepOf({ id: 'out', per: 'case', action: confirm, seconds: 1 }),
      stepOf({
        id: 'mix',
        per: 'case',
        action: confirm,
        seconds: 1,
        after: [{ step: 'out', link: 'same' }],
      }),
    ];
    const ends: [Json, Json] = [
      { step: 'out', edge: 'end' },
      { step: 'mix', edge: 'end' },
    ];
    const warm = {
      ...Object(windowOf(...ends, { minMs: figure(1200) })),
      id: 'warm',
      title: 'Warm up',
    };
    const found = linesOf(
      documentOf(steps, [warm as Json, windowOf(...ends, { maxMs: figure(600) })]),
    );
    expect(found).toEqual([
      'protocol.windows[1]: error: "The window" allows 600 s, but that collides with "Warm up": 600 s missing',
    ]);
  });

  it('answers for whatever parses', () => {
    fc.assert(
      fc.property(mutationsOf(template), (changed) => {
        const parsed = parseProtocol(changed);
        if (!parsed.ok) return;
        for (const finding of checkDocument(parsed.value)) {
          expect(findingLine(finding)).not.toMatch(/undefined|NaN|Infinity/);
        }
      }),
      { numRuns: runSize({ long: 500, part: 50 }), seed: runSeed() },
    );
  });

  it('finds the shield of the template impossible at one minute', () => {
    const shield = Number(read(template).windows.findIndex(({ id }) => id === 'shield'));
    const lines = linesOf(read(put(template, ['windows', shield, 'maxMs', 'value'], 60_000)));
    // The shield runs from the priming, which follows the try-in, to the seating.
    expect(lines[0]).toContain('"Adhesive" (55 s)');
    expect(lines[0]).toContain('"Seat"');
  });
});
