/**
 * How many presses a whole case takes when everything is pressed when it is due, on the plan that the case
 * opens with, the signature that closes it included; and which steps ask for them.
 */
import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { stepOf } from '../../src/words/offer-words.ts';
import { caseNamed, FamilyChair, protocolNamed } from './family-chair.ts';

/** By prepared case, as the README tells it: presses in all, and answers that are given on lists beside them. */
const PRESSES = {
  'eight-upper-veneers': { presses: 80, answers: 7 },
  'four-veneers-universal': { presses: 60, answers: 7 },
  'onlay-and-crown': { presses: 54, answers: 6 },
  'zirconia-crown-and-wing-bridge': { presses: 57, answers: 6 },
  'two-composite-inlays': { presses: 55, answers: 6 },
  'two-veneers': { presses: 42, answers: 7 },
  'prepare-four-veneers': { presses: 11, answers: 17 },
  'finish-two-veneers': { presses: 26, answers: 3 },
} as const;

type Prepared = keyof typeof PRESSES;

function counted(name: Prepared) {
  const spec = caseNamed(name);
  const chair = new FamilyChair({
    spec,
    protocol: protocolNamed(spec.protocol),
    pressed: 'as-shipped',
  });
  const bySteps = new Map<string, number>();
  let answers = 0;
  for (let offer = chair.next(); offer !== null; offer = chair.next()) {
    const { protocol } = chair.log.state.opened;
    const list = protocol.lists?.find(({ id }) => id === offer.list)?.title;
    const title = list ?? stepOf(protocol, offer.step)?.title ?? offer.step;
    bySteps.set(title, (bySteps.get(title) ?? 0) + 1);
    answers += (offer.lines ?? []).filter(({ wants }) => wants !== null).length;
  }
  expect(chair.close()).toBeNull();
  bySteps.set('close the case', 1);
  return { presses: chair.presses, answers, bySteps, breaches: chair.log.state.breaches };
}

const lines: string[] = [];
afterAll(() => console.info(lines.join('\n')));

describe.each(Object.keys(PRESSES) as Prepared[])('%s', (name) => {
  const { presses, answers, bySteps, breaches } = counted(name);
  const steps = [...bySteps].map(([title, times]) => (times === 1 ? title : `${title} ${times}`));
  lines.push(`${name}: ${presses} presses, ${answers} answers on lists: ${steps.join(', ')}`);

  it('takes as many presses as the README says', () => {
    expect({ presses, answers }).toEqual(PRESSES[name]);
    const readme = readFileSync('README.md', 'utf8');
    const row = readme.split('\n').find((line) => line.includes(`(\`${name}\`)`));
    expect(row).toMatch(new RegExp(`\\| +${presses} +\\| +${answers} +\\|`));
  });

  it('keeps every limit at its pace, and none perhaps', () => {
    expect(breaches).toEqual([]);
  });
});
