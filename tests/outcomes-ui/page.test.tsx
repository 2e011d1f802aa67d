// @vitest-environment jsdom
// The page of outcomes: from the first day to a review, with what must stand beside each figure.
import { cleanup, screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, test, vi } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { NO_REVIEWS } from '../../src/outcomes/review-types.ts';
import { groupWords, outcomeWords } from '../../src/words/outcome-words.ts';
import { many, opened } from './shown-page.tsx';
import { ASKED, TODAY } from './small-clinic.ts';

const ASSOCIATION = /^Association only\./;
/** Parts of the page that show no figure of an end point. */
const NO_FIGURE = /^(How many units|Hand on)/;

test('on the first day it says how many units it takes, and never shows a curve', async () => {
  opened({ units: [], reviews: NO_REVIEWS });
  await screen.findByRole('heading', { name: /^On the first day/ });
  expect(screen.getByText(/takes about 66 failures/)).toBeVisible();
  expect(screen.getByText(/No question is fixed yet/)).toBeVisible();
  expect(screen.getByText(ASSOCIATION)).toBeVisible();
  expect(screen.queryByRole('img')).toBeNull();
});

test('a step of the curve leads to its cases, by keys alone, and a case to its windows and visits', async () => {
  opened({ units: many(60, 4) });
  const next = await screen.findByRole('button', { name: 'Next step' });
  expect(
    screen.getByRole('img', { name: /^Retention: share still in place: 4 steps/ }),
  ).toBeVisible();
  next.focus();
  await userEvent.keyboard('{Enter}{Enter}');
  expect(screen.getByText('Step 2 of 4')).toBeVisible();
  const line = /C-kept-1, 11/;
  const told = screen.getAllByRole('link', { name: line }).slice(0, 2);
  expect(told.map((link) => link.getAttribute('href'))).toEqual([
    '/record/case-1#windows',
    '/follow-up/case-1',
  ]);
});

test('the end point is chosen first and stands in every title of a figure', async () => {
  opened({ units: many(60, 4) });
  await screen.findByRole('heading', { name: 'Retention: share still in place' });
  await userEvent.click(screen.getByRole('radio', { name: 'Success' }));
  await screen.findByRole('heading', { name: 'Success: share without any finding' });
  for (const title of screen.getAllByRole('heading', { level: 2 })) {
    if (NO_FIGURE.test(title.textContent ?? '')) continue;
    expect(title.textContent).toMatch(/success/i);
  }
  expect(
    screen.getByText(/another end point than the one that was fixed, Retention/),
  ).toBeVisible();
});

test('groups say what they rest on, and what is missing where they are too few', async () => {
  opened({ units: [...many(40, 6, { limit: 'broken' }), ...many(50, 3)], part: 'groups' });
  await screen.findByRole('heading', { name: /^Limit: Left open/ });
  expect(screen.getByText(/not put into these groups at random/)).toBeVisible();
  expect(screen.getByText(/A difficult unit is more likely to go past a limit/)).toBeVisible();
  expect(screen.getByText(/Too few to tell/)).toBeVisible();
  expect(screen.getByText('90 lives; it takes 100')).toBeVisible();
  expect(screen.getByText(/a ratio of \d/)).toBeVisible();
  expect(screen.queryByRole('img')).toBeNull();
  expect(screen.getByText(ASSOCIATION)).toBeVisible();
});

test('a question is fixed by a form, with the limits that count', async () => {
  const { followUps } = opened({ units: many(30, 2), reviews: NO_REVIEWS, part: 'reviews' });
  await screen.findByRole('heading', { name: 'The question' });
  expect(screen.getByText('A review needs a question that is fixed.')).toBeVisible();
  await userEvent.click(screen.getByRole('checkbox', { name: 'Left open' }));
  await userEvent.click(screen.getByRole('button', { name: 'Fix the question' }));
  expect(followUps.fixQuestion).toHaveBeenCalledWith({
    question: { endPoint: 'retention', limits: ['window/open'], accepted: { retention: 0.02 } },
    by: null,
  });
});

