import { describe, expect, it } from 'vitest';
import { playHistory } from './histories.ts';

const isLong = process.env['LUTEWATCH_LONG'] === '1';
const FIRST = Number(process.env['LUTEWATCH_SEED'] ?? 1);
const COUNT = Number(process.env['LUTEWATCH_READINGS'] ?? (isLong ? 1000 : 25));
/** A history takes some 0.2 s. */
const WITHIN_MS = 120_000 + COUNT * 2000;

describe('random histories of three tablets', () => {
  it(
    `end alike on every tablet, with everything that was acknowledged and nothing else (${COUNT})`,
    async () => {
      for (let seed = FIRST; seed < FIRST + COUNT; seed += 1) {
        const { cases, facts, tablets, done } = await playHistory(seed);
        const story = `seed ${seed}: ${done.join('; ')}`;
        for (const tablet of tablets) {
          const listed = await tablet.journal.listCases();
          const here = listed.ok ? listed.value.map(({ caseId }) => caseId).toSorted() : [];
          expect(here, story).toEqual([...cases.keys()].toSorted());
          for (const [caseId, hashes] of cases) {
            expect(await tablet.entries(caseId), `${tablet.name} ${caseId} ${story}`).toEqual(
              hashes,
            );
          }
          expect(await tablet.facts('material'), story).toEqual([...facts].toSorted());
          expect(tablet.engine.forks, story).toEqual([]);
        }
        for (const tablet of tablets) await tablet.off();
      }
    },
    WITHIN_MS,
  );
});
