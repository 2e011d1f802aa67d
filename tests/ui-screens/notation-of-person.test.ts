/**
 * A running case keeps the numbering it was opened with, whoever presses. ISO 3950: 13 is the upper right
 * canine; the same tooth is 6 in the universal numbering (ADA) and UR3 after Palmer. 11 is an incisor
 * in one and a canine in another, so only a tap, which is recorded, changes it.
 */
import { describe, expect, it } from 'vitest';
import { readBackLines } from '../../src/engine/read-back.ts';
import { offerModel } from '../../src/ui/chair/chair-model.ts';
import { namingOf } from '../../src/ui/shared/arch-model.ts';
import { readBackWords } from '../../src/words/read-back-words.ts';
import { subjectLabel } from '../../src/words/subject-words.ts';
import { caseNamed, FamilyChair, protocolNamed } from '../families/family-chair.ts';

function bridgeChair(): FamilyChair {
  const base = caseNamed('zirconia-crown-and-wing-bridge');
  const people = base.people.map((p, i) =>
    i === 0 ? { ...p, notation: 'universal' as const } : { ...p, notation: 'palmer' as const },
  );
  const spec = { ...base, notation: 'fdi' as const, people, groups: { mixes: [2] } };
  return new FamilyChair({ spec, protocol: protocolNamed(spec.protocol) });
}

const readIn = (chair: FamilyChair) => {
  const { spec } = namingOf(chair);
  const at = { now: chair.view.at, subjects: ['case'] };
  return readBackWords(readBackLines(chair.log.state, 'teeth', at), {
    nameOf: (subject) => subjectLabel(subject, spec),
  });
};

const barIn = (chair: FamilyChair): string => {
  const offer = { id: '', step: 'seat', subjects: ['unit:13'], kind: 'confirm' } as const;
  return offerModel({ ...offer, dueInMs: 0, slackMs: null, boundBy: null }, namingOf(chair)).words;
};

describe('the numbering of a running case', () => {
  it('is that of the case file, for bar and read-back', () => {
    const chair = bridgeChair();
    expect(readIn(chair)[0]).toMatch(/^13 \(\+ 12\), bridge/);
    expect(barIn(chair)).toBe('13 seated');
  });

  it('is the same whoever presses', () => {
    const chair = bridgeChair();
    for (const { id } of chair.log.state.opened.spec.people) {
      const person = { log: chair.log, by: id };
      expect(namingOf(person).spec.notation).toBe('fdi');
    }
  });

  it('is changed by a tap, which is recorded and can be taken back', () => {
    const chair = bridgeChair();
    expect(chair.do({ do: 'change-numbering', notation: 'palmer' })).toBeNull();
    expect(barIn(chair)).toBe('UR3 seated');
    expect(chair.log.records.at(-1)?.event).toEqual({
      type: 'numbering-changed',
      notation: 'palmer',
    });
    chair.do({ do: 'undo' });
    expect(barIn(chair)).toBe('13 seated');
  });

  it('is not that of the record, which says that its numbers are FDI', () => {
    const { spec } = bridgeChair().log.state.opened;
    const universal = { ...spec, notation: 'universal' as const };
    const own = new FamilyChair({ spec: universal, protocol: protocolNamed(spec.protocol) });
    while (own.view.offers[0]?.step !== 'read-protocol') own.next();
    expect(own.log.state.runs['read-teeth@case']?.evidence).toMatch(
      /^FDI 13 \(\+ FDI 12\), bridge/,
    );
    own.toTheEnd();
    expect(own.log.state.runs['cement-mixed@mix:1']?.evidence).toMatch(/^Shade accepted.*FDI 13/);
  });
});
