/** No word of cause, blame or promise stands on any screen of outcomes, and what must be said is there. */
import { describe, expect, test } from 'vitest';
import { acceptedRate } from '../../src/words/en/accepted-rate.ts';
import { outcome } from '../../src/words/en/outcome.ts';
import { outcomeFlag } from '../../src/words/en/outcome-flag.ts';
import { outcomeGroup } from '../../src/words/en/outcome-group.ts';

const CAUSE =
  /\b(caus(e|es|ed|ing|al)|because|due to|owing to|thanks to|leads? to|led to|brought about|effects?|affects?|influences?|impacts?|results? (of|from|in)|consequences?|responsible|risk factors?)\b/i;
const BLAME =
  /\b(blam\w+|faults?|faulty|mistakes?|careless\w*|errors?|guilt\w*|worst|poor(ly)?|bad(ly)?|sloppy)\b/i;
const PROMISE =
  /\b(better|worse|best|saf(e|er|est|ely|ety)|guarantee\w*|prov(e|es|ed|en|ing)|proof|ensur\w+|improv\w+|reduc\w+|prevent\w*|protect\w*|promis\w+|reliabl\w+|superior|inferior|recommend\w*|significan\w+)\b/i;

/** Every text of a topic; of a function what is written in it. */
function textsOf(value: unknown, at = ''): readonly (readonly [string, string])[] {
  if (typeof value === 'string') return [[at, value]];
  if (typeof value === 'function') return [[at, String(value)]];
  return Object.entries(value ?? {}).flatMap(([key, inner]) => textsOf(inner, `${at}.${key}`));
}

const TOPICS = { outcome, outcomeGroup, outcomeFlag, acceptedRate };
const ALL = textsOf(TOPICS);

describe('the words of outcomes', () => {
  test.each([
    ['cause', CAUSE],
    ['blame', BLAME],
    ['promise', PROMISE],
  ])('hold none of %s', (_, words) => {
    expect(ALL.length).toBeGreaterThan(150);
    expect(ALL.filter(([, text]) => words.test(text))).toEqual([]);
  });

  test('would be found if they did', () => {
    expect('The limit was broken, which caused the loss').toMatch(CAUSE);
    expect('Lost because of the lot').toMatch(CAUSE);
    expect('A mistake of the operator').toMatch(BLAME);
    expect('The new revision is better').toMatch(PROMISE);
    expect('This proves it').toMatch(PROMISE);
  });

  test('say what must stand beside a comparison', () => {
    expect(outcome.association).toMatch(/^Association only\./);
    expect(outcomeGroup.association).toMatch(/^An association/);
    expect(outcomeGroup.byChance).toMatch(/not put into these groups at random/);
    expect(outcomeGroup.hardCase).toMatch(/more likely to go past a limit, and more likely/);
    const told = { rate: '2 %', endPoint: 'Retention', isOwn: true };
    expect(outcomeFlag.flag(told)).toMatch(/about once in ten years/);
  });
});
