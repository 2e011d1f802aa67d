/** When the chair says that it is behind or ahead of its plan, and when that would be no news. */
import { describe, expect, it } from 'vitest';
import { cutShortMs, LAG_SILENT_MS, lagOf, spreadOf } from '../../src/plan/lag.ts';
import { openingEnd, replan } from '../../src/plan/replan.ts';
import { overdueMixes } from '../../src/ui/chair/overdue-mixes.ts';
import { replanWords } from '../../src/words/plan-words.ts';
import { FamilyChair } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';

const MIN = 60_000;
const plain = (words: string | null): string | null => words?.replaceAll('\u00a0', ' ') ?? null;

describe('what is said of the pace', () => {
  it.each([
    ['19 min behind in the first minute', 19, 1, 10, 0, null],
    ['just before the silence ends', 19, LAG_SILENT_MS / MIN - 0.001, 10, 0, null],
    ['19 min behind a plan that may be out by 10', 19, 30, 10, 0, 19],
    ['19 min behind a plan that may be out by 23', 19, 30, 23, 0, 0],
    ['exactly as far as the plan may be out', 10, 30, 10, 0, 0],
    ['12 min ahead by quick hands', -12, 30, 10, 0, -12],
    ['49 min ahead because the warm-up was skipped', -49, 30, 10, 49, 0],
    ['49 min ahead, 30 of them by skipping', -49, 30, 10, 30, -19],
    ['what was cut short does not excuse being late', 19, 30, 10, 49, 19],
  ] as const)('%s', (_, behind, elapsed, spread, cut, said) => {
    const lag = lagOf({
      behindMs: behind * MIN,
      elapsedMs: elapsed * MIN,
      spreadMs: spread * MIN,
      cutShortMs: cut * MIN,
    });
    expect(lag).toBe(said === null ? null : said * MIN);
  });

  it('the spread lies between the usual day and the slow one', () => {
    expect(spreadOf({ p50Ms: 50 * MIN, p90Ms: 70 * MIN })).toBe(20 * MIN);
  });

  it('of a limit that was cut short for several subjects, the longest counts once', () => {
    const breach = { what: 'window', subject: 'case', at: { loMs: 0, hiMs: 0 }, press: 1 } as const;
    const breaches = [
      { ...breach, kind: 'early', of: 'adhesive-warm', by: 20 * MIN },
      { ...breach, kind: 'early', of: 'adhesive-warm', by: 15 * MIN },
      { ...breach, kind: 'short', of: 'primer', by: 1 * MIN },
      { ...breach, kind: 'over', of: 'etch', by: 9 * MIN },
      // What may have been kept saved nothing for certain.
      { ...breach, kind: 'short', of: 'acid', by: 3 * MIN, perhaps: true },
    ];
    expect(cutShortMs({ breaches } as never)).toBe(21 * MIN);
  });
});

describe('at the chair', () => {
  function seen(chair: FamilyChair) {
    const { state } = chair.log;
    const { endMs, spreadMs } = openingEnd(state);
    const asked = { openingEndMs: endMs, openingSpreadMs: spreadMs };
    return replan({ state, nowMs: chair.atMs, ...asked });
  }

  it('says nothing of the pace at the first presses, and no lag within the spread later', () => {
    const chair = FamilyChair.of('veneers, universal');
    chair.next();
    expect(chair.atMs).toBeLessThan(LAG_SILENT_MS);
    chair.atMs += 2 * MIN;
    expect(seen(chair).lagMs).toBeNull();
    for (let press = 0; press < 12; press += 1) chair.next();
    chair.atMs += 4 * MIN;
    const { behindMs, lagMs } = seen(chair);
    expect(behindMs).toBeGreaterThan(3 * MIN);
    expect(lagMs).toBe(0);
    chair.atMs += 60 * MIN;
    expect(seen(chair).lagMs).toBeGreaterThan(30 * MIN);
  });

  it('does not say that a portion still fits once its working time is over', () => {
    const chair = FamilyChair.of('glass-ceramic');
    const isOpen = (): boolean => chair.view.clocks.some(({ protects }) => protects === 'working');
    for (let press = 0; press < 300 && !isOpen(); press += 1) chair.next();
    const asked = seen(chair);
    const said = (): string | null => {
      const running = runningOf(chair);
      return plain(
        replanWords({ ...asked, lagMs: null }, chair.log.state.opened, overdueMixes(running)),
      );
    };
    expect(said()).toMatch(/ still fits$/);
    const working = chair.view.clocks.find(({ protects }) => protects === 'working');
    chair.atMs += (working?.maxMs ?? 0) + 21_000;
    expect(said()).toMatch(/ is over its working time$/);
  });
});
