/**
 * Whoever presses reads teeth in their own notation. ISO 3950: 13 is the upper right canine; the
 * same tooth is 6 in the universal numbering (ADA) and UR3 after Palmer. A read-back in another
 * notation than the picture names another tooth: 11 is a canine of the other side to one of them.
 */
import { describe, expect, it } from 'vitest';
import { readBackLines } from '../../src/engine/read-back.ts';
import { barModel } from '../../src/ui/chair/chair-model.ts';
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

const readBy = (chair: FamilyChair, by: string) => {
  const { spec } = namingOf({ log: chair.log, by });
  const at = { now: chair.view.at, subjects: ['case'] };
  return readBackWords(readBackLines(chair.log.state, 'teeth', at), {
    nameOf: (subject) => subjectLabel(subject, spec),
  });
};

describe('the notation of the person who presses', () => {
  const chair = bridgeChair();
  const [first, second] = chair.log.state.opened.spec.people.map((p) => p.id);

  it('is that of the teeth that are read aloud, replaced ones included', () => {
    expect(readBy(chair, first ?? '')[0]).toMatch(/^6 \(\+ 7\), bridge/);
    expect(readBy(chair, second ?? '')[0]).toMatch(/^UR3 \(\+ UR2\), bridge/);
    expect(readBy(chair, 'a stranger')[0]).toMatch(/^13 \(\+ 12\), bridge/);
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

  it('is that of the bar, and changes with the hand-over', () => {
    const offer = { id: '', step: 'seat', subjects: ['unit:13'], kind: 'confirm' } as const;
    const words = (by: string) =>
      barModel(
        { ...offer, dueInMs: 0, slackMs: null, boundBy: null },
        namingOf({ log: chair.log, by }),
      ).words;
    expect([first, second].map((by) => words(by ?? ''))).toEqual(['6 seated', 'UR3 seated']);
  });
});
