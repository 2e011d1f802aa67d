/**
 * Fourteen cases that are unlike the prepared ones, each played whole by pressing what is offered at
 * the usual pace. What a case does not need is not asked for; what it needs is. Rules of the trade:
 * substrate, conditioning and bridges by the clinical figures that the protocols cite; the cases are
 * invented.
 */
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { breachWords } from '../../src/cli/rehearse-words.ts';
import { checkCaseFits } from '../../src/protocol/check-materials.ts';
import { bareId } from '../../src/protocol/subjects.ts';
import { caseIn, FamilyChair, protocolNamed } from './family-chair.ts';

const FOLDER = 'demo-data/odd-cases';
const NAMES = readdirSync(new URL(`../../${FOLDER}`, import.meta.url))
  .filter((file) => file.endsWith('.json'))
  .map((file) => file.replace('.json', ''));

const played = new Map<string, FamilyChair>();

function play(name: string): FamilyChair {
  const before = played.get(name);
  if (before) return before;
  const spec = caseIn(FOLDER, name);
  const chair = new FamilyChair({ spec, protocol: protocolNamed(spec.protocol) }).toTheEnd();
  played.set(name, chair);
  return chair;
}

/** Subjects on which a step was done, by their bare ids. */
function doneOn(name: string, step: string): string[] {
  const { runs } = play(name).log.state;
  return Object.entries(runs)
    .filter(([key, run]) => key.startsWith(`${step}@`) && run?.status === 'done')
    .map(([key]) => bareId(key.slice(key.indexOf('@') + 1)))
    .sort();
}

it('there are fourteen', () => {
  expect(NAMES).toHaveLength(14);
});

describe.each(NAMES)('%s', (name) => {
  const spec = caseIn(FOLDER, name);

  it('answers everything that its protocol asks', () => {
    const found = checkCaseFits(spec, protocolNamed(spec.protocol));
    expect(found.filter(({ code }) => code === 'not-asked')).toEqual([]);
  });

  it('is played whole within its limits and can be signed', () => {
    const chair = play(name);
    expect(chair.log.state.breaches.map(breachWords)).toEqual([]);
    expect(chair.close()).toBeNull();
    const took = Math.round(chair.atMs / 60_000);
    console.info(`${name}: ${chair.presses} presses, ${took} min`);
  });
});

describe('what a case does not need is not asked for', () => {
  it('units that the laboratory etched get no acid here', () => {
    expect(doneOn('etched-by-the-laboratory', 'acid')).toEqual([]);
    expect(doneOn('mixed-classes', 'acid')).toEqual(['11', '12', '21', '22']);
  });

  it('dentine has a clock of its own on the teeth where it shows, and on no other', () => {
    expect(doneOn('dentine-on-three', 'etch-dentine')).toEqual(['13', '21', '22']);
    expect(doneOn('dentine-on-three', 'etch-moist')).toEqual(['13', '21', '22']);
    // Their enamel margins are dried like any other.
    expect(doneOn('dentine-on-three', 'etch-dry')).toEqual(['11', '12', '13', '21', '22', '23']);
  });

  it('a tooth without enamel at its margin is not etched like enamel', () => {
    // Its core is an old composite, which alone would be etched; the margin of dentine decides.
    expect(doneOn('no-enamel', 'etch')).toEqual([]);
    expect(doneOn('no-enamel', 'etch-rinse')).toEqual([]);
    expect(doneOn('no-enamel', 'etch-dry')).toEqual([]);
    expect(doneOn('no-enamel', 'etch-moist')).toEqual(['46']);
    expect(doneOn('no-enamel', 'etch-dentine')).toEqual([]);
    expect(doneOn('no-enamel', 'bond-light')).toEqual(['46']);
  });

  it('the adhesive is exposed before seating where dentine or a thick unit lies over it', () => {
    expect(doneOn('dentine-on-three', 'bond-light')).toEqual(['13', '21', '22']);
    expect(doneOn('units-of-1-5-mm', 'bond-light')).toEqual(['11', '21']);
    expect(doneOn('one-tooth', 'bond-light')).toEqual([]);
  });

  it('each retainer of a bridge is tacked and exposed by itself; floss goes under the pontic', () => {
    expect(doneOn('two-retainer-bridge', 'tack')).toEqual(['24', '26']);
    expect(doneOn('two-retainer-bridge', 'expose')).toEqual(['24', '26']);
    expect(doneOn('two-retainer-bridge', 'pontic-flossed')).toEqual(['24']);
    expect(doneOn('zirconia-set', 'pontic-flossed')).toEqual([]);
  });

  it('no light is planned for sides that nobody chose', () => {
    expect(play('ten-units').log.state.plan.exposures['expose-proximal']).toEqual({});
  });

  it('where no provisional was worn none is taken off', () => {
    expect(doneOn('wing-bridge', 'provisionals-off')).toEqual([]);
    expect(doneOn('one-tooth', 'provisionals-off')).toEqual(['11']);
  });
});
