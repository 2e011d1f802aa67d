// @vitest-environment jsdom
import { act, cleanup, screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import type { Protocol } from '../../src/protocol/types.ts';
import { LeadDesk } from '../../src/ui/lead/LeadDesk.tsx';
import { LEAD_PASSPHRASE } from '../fixtures/kept-files.ts';
import { type FakeSession, fakeSession, show } from '../ui-screens/fake-session.tsx';
import {
  confirmedProtocol,
  entryInForce,
  keptDevice,
  newTemplate,
  ROWS,
} from './corrections-support.ts';
import { openDesk, type TestDesk } from './lead-support.ts';
import { dialogsInJsdom, plain } from './show-desk.tsx';

vi.setConfig({ testTimeout: 60_000 });

beforeAll(dialogsInJsdom);

const PAGE = `/lead/corrections/${confirmedProtocol().id}`;

async function showOn(
  path: string,
  o: {
    readonly template?: Protocol;
    readonly corrections?: unknown;
    readonly device?: TestDesk['device'];
  } = {},
): Promise<TestDesk & { readonly where: () => string | undefined }> {
  const { template = newTemplate(), corrections = ROWS } = o;
  const test = await openDesk(o.device ?? (await keptDevice()), {
    templates: [template],
    corrections,
  });
  const opened = await test.desk.open(LEAD_PASSPHRASE);
  if (!opened.ok) throw new Error(opened.error.code);
  const lead = Promise.resolve(test.desk);
  const protocols = [await entryInForce(test.journal)];
  const session: FakeSession = { ...fakeSession({ protocols }), lead: () => lead } as FakeSession;
  let where: () => string | undefined = () => undefined;
  await act(async () => {
    where = show(<LeadDesk />, { session, path }).where;
  });
  return { ...test, where };
}

const rows = () => screen.getAllByRole('listitem').filter((li) => within(li).queryByRole('group'));
const rowOf = (what: string): HTMLElement => {
  const found = rows().find((li) => li.querySelector('strong')?.textContent === what);
  if (found === undefined) throw new Error(`no row ${what}`);
  return found;
};
const answer = (what: string, name: string) => within(rowOf(what)).getByRole('radio', { name });
const apply = () => screen.getByRole('button', { name: 'Save these answers' });

describe('the desk', () => {
  it('says beside the protocol how much is open, and leads there', async () => {
    const user = userEvent.setup();
    await showOn('/lead');
    expect(screen.getByText('3 open, 2 of them could hurt')).toBeVisible();
    await user.click(
      screen.getByRole('link', {
        name: `What the new template corrects in ${confirmedProtocol().title}`,
      }),
    );
    expect(screen.getByRole('heading', { level: 1 })).toHaveTextContent(
      `What the new template corrects: ${confirmedProtocol().title}`,
    );
  });

  it('says nothing where the template changed nothing', async () => {
    await showOn('/lead', { template: confirmedProtocol() });
    expect(screen.queryByText(/What the new template corrects/)).toBeNull();
  });

  it('says where the file of corrections is wrong', async () => {
    await showOn(PAGE, { corrections: [{ protocol: 'x' }] });
    expect(await screen.findByRole('alert')).toHaveTextContent(
      'corrections[0].place: expected a place such as',
    );
  });
});

describe('the page of a protocol', () => {
  it('lists what could hurt first, with both values, the reason and the source', async () => {
    await showOn(PAGE);
    const names = rows().map((li) => li.querySelector('strong')?.textContent);
    expect(names.slice(0, 3)).toEqual(['Step Look', 'Etch: limit', 'Etch: what to do']);
    const limit = plain(rowOf('Etch: limit').textContent);
    expect(limit).toContain('30 s');
    expect(limit).toContain('25 s');
    expect(limit).toContain('Longer acid harms the tooth.');
    expect(limit).toContain('Source: A journal 2020;1:2');
    expect(rowOf('Step Look')).toHaveTextContent('No source given');
    const hurting = screen.getByRole('heading', { name: 'Could hurt' }).closest('section');
    expect(hurting).toContainElement(rowOf('Etch: limit'));
    expect(hurting).not.toContainElement(rowOf('Etch: what to do'));
  });

  it('chooses nothing where the clinic has product instructions behind its number', async () => {
    await showOn(PAGE);
    expect(rowOf('Etch: limit')).toHaveTextContent('product instructions, which govern');
    expect(answer('Etch: limit', 'Later')).toBeChecked();
    expect(answer('Step Look', 'Take over')).toBeChecked();
    expect(rowOf('Step Look')).not.toHaveTextContent('which govern');
  });

  it('keeps ours only with a reason, and then says who kept it and why', async () => {
    const user = userEvent.setup();
    const test = await showOn(PAGE);
    await user.click(screen.getByRole('button', { name: 'Leave all for later' }));
    await user.click(apply());
    expect(screen.getByText(/^Nothing is chosen/)).toBeVisible();
    await user.click(answer('Etch: limit', 'Keep ours'));
    await user.click(apply());
    expect(screen.getByText('Say why for each that is kept.')).toBeVisible();
    expect(screen.getByRole('textbox', { name: 'Why ours is kept: Etch: limit' })).toHaveFocus();
    await user.type(
      screen.getByRole('textbox', { name: 'Why ours is kept: Etch: limit' }),
      'Our gel says 30 s.',
    );
    await user.click(apply());
    expect(
      await screen.findByText(/^Kept by Clinic lead C, .*: Our gel says 30 s\.$/),
    ).toBeVisible();
    expect(test.desk.state.getState().log.entries.at(-1)).toMatchObject({
      deed: 'correction-kept',
      values: { place: 'steps/etch/action.maxMs', title: 'Etch', reason: 'Our gel says 30 s.' },
    });
    expect(test.where()).toBe(PAGE);
  });

  it('takes over into the draft of the revision, and leads to it', async () => {
    const user = userEvent.setup();
    const test = await showOn(PAGE);
    await user.click(answer('Etch: limit', 'Take over'));
    await user.click(answer('Etch: what to do', 'Later'));
    expect(screen.getByText(/Take over: 2\. Keep: 0\. Later: 1\./)).toHaveTextContent(
      'Whatever else these need is taken over too; the draft lists it.',
    );
    await user.click(apply());
    const { drafts } = test.desk.state.getState();
    const draft = drafts.find((d) => d.start.revision === 2);
    expect(test.where()).toBe(`/lead/draft/${draft?.id}/effect`);
    const protocol = draft?.history.protocol;
    expect(protocol?.steps.map(({ id }) => id)).toContain('looked');
    expect(protocol?.steps.find(({ id }) => id === 'etch')?.action).toMatchObject({
      maxMs: { value: 25_000, basis: { kind: 'practice' } },
    });
  });

  it('says what lies in a draft already, and chooses it no second time', async () => {
    const user = userEvent.setup();
    const test = await showOn(PAGE);
    expect(rowOf('Step Look')).not.toHaveTextContent('Taken over in a draft');
    await user.click(apply());
    cleanup();
    await showOn(PAGE, { device: test.device });
    expect(rowOf('Step Look')).toHaveTextContent(
      'Taken over in a draft that is not confirmed yet.',
    );
    expect(answer('Step Look', 'Later')).toBeChecked();
    expect(rowOf('Etch: limit')).not.toHaveTextContent('Taken over in a draft');
  });

  it('leaves the other changes as they are until somebody takes them', async () => {
    const user = userEvent.setup();
    const test = await showOn(PAGE);
    await user.click(screen.getByText('2 other changes'));
    const seat = screen.getByRole('group', { name: /^Answer: Seat/ });
    expect(within(seat).getByRole('radio', { name: 'Leave' })).toBeChecked();
    await user.click(within(seat).getByRole('radio', { name: 'Take over' }));
    await user.click(apply());
    const draft = test.desk.state.getState().drafts.find((d) => d.start.revision === 2);
    const steps = draft?.history.protocol.steps;
    expect(steps?.find(({ id }) => id === 'seat')?.title).toBe('Seat unit');
  });
});
