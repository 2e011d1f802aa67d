// @vitest-environment jsdom
// What is missing of the records is told on every page, on the case itself, and nowhere as saved.
import { screen, waitFor } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { describe, expect, it, vi } from 'vitest';
import { NO_DAMAGE } from '../../src/storage/journal-types.ts';
import { Chair } from '../../src/ui/chair/Chair.tsx';
import { Frame } from '../../src/ui/shared/Frame.tsx';
import { StorageKept } from '../../src/ui/shared/StorageKept.tsx';
import { Today } from '../../src/ui/today/Today.tsx';
import { noticeWords } from '../../src/words/tour-words.ts';
import { FamilyChair } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

vi.setConfig({ testTimeout: 20_000 });

const torn = {
  caseId: 'c1',
  title: 'Upper front',
  chartRef: 'KB-2041',
  known: 13,
  head: '',
  left: 8,
  apart: 0,
};
const damage = { ...NO_DAMAGE, cases: [torn] };
const page = (
  <Frame place="materials" title="Page">
    {null}
  </Frame>
);

describe('a page away from the chair', () => {
  it('tells what is missing with numbers, until a person has seen it', async () => {
    const session = fakeSession({ damage });
    show(page, { session });
    expect(await screen.findByText(/Upper front, KB-2041: 5 of 13 saved entries/)).toBeVisible();
    await userEvent.click(screen.getByRole('button', { name: 'Seen' }));
    expect(session.noteDamage).toHaveBeenCalled();
  });

  it.each([
    [{ ...torn, left: 0 }, /all 13 saved entries are missing/],
    [
      { ...torn, left: 4, apart: 8 },
      /1 of 13 saved entries is missing. 8 after that no longer fit and are set apart/,
    ],
    [{ ...torn, left: 4, apart: 9 }, /9 of 13 saved entries no longer fit those before them/],
  ])('says whether entries are gone or only out of order', async (one, words) => {
    show(page, { session: fakeSession({ damage: { ...damage, cases: [one] } }) });
    expect(await screen.findByText(words)).toBeVisible();
    expect(screen.getByText('Saved records on this tablet are damaged.')).toBeVisible();
  });

  it('tells of cases without a name and of lines that cannot be read', async () => {
    const nameless = { ...NO_DAMAGE, unnamed: 2, unreadable: 13 };
    show(page, { session: fakeSession({ damage: nameless }) });
    expect(await screen.findByText(/2 cases are missing\. .* 13 lines/)).toBeVisible();
  });

  it('is quiet once it was seen, and where nothing is missing', async () => {
    show(page, { session: fakeSession({ damage: { ...damage, isNoted: true } }) });
    show(page, { session: fakeSession() });
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(screen.queryByText(/saved entries/)).toBeNull();
  });

  it('tells what one copy gave to the other', async () => {
    const report = {
      rebuilt: 'database',
      entries: 3,
      conflicts: 0,
      unreadable: 0,
      databaseLost: false,
      mended: 3,
    } as const;
    show(page, { session: fakeSession({ report }) });
    expect(await screen.findByText(/3 entries were damaged in one copy/)).toBeVisible();
  });
});

/** What comes with others is in the page, hidden, until all of them have come. */
const visible = (words: string) =>
  waitFor(() => expect(screen.getByText(words)).toBeVisible(), { timeout: 10_000 });

describe('the first screen', () => {
  it('greets nobody as new whose cases are lost', async () => {
    show(<Today />, { session: fakeSession({ damage: { ...damage, isNoted: true } }) });
    // What comes with the greeting stands there, and the greeting does not.
    await visible(noticeWords.mayForget);
    expect(screen.queryByText(noticeWords.tour)).toBeNull();
  });

  it('greets whoever has run no case yet', async () => {
    show(<Today />, { session: fakeSession() });
    await visible(noticeWords.tour);
  });

  it('names prepared cases that cannot be read', async () => {
    show(<Today />, { session: fakeSession({ unreadPrepared: ['Upper front', 'Lower molar'] }) });
    expect(
      await screen.findByText(/2 prepared cases cannot be read: Upper front, Lower molar/),
    ).toBeVisible();
  });
});

describe('a case that has lost entries', () => {
  const running = { ...runningOf(FamilyChair.of('veneers, universal')), caseId: 'c1' };

  it('is not told as saved, and says on the chair what it has lost', async () => {
    show(<Chair />, { session: fakeSession({ running, damage }) });
    expect(screen.getByText('SAVED IN PART')).toBeVisible();
    expect(screen.queryByText('SAVED')).toBeNull();
    expect(await screen.findByText(/5 of 13 saved entries are missing/)).toBeVisible();
  });

  it('keeps the copies from being told as whole', () => {
    show(<StorageKept markClass="" />, { session: fakeSession({ damage }) });
    expect(screen.queryByText('Every entry is saved twice')).toBeNull();
    expect(screen.getByText(/Saved entries are damaged/)).toBeVisible();
  });
});
