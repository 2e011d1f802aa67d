/** Who pressed and who did a step are two facts: neither stands for the other in any form of the record. */
import { describe, expect, it } from 'vitest';
import { extend, recordPress } from '../../src/engine/log.ts';
import { fhirJson } from '../../src/export/fhir-bundle.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { recordText } from '../../src/export/record-text.ts';
import { stepsCsv } from '../../src/export/steps-csv.ts';
import { caseNamed, FAMILIES, FamilyChair, protocolNamed } from '../families/family-chair.ts';
import { sourceOf } from './journals.ts';

const spec = caseNamed(FAMILIES['veneers, etch-and-rinse']);
const protocol = protocolNamed(spec.protocol);
const people = [
  { id: 'a', label: 'Dentist A', role: 'dentist' },
  { id: 'b', label: 'Assistant B', role: 'assistant' },
] as const;

/** A whole case of which every press is by one person. */
function pressedBy(by: string, who: typeof spec.people = people) {
  const chair = new FamilyChair({ spec: { ...spec, people: who }, protocol });
  chair.toTheEnd();
  return extend(
    null,
    chair.log.records.map((r) => ({ ...r, by })),
  );
}

describe('a case that the assistant pressed', () => {
  const facts = recordFacts(sourceOf(pressedBy('b')));
  const step = (id: string) => facts.steps.find((s) => s.step === id);
  const own = (by: string) => protocol.steps.find((s) => s.by === by && step(s.id) !== undefined);

  it('names the dentist for what the dentist does, and the assistant for the presses', () => {
    expect(step(own('dentist')?.id ?? '')).toMatchObject({
      by: 'Assistant B',
      doneBy: { label: 'Dentist A', role: 'dentist' },
    });
    expect(step(own('assistant')?.id ?? '')?.doneBy).toEqual({
      label: 'Assistant B',
      role: 'assistant',
    });
    expect(step(own('either')?.id ?? '')).toMatchObject({ by: 'Assistant B', doneBy: null });
  });

  it('says both in text, table and FHIR', () => {
    const title = own('dentist')?.title ?? '';
    const line = recordText(facts)
      .split('\n')
      .find((l) => l.includes(`${title}, `) && l.includes('pressed by'));
    expect(line).toMatch(/pressed by Assistant B; done by Dentist A \(dentist\)/);
    expect(stepsCsv(facts).split('\r\n')[0]).toMatch(
      /,by,.*,pressed_by,done_by,done_by_role,said,/,
    );
    expect(fhirJson(facts)).toContain('pressed by Assistant B');
    const performers = [...fhirJson(facts).matchAll(/"performer": \[\s*\{[^}]*\}/g)].join(' ');
    expect(performers).toContain('Dentist A');
  });
});

describe('who did a step', () => {
  it('is nobody by name while two have the role, until one takes it', () => {
    const two = [...people, { id: 'c', label: 'Dentist C', role: 'dentist' }] as const;
    const dentistStep = protocol.steps.find((s) => s.by === 'dentist' && s.per === 'case');
    const factOf = (log: ReturnType<typeof pressedBy>) =>
      recordFacts(sourceOf(log)).steps.find((s) => s.step === dentistStep?.id)?.doneBy;
    expect(factOf(pressedBy('b', two))).toEqual({ label: null, role: 'dentist' });
    const chair = new FamilyChair({ spec: { ...spec, people: two }, protocol });
    chair.do({ do: 'take-role', person: 'c', role: 'dentist' });
    chair.toTheEnd();
    expect(factOf(chair.log)).toEqual({ label: 'Dentist C', role: 'dentist' });
    const undone = recordPress({
      log: chair.log,
      events: [{ type: 'press-retracted', press: 1 }],
      stamp: chair.log.state.anchor.latest,
      by: 'b',
    });
    expect(factOf(extend(chair.log, undone))).toEqual({ label: null, role: 'dentist' });
  });
});
