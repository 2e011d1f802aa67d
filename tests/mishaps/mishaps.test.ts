/**
 * Every mishap of the tables, played through the engine, and the chair's words beside what the screen must
 * say. What the tables say is common practice or the contract of the ways back; no source but theirs.
 */
import { describe, expect, it } from 'vitest';
import { caseNamed, FAMILIES, type Family, protocolNamed } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';
import { type ChairSays, chairSays } from './chair-says.ts';
import { allOf, isAsAsked } from './compare.ts';
import { filled, played } from './play.ts';
import { type MishapRow, ROWS } from './table.ts';

const OF_ALL = /\b(all|every) (the )?(units?|teeth|tooth|slots?)\b/i;
const NOTHING = /(^|[^\d.,])0 ?s\b/;
const teethIn = (words: string): string[] =>
  [...new Set(words.match(/\b[1-4][1-8]\b/g) ?? [])].toSorted();

/** What holds of every screen: one thing, and words for those whom it is about. */
function oneThing(says: ChairSays): void {
  const [headed, named] = [teethIn(says.heading), teethIn(says.bar)];
  if (headed.length > 0 && named.length > 0) expect(named).toEqual(headed);
  const big = teethIn(says.tooth);
  if (big.length > 0 && headed.length > 0) expect(big).toEqual(headed);
  if (headed.length === 1) expect(`${says.bar} ${says.says}`).not.toMatch(OF_ALL);
  expect(allOf(says)).not.toMatch(NOTHING);
}

function read(row: MishapRow, name: string): void {
  const chair = played(name, row.script);
  let says = chairSays(runningOf(chair));
  oneThing(says);
  for (const must of row.musts) {
    if (must.key === 'then') {
      chair.next();
      says = chairSays(runningOf(chair));
      oneThing(says);
    }
    const own = { key: must.key === 'then' ? 'bar' : must.key, value: filled(name, must.value) };
    expect
      .soft(isAsAsked(own, says), `> ${own.key} ${own.value}\n${JSON.stringify(says, null, 1)}`)
      .toBe(true);
  }
}

describe.each(ROWS)('$id: $happens', (row) => {
  it.each(row.cases)('%s', (name) => read(row, name));
});

describe('the tables', () => {
  it('have at least forty rows, each with a name of its own', () => {
    expect(ROWS.length).toBeGreaterThanOrEqual(40);
    expect(new Set(ROWS.map(({ id }) => id)).size).toBe(ROWS.length);
  });

  it.each(Object.keys(FAMILIES) as Family[])('have every way back of %s', (family) => {
    const { waysBack } = protocolNamed(caseNamed(FAMILIES[family]).protocol);
    const taken = new Set(
      ROWS.filter(({ cases }) => cases.some((name) => name.startsWith(family))).flatMap(
        ({ script }) =>
          script
            .split('\n')
            .map((line) => line.replace(/^(at \d+:\d\d|then) /, '').split(' ')[0] ?? ''),
      ),
    );
    expect(waysBack.filter(({ id }) => !taken.has(id)).map(({ id }) => id)).toEqual([]);
  });
});
