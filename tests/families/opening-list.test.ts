/** The opening pause as it ships: what nobody noted is not confirmed by a bare press. */
import { describe, expect, it } from 'vitest';
import { takenLines } from '../../src/engine/list-draft.ts';
import { ListAnswers } from '../../src/runtime/cases/list-answers.ts';
import { caseNamed, FamilyChair, protocolNamed } from './family-chair.ts';

function opening(noted: string | null) {
  const { allergies: _, ...bare } = caseNamed('two-veneers');
  const spec = noted === null ? bare : { ...bare, allergies: noted };
  const protocol = protocolNamed(spec.protocol);
  const chair = new FamilyChair({ spec, protocol, pressed: 'as-shipped' });
  chair.next();
  const [offer] = chair.view.offers;
  if (offer?.list !== 'opening' || offer.lines === undefined) throw new Error('no opening list');
  return { chair, offer, lines: offer.lines };
}

const isAllergies = ({ step }: { readonly step: string }) => step === 'read-allergies';

describe('allergies on the opening list', () => {
  it('are ticked from the beginning where they were noted', () => {
    const { lines } = opening('latex');
    expect(lines.find(isAllergies)?.wants).toBeNull();
    expect(takenLines(lines, {}).some(isAllergies)).toBe(true);
  });

  it('stay due by touch, key and pedal where nobody noted any, until they are ticked by hand', () => {
    const { chair, offer, lines } = opening(null);
    expect(takenLines(lines, {}).some(isAllergies)).toBe(false);
    expect(chair.do({ do: 'press', offer })).toBeNull();
    expect(chair.log.state.runs['read-allergies@case']).toBeUndefined();
    const [next] = chair.view.offers;
    const ticked = { 'read-allergies case': { isTicked: true } };
    const taken = takenLines(next?.lines ?? [], ticked);
    expect(taken.map(({ step }) => step)).toEqual(['read-allergies', 'pause-over']);
    if (next === undefined) throw new Error('nothing left');
    expect(chair.do({ do: 'press', offer: { ...next, taken } })).toBeNull();
    expect(chair.log.state.runs['read-allergies@case']?.evidence).toMatch(/not noted/i);
  });
});

it('what was answered before something went wrong is asked again', () => {
  const answers = new ListAnswers();
  answers.keep({ step: 'charge', subjects: ['case'] }, { evidence: '92 %' });
  const fell = { type: 'way-back-taken', mishap: 'unit-dropped', reason: 'it fell' } as const;
  answers.note(5, [{ ...fell, wayBack: null, subjects: ['unit:11'], voided: [] }]);
  expect(answers.drafts).toEqual({});
});
