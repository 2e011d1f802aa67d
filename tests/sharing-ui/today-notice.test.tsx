// @vitest-environment jsdom
// Today tells once of all that waits at the clinic's tablets, and leads there.
import { screen } from '@testing-library/react';
import { expect, it } from 'vitest';
import { NOT_SHARING, type SharingState } from '../../src/runtime/sharing/sharing-state.ts';
import { TodayNotices } from '../../src/ui/today/TodayNotices.tsx';
import { fakeSession, show } from '../ui-screens/fake-session.tsx';
import { OTHER, PAIRED } from './states.ts';

const WORDS = 'Something waits at the tablets of the clinic';
const open = (sharing: SharingState) =>
  show(<TodayNotices />, { session: fakeSession({ sharing }) });
const adviceOf = async (): Promise<string> => {
  const words = await screen.findByText(WORDS);
  return words.nextElementSibling?.textContent ?? '';
};

it('says nothing on a tablet that is alone, or where nothing waits', async () => {
  open(NOT_SHARING);
  expect(screen.queryByText(WORDS)).toBeNull();
  open(PAIRED);
  await Promise.resolve();
  expect(screen.queryByText(WORDS)).toBeNull();
});

it('puts everything into one notice, and leads to the tablets', async () => {
  open({
    ...PAIRED,
    conflicts: 2,
    box: { sealedAtWallMs: 1, isKept: false },
    wentBackAtWallMs: 1,
    refused: [
      { code: 'bad-signature', device: OTHER, count: 3 },
      // Comes right by itself.
      { code: 'no-key', device: OTHER, count: 9 },
    ],
  });
  expect(await adviceOf()).toBe(
    'Two tablets tell 2 things differently. The lead’s box is on no paper and in no backup of this tablet. The store went back to an older state. 3 messages in the store do not hold.',
  );
  expect(screen.getByRole('link', { name: 'See the tablets' })).toHaveAttribute(
    'href',
    '/clinic/tablets',
  );
});

it('leads to both sides where only that waits', async () => {
  open({ ...PAIRED, conflicts: 1 });
  expect(await adviceOf()).toBe('Two tablets tell one thing differently.');
  expect(screen.getByRole('link', { name: 'See both' })).toHaveAttribute(
    'href',
    '/clinic/tablets/conflicts',
  );
});

it('says that the store does not let this tablet in', async () => {
  open({ ...PAIRED, line: 'refused', problem: 'not-let-in' });
  expect(await adviceOf()).toBe('The store does not let this tablet in.');
});

it('says first of all that this tablet was put out', async () => {
  open({ ...PAIRED, standing: 'put-out', conflicts: 4 });
  expect(await adviceOf()).toBe('This tablet was put out of the clinic’s store.');
});
