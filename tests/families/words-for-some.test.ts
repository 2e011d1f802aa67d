/**
 * After a way back of one unit or tooth neither bar nor instruction speaks of all of them, in every
 * family that seats. Read from the words that the chair draws.
 */
import { describe, expect, it } from 'vitest';
import { layoutOf } from '../../src/engine/layout.ts';
import { waysBackNow } from '../../src/engine/ways-back.ts';
import { instructionOf, offerWords } from '../../src/words/offer-words.ts';
import { FAMILIES, type Family, FamilyChair, SEATING } from './family-chair.ts';

const OF_ALL = /\b(all|every) (the )?(units|unit|teeth|tooth)\b/i;
const ANY_ALL = /^all\b|\ball (units|teeth)\b|\bin every\b/i;

interface Said {
  readonly id: string;
  readonly words: string;
}

/** What is said of the top offer, wherever it is for one of several. */
function saidAfter(chair: FamilyChair, subject: string): Said[] {
  const { protocol, spec } = chair.log.state.opened;
  const own = layoutOf(chair.log.state).subjects.linked(subject, 'tooth');
  const said: Said[] = [];
  for (let i = 0; i < 40; i++) {
    const [top] = chair.view.offers;
    if (!top) break;
    const isOwn = [subject, ...own].some((each) => top.subjects.includes(each));
    if (isOwn && top.subjects.length === 1 && !top.kind.startsWith('light')) {
      const words = `${offerWords(top, { protocol, spec })}. ${instructionOf(top, { protocol, spec }) ?? ''}`;
      said.push({ id: top.id, words });
    }
    if (chair.next() === null) break;
  }
  return said;
}

const STAGES = ['primer-air', 'load', 'seat'];

/** The first subject of each way back at each stage, taken and played on. */
function saidIn(family: Family): Said[] {
  const chair = FamilyChair.of(family);
  const said: Said[] = [];
  const seen = new Set<string>();
  for (let offer = chair.next(); offer !== null; offer = chair.next()) {
    if (!STAGES.includes(offer.step) || seen.has(offer.step)) continue;
    seen.add(offer.step);
    const { state } = chair.log;
    for (const { wayBack, subjects } of waysBackNow(state, layoutOf(state))) {
      const [subject = ''] = subjects;
      if ((wayBack.per !== 'unit' && wayBack.per !== 'tooth') || wayBack.mishap === 'stopped')
        continue;
      const late = FamilyChair.from({ log: chair.log, atMs: chair.atMs });
      const { id, mishap } = wayBack;
      late.do({ do: 'take-way-back', wayBack: id, mishap, subjects: [subject], reason: 'so' });
      said.push(...saidAfter(late, subject));
    }
  }
  return said;
}

describe.each(SEATING.filter((family) => FAMILIES[family].includes('veneers')))('%s', (family) => {
  it('says nothing of all where one is worked on', () => {
    const said = saidIn(family);
    const untrue = said.filter(({ words }) => OF_ALL.test(words) || ANY_ALL.test(words));
    expect([...new Set(untrue.map(({ id, words }) => `${id}: ${words}`))]).toEqual([]);
    expect(said.length).toBeGreaterThan(20);
  });
});