test('the accepted rate is typed in per cent, and nonsense is told in words', async () => {
  const { followUps } = opened({ units: many(30, 2), reviews: NO_REVIEWS, part: 'reviews' });
  await screen.findByRole('heading', { name: 'The question' });
  // The first choice of an end point is that of the page.
  const [, success] = screen.getAllByRole('radio', { name: 'Success' });
  await userEvent.click(present(success, 'the choice of the form'));
  const field = screen.getByRole('textbox', { name: 'Failures accepted a year, for success' });
  expect(field).toHaveValue('2.0');
  const wrong = 'Enter a figure from 0.1 to 20, in steps of 0.1.';
  const fix = screen.getByRole('button', { name: 'Fix the question' });
  for (const typed of ['0', '50', 'two', '2.55', '-3', '20.1', ' ']) {
    await userEvent.clear(field);
    await userEvent.type(field, typed);
    expect(screen.queryByText(wrong)).toBeNull();
    await userEvent.click(fix);
    expect(screen.getByText(wrong)).toBeVisible();
    expect(field).toHaveAccessibleDescription(expect.stringContaining(wrong));
  }
  expect(followUps.fixQuestion).not.toHaveBeenCalled();
  await userEvent.clear(field);
  await userEvent.type(field, '7,5');
  await userEvent.click(fix);
  expect(followUps.fixQuestion).toHaveBeenCalledExactlyOnceWith({
    question: { endPoint: 'success', limits: [], accepted: { success: 0.075 } },
    by: null,
  });
});

test('of two questions of two tablets one is chosen as it stands; until then the lowest rate holds', async () => {
  const side = (id: string, success: number) => ({
    endPoint: 'success' as const,
    limits: [],
    accepted: { success, retention: 0.01 },
    onDay: '2026-06-01',
    id,
    by: null,
    atWallMs: 0,
  });
  const differing = [side('a', 0.08), side('b', 0.05)];
  const reviews = { ...NO_REVIEWS, question: differing[0] ?? null, differing };
  const { followUps } = opened({ units: many(30, 2), reviews, part: 'reviews' });
  expect(
    await screen.findByText(/Until then the lowest of their accepted rates holds/),
  ).toBeVisible();
  expect(screen.getByLabelText('Failures accepted a year, for success')).toHaveValue('5.0');
  await userEvent.click(
    screen.getByRole('button', { name: /^This one holds: .*accepted: 8\.0.% a year for success/ }),
  );
  expect(followUps.fixQuestion).toHaveBeenCalledExactlyOnceWith({
    question: { endPoint: 'success', limits: [], accepted: { success: 0.08, retention: 0.01 } },
    by: null,
  });
});

test('what was left of a deleted case on two tablets is said to count twice, beside the counts', async () => {
  opened({ units: many(30, 2), leftTwice: 1 });
  expect(await screen.findByText(/^The units of 1 deleted case count twice/)).toBeVisible();
});

test('every chart says its rate, whose choice it is, since when, and what another rate would show', async () => {
  const question = {
    ...present(ASKED.question, 'a question'),
    onDay: '2026-06-01',
    accepted: { retention: 0.2 },
  };
  const units = many(100, 14).map((unit, at) => ({ ...unit, day: at < 14 ? 100 + 40 * at : 3900 }));
  opened({ units, reviews: { ...ASKED, question }, part: 'flags' });
  expect(
    await screen.findByText(
      /^Held against 20\.0.% a year for retention, the clinic’s choice, without a source, since .*2026\. Until then the rate was 2\.0.% a year\. .*no failure was dropped\. At the rate before, a flag would stand here\.$/,
    ),
  ).toBeVisible();
  expect(
    screen.getByText(/^Held against 2\.0.% a year for survival, a choice of this app, without/),
  ).toBeVisible();
  expect(screen.getByText(/for success.* A question about success can carry/)).toBeVisible();
  expect(
    screen.getByText(/^Usual in the first year: 20\.0.% a year for retention, the clinic’s choice/),
  ).toBeVisible();
});

