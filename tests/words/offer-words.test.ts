/** What the bar says must be what the hands do: gel on the dentine is not a rinse. */
import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../src/engine/types.ts';
import { offerWhen } from '../../src/words/offer-when-words.ts';
import { impliedWords, offerWords, pressWords } from '../../src/words/offer-words.ts';
import { subjectLabel } from '../../src/words/subject-words.ts';
import { caseNamed, protocolNamed } from '../families/family-chair.ts';

const spec = caseNamed('onlay-and-crown');
const naming = { spec, protocol: protocolNamed(spec.protocol) };

const ended = (step: string, tooth: string) => {
  const subjects = [`tooth:${tooth}`];
  const more = { dueInMs: 0, slackMs: null, boundBy: null };
  return {
    offer: offerWords({ id: step, kind: 'end', step, subjects, ...more }, naming),
    undo: pressWords([{ type: 'step-ended', step, subjects }], naming),
  };
};

describe('the press that ends the enamel of a tooth', () => {
  it.each([
    // 36 shows enamel and a seal, 35 open dentine, by the prepared case.
    ['etch', '36', 'Rinse 36'],
    ['etch', '35', 'Gel on dentine, 35'],
    ['etch-dentine', '35', 'Rinse 35'],
  ])('%s on %s is called "%s"', (step, tooth, called) => {
    expect(ended(step, tooth)).toEqual({ offer: called, undo: called });
  });
});

describe('undo names what it takes back', () => {
  const reason = 'cracked';
  const skipped = (step: string, subjects: readonly string[]) =>
    ({ type: 'step-skipped', step, subjects, reason }) as const;
  const [unit] = spec.units;
  const id = unit?.id ?? '';

  it('a unit that was set aside, not the last of its skipped steps', () => {
    const press = [skipped('etch', ['tooth:36']), skipped('seat', [`unit:${id}`])];
    expect(pressWords(press, naming)).toBe(`${subjectLabel(`unit:${id}`, spec)} set aside`);
    expect(pressWords([skipped('etch', ['tooth:36'])], naming)).toBe('Skipped: Etch 36');
  });

  it('a reading that nobody entered as not entered', () => {
    const charge = { type: 'step-confirmed', step: 'charge', subjects: ['case'] } as const;
    expect(pressWords([charge], naming)).toBe('Tablet charge: not entered');
    expect(pressWords([{ ...charge, evidence: '80 %' }], naming)).toBe('Charge read');
  });

  it.each<[CaseEvent, string]>([
    [{ type: 'bead-probed', mix: 'mix:1', found: 'firm' }, 'Bead: firm'],
    [{ type: 'note-added', words: 'x' }, 'Note'],
    [{ type: 'gap-settled', gap: 3, lengthMs: 5000 }, 'Length of the gap'],
    [{ type: 'cue-acknowledged', cue: 'over etch' }, 'Warning seen'],
    [{ type: 'mix-added', units: [id], reason }, 'Another portion'],
    [{ type: 'case-closed', signedBy: 'a', role: 'dentist' }, 'Case closed'],
  ])('%j', (event, words) => {
    expect(pressWords([event], naming)).toBe(words);
  });
});

describe('one press that says several things', () => {
  const list = { id: 'pause', title: 'Opening pause', words: 'Opening pause read' };
  const listed = { ...naming, protocol: { ...naming.protocol, lists: [list] } };
  const subjects = ['case'];
  const line = (step: string) =>
    ({ type: 'step-confirmed', step, subjects, list: 'pause', evidence: 'read' }) as const;

  it('of a list is called by its title and the number of lines', () => {
    const lines = [line('read-teeth'), line('read-protocol'), line('charge')];
    expect(pressWords(lines, listed)).toBe('Opening pause, 3 lines');
    expect(pressWords([line('charge')], listed)).toBe('Charge read');
  });

  it('of a later step is called by that step, and told beforehand what else it says', () => {
    const load = { type: 'step-confirmed', step: 'load', subjects: ['unit:35'] } as const;
    const seat = { ...load, step: 'seat' } as const;
    expect(pressWords([{ ...load, impliedBy: 'seat' }, seat], naming)).toBe(
      pressWords([seat], naming),
    );
    const offer = {
      id: 'confirm seat',
      kind: 'confirm',
      step: 'seat',
      subjects: load.subjects,
      implies: [{ step: 'load', subjects: load.subjects }],
      dueInMs: 0,
      slackMs: null,
      boundBy: null,
    } as const;
    expect(impliedWords(offer, naming)).toBe(`Also says: ${pressWords([load], naming)}`);
    const { implies: _, ...alone } = offer;
    expect(impliedWords(alone, naming)).toBeNull();
  });
});

describe('when a press is wanted', () => {
  const offer = { id: 'seat', kind: 'start', step: 'seat', subjects: [], dueInMs: 0 } as const;

  it.each([
    // A limit that the press ends has so much left, as the clock of that limit says beside it.
    [43_200, 'working', '44\u00a0s left'],
    // The time until a later limit could no longer be kept is no limit of its own.
    [43_200, null, 'within 44\u00a0s'],
    [0, 'working', 'at the limit'],
    [0, null, undefined],
    [90_000, null, undefined],
  ])('%i ms by %s: %s', (slackMs, boundBy, told) => {
    expect(offerWhen({ ...offer, slackMs, boundBy })).toBe(told);
  });
});
