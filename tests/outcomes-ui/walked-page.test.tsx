// @vitest-environment jsdom
// The page of outcomes for people who see it for the first time: what they lose by looking at a case, and what is empty.
import { cleanup, screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, test } from 'vitest';
import { groupWords, outcomeWords } from '../../src/words/outcome-words.ts';
import { many, opened } from './shown-page.tsx';

const step = (at: number) => outcomeWords.step({ at, of: 4 });

test('who comes back from a case finds the step and the end point as they were', async () => {
  opened({ units: many(60, 4) });
  await userEvent.click(await screen.findByRole('radio', { name: 'Success' }));
  const next = await screen.findByRole('button', { name: 'Next step' });
  await userEvent.click(next);
  await userEvent.click(next);
  expect(await screen.findByText(step(2))).toBeVisible();
  cleanup();
  opened({ units: many(60, 4), isBack: true });
  expect(await screen.findByText(step(2))).toBeVisible();
  expect(screen.getByRole('radio', { name: 'Success' })).toBeChecked();
});

test('a case leads to the windows of its record, and says whose day it is', async () => {
  opened({ units: many(60, 4) });
  await userEvent.click(await screen.findByRole('button', { name: 'Next step' }));
  const [windows] = screen.getAllByRole('link', { name: /^Windows in the record of C-kept-0/ });
  expect(windows?.getAttribute('href')).toMatch(/^\/record\/case-0#windows$/);
  expect(screen.getAllByText(/C-kept-0, 11: bonded .* as the patient states/).length).toBe(2);
});

test('a group in which there is no unit is not compared', async () => {
  opened({ units: many(30, 2), part: 'groups' });
  const words = groupWords.noneIn(groupWords.state.broken);
  expect(await screen.findByText(words)).toBeVisible();
  expect(screen.queryByText(/0 lives of 0 patients/)).toBeNull();
  expect(screen.queryByText(groupWords.tooFew)).toBeNull();
});

test('what is missing is said in whole words', () => {
  const { missing } = groupWords;
  expect(missing.lives({ has: 1, needs: 100 })).toBe('1 life; it takes 100');
  expect(missing.patientsWithFailure({ has: 1, needs: 10 })).toMatch(/^1 patient with/);
});
