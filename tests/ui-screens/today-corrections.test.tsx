// @vitest-environment jsdom
// What Today says of corrections that the clinic lead has not answered.
import { screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { describe, expect, it } from 'vitest';
import { err, ok } from '../../src/base/result.ts';
import { Today } from '../../src/ui/today/Today.tsx';
import { settingOf } from '../engine/fixture.ts';
import { smallProtocol } from '../protocol/edit-support.ts';
import { fakeSession, show } from './fake-session.tsx';

const protocol = smallProtocol();
const { spec } = settingOf(protocol, ['11']);
const entry = {
  protocol,
  hash: 'h',
  approval: { hash: 'h', by: 'Lead', onWallMs: 0 },
  origin: 'own',
} as const;

const told = (place: string, title: string) => ({ place, title, reason: `Because of ${title}.` });
const unanswered = {
  template: 't',
  corrections: [
    told('steps/etch/action.maxMs', 'Etch'),
    told('steps/clean/added', 'Clean'),
    told('steps/rinse/action.targetMs', 'Rinse'),
    told('windows/wet/maxMs', 'Wet'),
  ],
};

const NAMES = 'Etch: limit, Step Clean added and 2 more';

function shown(o: { readonly isOpen: boolean }) {
  const corrections = o.isOpen
    ? [{ protocol: protocol.id, title: protocol.title, unanswered }]
    : [];
  const session = fakeSession({ prepared: [spec], protocols: [entry], corrections });
  session.openCase.mockImplementation(async ({ mode, allTheSame }) =>
    o.isOpen && mode === 'patient' && allTheSame !== true
      ? err({ code: 'corrections-open', unanswered })
      : ok('case-1'),
  );
  return { session, ...show(<Today />, { session, path: '/' }) };
}

const press = (name: string) => screen.findByRole('button', { name });

describe('Today', () => {
  it('says before anybody begins what the new template corrects, and leads to the desk', async () => {
    const user = userEvent.setup();
    const { where } = shown({ isOpen: true });
    const notice = await screen.findByText(
      `The new template corrects 4 things that could hurt: ${protocol.title}`,
    );
    const banner = notice.closest<HTMLElement>('[role="status"]');
    expect(banner).toHaveTextContent(`${NAMES}. The clinic lead has not answered yet.`);
    await user.click(within(banner ?? document.body).getByRole('link'));
    expect(where()).toBe(`/lead/corrections/${protocol.id}`);
  });

  it('is silent where everything was answered', async () => {
    const user = userEvent.setup();
    const { where } = shown({ isOpen: false });
    await user.click(await press(`Begin ${spec.title}`));
    expect(screen.queryByText(/new template/)).toBeNull();
    expect(where()).toBe('/chair');
  });

  it('names at the first press what is open, each with its reason, and both ways on', async () => {
    const user = userEvent.setup();
    const { session, where } = shown({ isOpen: true });
    await user.click(await press(`Begin ${spec.title}`));
    const alert = await screen.findByRole('alert');
    expect(alert).toHaveTextContent(
      `The clinic lead has not answered what the new template corrects: ${NAMES}.`,
    );
    expect(
      within(alert)
        .getAllByRole('listitem')
        .map((li) => li.textContent),
    ).toEqual([
      'Etch: limit. Because of Etch.',
      'Step Clean added. Because of Clean.',
      'Rinse: target. Because of Rinse.',
      'Wet: limit. Because of Wet.',
    ]);
    expect(where()).toBe('/');
    await user.click(within(alert).getByRole('button', { name: /^Begin .* all the same$/ }));
    expect(session.openCase).toHaveBeenLastCalledWith(
      expect.objectContaining({ mode: 'patient', allTheSame: true }),
    );
    expect(where()).toBe('/chair');
  });

  it('leads from there to the answers of this protocol', async () => {
    const user = userEvent.setup();
    const { where } = shown({ isOpen: true });
    await user.click(await press(`Begin ${spec.title}`));
    const alert = await screen.findByRole('alert');
    await user.click(within(alert).getByRole('button', { name: 'To the lead’s desk' }));
    expect(where()).toBe(`/lead/corrections/${spec.protocol}`);
  });
});
