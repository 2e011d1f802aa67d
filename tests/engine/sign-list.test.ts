/** What stands at the signature, and the words that were added to it. The case: journals.ts. */
import { expect, it } from 'vitest';
import { signItems } from '../../src/engine/sign-list.ts';
import { eventful } from '../export/journals.ts';

it('lists missed limits, voids, gaps and skips, each once', () => {
  const chair = eventful();
  const [offer] = chair.view.offers;
  const { step = '', subjects = [] } = offer ?? {};
  expect(chair.do({ do: 'skip', step, subjects, reason: 'no time' })).toBeNull();
  const { state } = chair.log;
  const items = signItems(state);
  const told = items.map((i) =>
    i.kind === 'breach' ? `${i.breach.kind} ${i.breach.of} ${i.breach.subject}` : i.kind,
  );
  expect(told).toEqual(
    expect.arrayContaining([
      'short etch tooth:11',
      'over etch tooth:22',
      'voided',
      'gap',
      'skipped',
    ]),
  );
  expect(told.filter((t) => t === 'voided')).toHaveLength(state.waysBack.length);
  expect(new Set(items.map((i) => i.id)).size).toBe(items.length);
});

it('has the words that were added to a line until they are taken back', () => {
  const chair = eventful();
  const [first] = signItems(chair.log.state);
  chair.do({ do: 'note', words: 'thin enamel', about: first?.id ?? '' });
  const said = () =>
    signItems(chair.log.state).flatMap((i) => i.said.map((words) => [i.id, words]));
  expect(said()).toEqual([[first?.id, 'thin enamel']]);
  chair.do({ do: 'undo' });
  expect(said()).toEqual([]);
});