test('a review is worked out and noted at once, with every comparison', async () => {
  const { followUps } = opened({
    units: [...many(60, 12, { limit: 'broken' }), ...many(60, 6)],
    part: 'reviews',
  });
  await userEvent.click(await screen.findByRole('button', { name: 'Make this year’s review' }));
  await vi.waitFor(() => expect(followUps.noteReview).toHaveBeenCalledOnce());
  expect(followUps.noteReview.mock.calls[0]?.[0]).toMatchObject({
    review: {
      onDay: TODAY,
      question: { endPoint: 'retention', limits: ['window/open'] },
      compared: [{ grouping: 'limit window/open broken', lives: 120, failures: 18 }],
    },
  });
});

test('what was looked at is noted at a flag; nothing is noted without words', async () => {
  const { followUps } = opened({ units: many(60, 14), part: 'flags' });
  const [look] = await screen.findAllByRole('button', { name: 'Note what was looked at' });
  expect(
    screen.getAllByText(
      /at 2.0.% a year for retention, a choice of this app, without a source\. At that rate chance alone raises such a flag about once in ten years/,
    )[0],
  ).toBeVisible();
  // A chart comes down again with time under observation; its flag stays until somebody has looked.
  expect(
    screen.getAllByText(/^It went above its limit on .*, and nobody has noted a look since\.$/)[0],
  ).toBeVisible();
  if (look) await userEvent.click(look);
  await userEvent.click(screen.getByRole('button', { name: 'Note it' }));
  expect(followUps.noteFlagLooked).not.toHaveBeenCalled();
  await userEvent.type(screen.getByLabelText('What was looked at'), 'The light');
  await userEvent.click(screen.getByRole('button', { name: 'Note it' }));
  expect(followUps.noteFlagLooked).toHaveBeenCalledWith({
    flag: expect.objectContaining({ chart: 'cusum', of: 'retention', note: 'The light' }),
    by: null,
  });
});

test('figures of a person are off until that person asks for them', async () => {
  opened({
    units: [...many(30, 3), ...many(25, 1, { limit: 'broken', person: 'TK' })],
    part: 'own',
  });
  await screen.findByRole('heading', { name: 'My own units: retention' });
  expect(screen.queryByText(/^25 lives/)).toBeNull();
  await userEvent.selectOptions(screen.getByLabelText('Your name'), 'TK');
  await userEvent.click(screen.getByRole('button', { name: 'Show the units that I bonded' }));
  expect(await screen.findByText(/^25 lives of 25 patients; 1 failure/)).toBeVisible();
  await userEvent.click(screen.getByRole('button', { name: 'Hide them again' }));
  expect(screen.queryByText(/^25 lives/)).toBeNull();
});

test('the example is invented on every line, and nothing can be noted from it', async () => {
  opened({ units: [], reviews: NO_REVIEWS });
  await userEvent.click(await screen.findByRole('button', { name: 'See an example' }));
  await screen.findByRole(
    'heading',
    { name: /^Retention: .*invented example/ },
    { timeout: 10_000 },
  );
  expect(screen.getByText(/^Invented example\. None of this happened/)).toBeVisible();
  const lists = document.querySelectorAll('.outcomes-cases');
  expect(lists.length).toBeGreaterThan(0);
  for (const list of lists) {
    for (const item of within(list as HTMLElement).getAllByRole('listitem', { hidden: true })) {
      expect(item.textContent).toMatch(/^INVENTED .*Invented$/);
    }
  }
  expect(document.querySelectorAll('.outcomes-cases a')).toHaveLength(0);
});

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
  expect(
    screen.getAllByText(/C-kept-0, 11: bonded .*, failed .*, as the patient states/).length,
  ).toBe(2);
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
