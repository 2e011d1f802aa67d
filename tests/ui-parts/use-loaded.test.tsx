// @vitest-environment jsdom
import { act, type RenderResult, render } from '@testing-library/react';
import { beforeEach, expect, test } from 'vitest';
import { useLoaded } from '../../src/ui/shared/use-loaded.ts';

interface Asked {
  readonly of: string;
  readonly signal: AbortSignal;
  readonly answer: (value: string) => void;
  readonly fail: () => void;
}

let view: RenderResult;
let asked: Asked[];
/** Everything that was drawn, in order. */
let drawn: string[];

beforeEach(() => {
  view = render(null);
  asked = [];
  drawn = [];
});

function Screen({ of, again }: { readonly of: string; readonly again: number }) {
  const { state, value } = useLoaded(
    (signal) =>
      new Promise<string>((answer, fail) => {
        asked.push({ of, signal, answer, fail: () => fail(new Error('unread')) });
      }),
    [of],
    [again],
  );
  drawn.push(`${of}: ${value ?? state}`);
  return null;
}

const show = (of: string, again = 0): Promise<void> =>
  act(async () => view.rerender(<Screen of={of} again={again} />));

/** Lets the nth question be answered. */
const answer = (n: number, value: string): Promise<void> =>
  act(async () => asked[n]?.answer(value));

test('what was asked for is shown when it has come', async () => {
  await show('11');
  await answer(0, 'crown');
  expect(drawn).toEqual(['11: loading', '11: crown']);
});

test('an answer that comes after the next question is dropped', async () => {
  await show('11');
  await show('21');
  await answer(1, 'veneer');
  await answer(0, 'crown');
  expect(drawn.at(-1)).toBe('21: veneer');
  expect(drawn).not.toContain('21: crown');
});

test('a late answer to the same question does not take the place of a newer one', async () => {
  await show('11', 1);
  await show('11', 2);
  await answer(1, 'two entries');
  await answer(0, 'one entry');
  expect(drawn.at(-1)).toBe('11: two entries');
});

test('nothing of the last question is drawn with the next, not for one frame', async () => {
  await show('11');
  await answer(0, 'crown');
  await show('21');
  expect(drawn).toEqual(['11: loading', '11: crown', '21: loading']);
});

test('while the same is asked again, what was found stays', async () => {
  await show('11', 1);
  await answer(0, 'one entry');
  await show('11', 2);
  expect(drawn.at(-1)).toBe('11: one entry');
});

test('what cannot be read is told, and only of what is still asked for', async () => {
  await show('11');
  await show('21');
  await act(async () => asked[0]?.fail());
  expect(drawn.at(-1)).toBe('21: loading');
  await act(async () => asked[1]?.fail());
  expect(drawn.at(-1)).toBe('21: failed');
});

test('a question is called off with its screen', async () => {
  await show('11');
  expect(asked[0]?.signal.aborted).toBe(false);
  await show('21');
  expect(asked.map(({ signal }) => signal.aborted)).toEqual([true, false]);
  view.unmount();
  expect(asked.map(({ signal }) => signal.aborted)).toEqual([true, true]);
});
