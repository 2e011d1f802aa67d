/** What becomes of the lives of a case is asked before it is deleted, unless they were left before. */
import { fireEvent, screen, waitFor } from '@testing-library/react';
import { expect, it } from 'vitest';
import type { CaseFacts } from '../../src/runtime/cases/cases-list-facts.ts';
import type { FollowUps } from '../../src/runtime/follow-up/follow-ups.ts';
import { CasesDelete } from '../../src/ui/cases/CasesDelete.tsx';
import { caseListWords } from '../../src/words/case-list-words.ts';
import { fakeSession, show } from '../ui-screens/fake-session.tsx';
import { type } from './screen.tsx';

const FACTS = { caseId: 'case-1', title: 'Two veneers', mode: 'patient' } as unknown as CaseFacts;

function opened(standing: Awaited<ReturnType<FollowUps['livesOf']>>) {
  const session = fakeSession();
  session.followUps.mockResolvedValue({ livesOf: async () => standing } as unknown as FollowUps);
  show(<CasesDelete facts={FACTS} onClose={() => undefined} />, { session });
  type(screen.getByLabelText(caseListWords.deleteBy), 'AN');
  type(screen.getByLabelText(caseListWords.deleteWhy), 'asked for');
  return screen.getByRole('button', { name: caseListWords.deleteDo });
}

it('asks, and deletes nothing before there is an answer', async () => {
  const button = opened('followed');
  const left = await screen.findByRole('radio', { name: caseListWords.deleteLivesAs.left });
  expect(button).toBeDisabled();
  fireEvent.click(left);
  expect(button).toBeEnabled();
  expect(screen.getByText(caseListWords.deleteLivesNote.left)).toBeVisible();
});

it('does not ask where another tablet left them, and says so', async () => {
  const button = opened('left-before');
  expect(await screen.findByText(caseListWords.deleteLivesBefore)).toBeVisible();
  await waitFor(() => expect(button).toBeEnabled());
  expect(screen.queryByRole('radio', { name: caseListWords.deleteLivesAs.left })).toBeNull();
});
