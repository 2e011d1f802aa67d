/** Two thousand units with twenty thousand visits of a unit: read, folded and turned into lives. */
import { expect, it } from 'vitest';
import { addDays } from '../../src/outcomes/days.ts';
import { livesOf, timed } from '../../src/outcomes/lives.ts';
import { asFact, keepFact } from '../../src/runtime/facts/fact.ts';
import { must } from '../backup/filled-journal.ts';
import { isLong } from '../tools/run-size.ts';
import { bonded, found, visit, type WithFollowUps, withFollowUps } from './clinic.ts';

/** Time of the processor, ms: what else the machine does is not counted. */
const cpuMs = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

const CASES = 500;
const VISITS = 10;

async function fill({ journal, epoch, id: tablet }: WithFollowUps, cases: number): Promise<void> {
  const limits = Array.from({ length: 25 }, (_, n) => ({
    limit: `window/window-${n}`,
    title: `Window number ${n}`,
    state: 'kept' as const,
  }));
  const units = ['11', '12', '21', '22'].map((tooth) => ({
    ...bonded().units[0],
    unit: tooth,
    teeth: [tooth],
    isBridge: false,
    restoration: 'veneer',
    material: 'lithium-disilicate',
    limits,
  }));
  for (let n = 0; n < cases; n += 1) {
    const item = `case-${n}`;
    const said = bonded({ patient: `C-${n % 300}`, bondedOn: '2016-01-04', units });
    const about = { kind: 'follow-up', item, tablet, by: null } as const;
    let last = asFact({ ...about, said, after: [], atWallMs: 1 });
    must(await keepFact(journal, last, epoch));
    for (let k = 1; k <= VISITS; k += 1) {
      const seen = visit(
        addDays('2016-01-04', 300 * k + (n % 40)),
        ...units.map(({ unit }) => found(unit, n % 50 === k ? 'lost-retention' : 'in-place')),
      );
      last = asFact({
        ...about,
        said: { what: 'visited', visit: seen },
        after: [last.id],
        atWallMs: k + 1,
      });
      must(await keepFact(journal, last, epoch));
    }
  }
}

it('are read in less than a second, and told again at once when one visit is noted', async () => {
  const cases = isLong ? CASES : CASES / 20;
  const a = await withFollowUps('a');
  await fill(a, cases);
  const begun = cpuMs();
  must(await a.followUps.open());
  const read = cpuMs();
  const { list } = a.followUps.state.getState();
  const lives = livesOf(
    list.map(({ followUp }) => followUp),
    '2026-12-01',
  );
  const points = timed(lives, 'survival', 'mid-gap');
  const made = cpuMs();
  const seen = visit('2026-11-30', found('11', 'in-place'));
  must(await a.followUps.noteVisit({ caseId: 'case-7', visit: seen, by: null }));
  const noted = cpuMs();
  must(await a.followUps.open());
  const again = cpuMs();
  expect(list).toHaveLength(cases);
  expect(points).toHaveLength(4 * cases);
  const took = { read: read - begun, lives: made - read, note: noted - made, again: again - noted };
  if (isLong)
    console.info(
      Object.entries(took)
        .map(([what, ms]) => `${what} ${ms.toFixed(0)} ms`)
        .join(', '),
    );
  expect(took.read).toBeLessThan(1000);
  expect(took.lives + took.note + took.again).toBeLessThan(1000);
}, 60_000);
