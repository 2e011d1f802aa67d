// @vitest-environment jsdom
// What two tablets tell differently of what became of cases: told on one page, chosen where it stands.
import { screen, within } from '@testing-library/react';
import { expect, it } from 'vitest';
import { ok } from '../../src/base/result.ts';
import { Conflicts } from '../../src/ui/clinic/tablets/Conflicts.tsx';
import { SharingContext } from '../../src/ui/clinic/tablets/use-sharing.ts';
import { show } from '../ui-screens/fake-session.tsx';
import { fakeSharing, sharingSession } from './fake-sharing.ts';
import { CONFLICTS, PAIRED } from './states.ts';

const sectionOf = async (name: string) => {
  const title = await screen.findByRole('heading', { name });
  return within(title.closest('section') as HTMLElement);
};

it('leads from visits that do not agree to the case, and from questions to the outcomes', async () => {
  const sharing = fakeSharing(PAIRED);
  sharing.conflicts.mockResolvedValue(ok(CONFLICTS));
  const page = (
    <SharingContext value={sharing}>
      <Conflicts />
    </SharingContext>
  );
  show(page, { session: sharingSession(sharing) });
  const visits = await sectionOf('Two upper veneers, 11');
  expect(visits.getByText(/^9 Nov 2026: In place$/)).toBeVisible();
  expect(visits.getByText(/^9 Nov 2026: Lost retention\. Left as it was$/)).toBeVisible();
  expect(visits.getByText(/^11: visits of one day found different things/)).toBeVisible();
  expect(visits.queryByRole('button')).toBeNull();
  expect(visits.getByRole('link', { name: 'To the follow-up' })).toHaveAttribute(
    'href',
    '/follow-up/case-v',
  );
  const question = await sectionOf('The question');
  expect(
    question.getByText(
      /^Fixed on 2 Nov 2026: Retention; open; accepted: 2\.0.% a year for retention, a choice of this app/,
    ),
  ).toBeVisible();
  expect(
    question.getByText(
      /: Success; no limit counts; accepted: 8\.0.% a year for success, the clinic/,
    ),
  ).toBeVisible();
  expect(question.getByRole('link', { name: 'To the question' })).toHaveAttribute(
    'href',
    '/outcomes/reviews',
  );
});
