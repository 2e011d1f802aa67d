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

  it('names place and fault where a field has no words', () => {
    const odd = problem('protocol.steps[0].after', 'at most 40 entries', 'many');
    expect(fieldProblemWords('steps', 'after', odd)).toBe(
      'protocol.steps[0].after: expected at most 40 entries, got "many".',
    );
  });
});
