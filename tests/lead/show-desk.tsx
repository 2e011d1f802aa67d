/** Shows an open desk with one draft in jsdom. For tests only. */
import { act, screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import type { Protocol } from '../../src/protocol/types.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import { LeadDesk } from '../../src/ui/lead/LeadDesk.tsx';
import { type FakeSession, fakeSession, show } from '../ui-screens/fake-session.tsx';
import { openDesk, PASSPHRASE, PERSON, type TestDesk, template } from './lead-support.ts';

/** jsdom has the dialog element but not its modal behaviour. */
export function dialogsInJsdom(): void {
  HTMLDialogElement.prototype.showModal = function showModal(): void {
    this.open = true;
  };
  HTMLDialogElement.prototype.close = function close(): void {
    this.open = false;
    this.dispatchEvent(new Event('close'));
  };
}

/** Opens a group of the fields of the step in the sheet. */
export async function openSection(title: string): Promise<void> {
  const sheet = within(screen.getByRole('dialog'));
  await userEvent.setup().click(sheet.getByText(title, { selector: 'summary > span' }));
}

/** Text without the blanks that do not break. */
export function plain(text: string | null): string {
  return (text ?? '').replaceAll('\u00a0', ' ');
}

/** A draft of a protocol of this clinic, or of a file that holds it. */
async function begin(test: TestDesk, protocol: Protocol, origin: 'here' | 'import') {
  if (origin === 'here') return test.desk.beginDraft(protocol);
  const text = await test.desk.exportText(protocol);
  return text.ok ? test.desk.importText(text.value) : text;
}

export async function showDesk(
  path: (draft: string) => string,
  protocol: Protocol = template(),
  origin: 'here' | 'import' = 'here',
  templates: readonly Protocol[] = [template()],
): Promise<TestDesk> {
  const test = await openDesk(undefined, { templates });
  await test.desk.setPassphrase({ person: PERSON, passphrase: PASSPHRASE });
  const begun = await begin(test, protocol, origin);
  if (!begun.ok) throw new Error(begun.error.code);
  const entry = {
    protocol,
    hash: protocolHash(protocol),
    approval: null,
    origin: 'template',
  } as const;
  const lead = Promise.resolve(test.desk);
  const session = { ...fakeSession({ protocols: [entry] }), lead: () => lead };
  const fake: FakeSession = session;
  await act(async () => {
    show(<LeadDesk />, { session: fake, path: path(begun.value) });
  });
  return test;
}
