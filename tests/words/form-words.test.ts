import { describe, expect, it } from 'vitest';
import { problem } from '../../src/base/problem.ts';
import { type FormPart, fieldShape } from '../../src/protocol/schema-fields.ts';
import { form } from '../../src/words/en/form.ts';
import { choiceWords, fieldProblemWords } from '../../src/words/form-words.ts';

const PARTS = ['steps', 'windows', 'waysBack', 'after', 'voids'] as const satisfies FormPart[];

const choices = PARTS.flatMap((part) =>
  Object.keys(form.fields[part]).flatMap((key) => {
    const shape = fieldShape<FormPart>(part, key as never);
    return shape.kind === 'choice' ? shape.options.map((code) => ({ part, key, code })) : [];
  }),
);

describe('the words of a form', () => {
  it('has words for every choice that the schema offers', () => {
    expect(choices.length).toBeGreaterThan(40);
    const own = choices.filter(({ part, key, code }) => choiceWords(part, key, code) === code);
    // These codes are English words already.
    expect([...new Set(own.map(({ code }) => code))].toSorted()).toEqual(
      ['assistant', 'dentist', 'either', 'hold', 'note', 'other', 'serious', 'warning'].toSorted(),
    );
  });

  it('says what an empty field needs, what a wrong one should be, and how long a text may be', () => {
    const at = 'protocol.sources[0].doi';
    expect(fieldProblemWords('sources', 'doi', problem(at, 'a DOI', '11.1'))).toMatch(/not a DOI/);
    const empty = problem('protocol.steps[0].title', 'the title of the step', '');
    expect(fieldProblemWords('steps', 'title', empty)).toBe('Give the step a title.');
    const long = problem('protocol.steps[0].why', 'at most 1000 characters', 'x'.repeat(1001));
    expect(fieldProblemWords('steps', 'why', long)).toBe('At most 1000 characters.');
  });

  it('says so of a text that stands deeper in a step', () => {
    const at = 'protocol.steps[0].action.evidence.options[2].label';
    const empty = problem(at, 'the words of the option', '');
    const key = 'action.evidence.options[2].label';
    expect(fieldProblemWords('steps', key, empty)).toBe('Write the words of this answer.');
    const long = problem('protocol.steps[0].words.end', 'at most 1000', 'x'.repeat(1001));
    expect(fieldProblemWords('steps', 'words.end', long)).toBe('At most 1000 characters.');
  });

  it('says nothing of its own where a field has no words', () => {
    const odd = problem('protocol.steps[0].after', 'at most 40 entries', 'many');
    expect(fieldProblemWords('steps', 'after', odd)).toBeNull();
  });
});
