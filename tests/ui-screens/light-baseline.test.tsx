// @vitest-environment jsdom
// Service at a fifth below the light's own baseline: common practice, no source.
import { screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, it, vi } from 'vitest';
import { ChairInstruction } from '../../src/ui/chair/ChairInstruction.tsx';
import { caseNamed, FamilyChair, protocolNamed } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

it.each([
  ['1000', '100 % of its own baseline'],
  ['810', '81 % of its own baseline'],
  ['800', '80 % of its own baseline, a fifth or more below: service is due (common practice)'],
])('a light that reads %s of 1000 is told as %s, and so recorded', async (typed, told) => {
  const spec = caseNamed('prepare-four-veneers');
  const light = { ...spec.light, baselineMwPerCm2: 1000 };
  const protocol = protocolNamed('preparation');
  const chair = new FamilyChair({ spec: { ...spec, light }, protocol });
  while (chair.view.offers[0]?.step !== 'light-read') chair.next();
  const running = runningOf(chair);
  const session = { ...fakeSession({ running }), keepTyped: vi.fn() };
  show(<ChairInstruction running={running} />, { session });
  await userEvent.type(screen.getByLabelText(/Light output/), typed);
  expect(screen.getByText(new RegExp(`^${told.replaceAll(/[()]/g, '\\$&')}\\. `))).toBeVisible();
  expect(session.keepTyped).toHaveBeenLastCalledWith({
    step: 'light-read',
    evidence: `${typed} mW/cm², ${told}`,
  });
});
