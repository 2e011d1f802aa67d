/**
 * What a biting surface is called on each tooth. Outside: ISO 3950 numbers teeth from the midline, 1
 * to 3 are incisors and canine; dental anatomy gives these an incisal edge or a cusp tip, and an
 * occlusal surface to premolars and molars alone.
 */
import { describe, expect, it } from 'vitest';
import { clockLabel } from '../../src/words/clock-words.ts';
import { surfaceOn, teethUnder } from '../../src/words/subject-words.ts';
import { caseNamed, FamilyChair } from '../families/family-chair.ts';

const FRONT = ['11', '12', '13', '21', '22', '23', '31', '32', '33', '41', '42', '43'];
const TEETH = [1, 2, 3, 4].flatMap((q) => [1, 2, 3, 4, 5, 6, 7, 8].map((p) => `${q}${p}`));

describe('the biting surface', () => {
  it.each(TEETH)('of %s', (tooth) => {
    const word = FRONT.includes(tooth) ? 'incisal' : 'occlusal';
    expect(surfaceOn('occlusal', [tooth])).toBe(word);
    expect(surfaceOn('incisal', [tooth])).toBe(word);
    expect(surfaceOn('facial', [tooth])).toBe('facial');
  });

  it('of teeth of both kinds keeps the word of the protocol', () => {
    expect(surfaceOn('occlusal', ['13', '15'])).toBe('occlusal');
    expect(surfaceOn('incisal', [])).toBe('incisal');
  });

  it('of a bridge on canines is told by the teeth that carry it', () => {
    const spec = caseNamed('zirconia-crown-and-wing-bridge');
    const unit = spec.units.find(({ teeth }) => teeth.some((tooth) => /3$/.test(tooth)));
    expect(unit).toBeDefined();
    expect(teethUnder([`unit:${unit?.id}`], spec)).toEqual(unit?.teeth);
    const clock = { title: 'Exposure', surface: 'occlusal', subjects: ['tooth:13'] } as never;
    expect(clockLabel(clock, { spec })).toMatch(/incisal$/);
  });
});

it('a class of material is read aloud in words, not by its id', () => {
  const chair = FamilyChair.of('glass-ceramic');
  while (chair.view.offers[0]?.step !== 'read-protocol') chair.next();
  const read = chair.log.state.runs['read-teeth@case']?.evidence ?? '';
  expect(read).toMatch(/lithium disilicate/i);
  expect(read).not.toMatch(/[a-z]-disilicate/);
});
