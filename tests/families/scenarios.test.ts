/** Every mishap of the table, taken where it happens in a whole case and played on to the end. */
import { describe, expect, it } from 'vitest';
import { layoutOf } from '../../src/engine/layout.ts';
import { waysBackNow } from '../../src/engine/ways-back.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { recordText } from '../../src/export/record-text.ts';
import { sourceOf } from '../export/journals.ts';
import { type Family, FamilyChair, SEATING } from './family-chair.ts';
import { keysOf, SCENARIOS, type Scenario } from './scenario-table.ts';

type Kept = Pick<FamilyChair, 'log' | 'atMs'>;

/** One rehearsal of each family with two units, kept press by press. */
const played = new Map<Family, readonly Kept[]>();

function rehearsed(family: Family): readonly Kept[] {
  const known = played.get(family);
  if (known) return known;
  const chair = FamilyChair.of(family, 2);
  const kept: Kept[] = [];
  do kept.push({ log: chair.log, atMs: chair.atMs });
  while (chair.next() !== null);
  played.set(family, kept);
  return kept;
}

/** The case at the first press after which the stage is reached. */
function atStage({ family, stage }: Scenario): FamilyChair {
  const [edge, step, name] = stage.split(' ');
  const found = rehearsed(family).find(({ log }) => {
    const per = log.state.opened.protocol.steps.find((s) => s.id === step)?.per;
    const run = log.state.runs[`${step}@${per === 'case' ? 'case' : `${per}:${name}`}`];
    return edge === 'start' ? run?.startedAt : run?.status === 'done';
  });
  if (!found) throw new Error(`never reached: ${stage}`);
  return FamilyChair.from(found);
}

const sorted = (keys: Iterable<string>) => [...keys].toSorted();

describe.each(SCENARIOS)('$family, $stage, $mishap', (scenario) => {
  const { mishap, wayBack: id, subjects, basis } = scenario;
  const expected = sorted(keysOf(scenario.voided));
  const reason = `${mishap}, as it happened`;
  const chair = atStage(scenario);
  const before = chair.log.state;
  const offers = waysBackNow(before, layoutOf(before), mishap);
  const offer = offers.find((o) => o.wayBack.id === id);
  const refused = chair.do({ do: 'take-way-back', wayBack: id, mishap, subjects, reason });
  const after = chair.log.state;

  it(`is answered by ${id}, on the word of ${basis}`, () => {
    expect(offer?.subjects).toEqual(expect.arrayContaining([...subjects]));
    const word = offer?.wayBack.basis;
    expect(word?.kind === 'published' ? word.source : word?.kind).toBe(basis);
    expect(refused).toBeNull();
  });

  it('takes back exactly what no longer counts, and nothing else', () => {
    const gone = Object.keys(before.runs).filter((key) => !(key in after.runs));
    expect(sorted(gone)).toEqual(expected);
  });

  it('leaves in the record what was taken back and why', () => {
    expect(sorted(after.voided.map((v) => v.key))).toEqual(expected);
    expect(after.voided.every((v) => v.reason === reason)).toBe(true);
    expect(after.waysBack).toEqual([expect.objectContaining({ wayBack: id, mishap, reason })]);
  });

  it('is played on to a finished case in which everything was done again', () => {
    chair.toTheEnd();
    expect(chair.view.finished).toBe(true);
    const { runs } = chair.log.state;
    expect(expected.filter((key) => runs[key]?.status !== 'done')).toEqual([]);
    expect(chair.close()).toBeNull();
    expect(chair.log.state.waysBack).toHaveLength(1);
    const facts = recordFacts(sourceOf(chair.log));
    expect(sorted(facts.voided.map((v) => v.key))).toEqual(expected);
    const text = recordText(facts);
    // Once for the way back, and once at each step that no longer counted.
    expect(text.split(reason).length - 1).toBeGreaterThanOrEqual(expected.length === 0 ? 1 : 2);
  });
});

describe('the table', () => {
  it('has at least forty rows, with every seating family and every mishap in it', () => {
    expect(SCENARIOS.length).toBeGreaterThanOrEqual(40);
    expect(SEATING.filter((f) => !SCENARIOS.some((s) => s.family === f))).toEqual([]);
    expect(new Set(SCENARIOS.map((s) => s.mishap)).size).toBe(16);
  });
});
