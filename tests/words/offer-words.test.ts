/** What the bar says must be what the hands do: gel on the dentine is not a rinse. */
import { describe, expect, it } from 'vitest';
import { offerWords, pressWords } from '../../src/words/offer-words.ts';
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
