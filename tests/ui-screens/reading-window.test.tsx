/** A window that only reads along says what to do, never what the code says of it. */
import { screen } from '@testing-library/react';
import { expect, it } from 'vitest';
import { Frame } from '../../src/ui/shared/Frame.tsx';
import { backupProblemWords } from '../../src/words/backup-words.ts';
import { notKeptWords, openingWords } from '../../src/words/opening-words.ts';
import { fakeSession, show } from './fake-session.tsx';

/** What a problem's own line looks like. */
const INTERNAL = /expected|epoch|this window to be the one|reader/;
const CODES = [
  'not-writer',
  'stale-epoch',
  'database-full',
  'not-exported',
  'conflict',
  'closed',
  'wrong-seq',
];
const problemOf = (code: string) => ({
  code,
  place: 'window',
  expected: 'this window to be the one that writes',
  came: 'reader',
});

it.each(CODES)('has words for %s wherever something is kept or opened', (code) => {
  const { what, todo } = openingWords(problemOf(code));
  const ofBackup = backupProblemWords(problemOf(code));
  for (const words of [notKeptWords(problemOf(code)), ofBackup, what, todo]) {
    expect(words).not.toMatch(INTERNAL);
    expect(words).toMatch(/^[A-Z].*\.$/);
  }
});

it('tells of a fault what to do', async () => {
  const line = 'journal: expected the current epoch 3, got 2';
  const fault = { kind: 'journal', code: 'stale-epoch', line } as const;
  show(
    <Frame place="today" title="Today">
      {null}
    </Frame>,
    { session: fakeSession({ standing: 'reader', fault }) },
  );
  expect((await screen.findByRole('alert')).textContent).not.toMatch(INTERNAL);
});
