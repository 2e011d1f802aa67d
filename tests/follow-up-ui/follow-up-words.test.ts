/** No word of cause, blame or promise stands on the screens of follow-up, and every finding is told. */
import { describe, expect, test } from 'vitest';
import { FINDINGS } from '../../src/outcomes/vocabulary.ts';
import { bondedBefore, followUp, recallVisit } from '../../src/words/en/follow-up.ts';

const NEVER =
  /\b(caus\w+|because|due to|led to|leads? to|results? (of|in)|responsible|blam\w+|faulty?|mistakes?|careless\w*|errors?|better|worse|best|safe\w*|guarantee\w*|prov(e|es|ed)|ensur\w+|prevent\w*|recommend\w*)\b/i;

/** Every text of a topic; of a function what is written in it. */
function textsOf(value: unknown): readonly string[] {
  if (typeof value === 'string') return [value];
  if (typeof value === 'function') return [String(value)];
  return Object.values(value ?? {}).flatMap(textsOf);
}

describe('the words of follow-up', () => {
  test('hold nothing of cause, blame or promise', () => {
    const all = textsOf({ bondedBefore, followUp, recallVisit });
    expect(all.length).toBeGreaterThan(150);
    expect(all.filter((text) => NEVER.test(text))).toEqual([]);
    expect('Lost because of the lot').toMatch(NEVER);
  });

  test('each finding has a name and one sentence; what counts as lost retention says so', () => {
    expect(Object.keys(followUp.findings)).toEqual([...FINDINGS]);
    for (const { means } of Object.values(followUp.findings)) expect(means).toMatch(/^[^.]+\.$/);
    const lost = FINDINGS.filter((finding) =>
      followUp.findings[finding].means.includes('counts as lost retention'),
    );
    expect(lost).toEqual(['partly-loose', 'lost-retention']);
    expect(recallVisit.bridgeHint).toContain('counts as lost retention');
  });
});
