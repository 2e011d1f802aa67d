// @vitest-environment jsdom
// Screens by what a person finds on them: roles and names after the accessible name computation
// (W3C accname 1.2), as Testing Library implements it.
import { cleanup, screen, waitFor, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { describe, expect, it, vi } from 'vitest';
import { err, ok } from '../../src/base/result.ts';
import { monoMs, wallMs } from '../../src/base/units.ts';
import { refusal } from '../../src/engine/commands.ts';
import type { AppState } from '../../src/runtime/app-state.ts';
import { FarView } from '../../src/ui/chair/FarView.tsx';
import { Clinic } from '../../src/ui/clinic/Clinic.tsx';
import { ProtocolDetail } from '../../src/ui/protocols/ProtocolDetail.tsx';
import { Protocols } from '../../src/ui/protocols/Protocols.tsx';
import { Record } from '../../src/ui/record/page/Record.tsx';
import { SetUp } from '../../src/ui/set-up/SetUp.tsx';
import { Today } from '../../src/ui/today/Today.tsx';
import { Chair } from '../engine/chair.ts';
import { caseOf, ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, NOW_MS, show } from './fake-session.tsx';

// Names are computed over whole pages here, which jsdom is slow at on a busy machine.
vi.setConfig({ testTimeout: 20_000 });

const spec = { ...caseOf(['11', '21']), title: 'Two veneers' };
const entry = { protocol: ETCH_ROUND, hash: 'abcdef0123', approval: null, origin: 'own' as const };
const prepared: Partial<AppState> = { prepared: [spec], protocols: [entry] };

const open = (caseId: string, closedByPress: number | null): AppState['cases'][number] => ({
  caseId,
  title: 'Begun veneers',
  chartRef: 'SB-9',
  mode: 'patient',
  openedWallMs: wallMs(NOW_MS),
  lastStamp: { wallMs: wallMs(NOW_MS), monoMs: monoMs(0), runId: 'r' },
  closedByPress,
  entries: 4,
  head: 'h',
  lastEpoch: 1,
});

const etching = () =>
  new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows(`
    at 0 s  confirm ready case
    at 1 s  start etch 11
    at 13 s note stopped here
  `);

describe('Today', () => {
  it('begins a prepared case with one press and goes to the chair', async () => {
    const session = fakeSession(prepared);
    const { where } = show(<Today />, { session });
    await userEvent.click(await screen.findByRole('button', { name: 'Begin Two veneers' }));
    expect(session.openCase).toHaveBeenCalledWith({ spec, mode: 'patient', speed: 1 });
    await waitFor(() => expect(where()).toBe('/chair'));
  });

  it('rehearses at the chosen speed', async () => {
    const session = fakeSession(prepared);
    show(<Today />, { session });
    await userEvent.click(await screen.findByRole('radio', { name: '60×' }));
    await userEvent.click(screen.getByRole('button', { name: 'Rehearse Two veneers at 60×' }));
    expect(session.openCase).toHaveBeenCalledWith({ spec, mode: 'rehearsal', speed: 60 });
  });

  it('says in place why an unconfirmed protocol is refused, and leads to it', async () => {
    const session = fakeSession(prepared);
    session.openCase.mockResolvedValue(err(refusal('protocol-unconfirmed')));
    const { where } = show(<Today />, { session });
    await userEvent.click(await screen.findByRole('button', { name: 'Begin Two veneers' }));
    const card = screen.getByRole('listitem', { name: 'Two veneers' });
    expect(await within(card).findByRole('alert')).toHaveTextContent(/has not been confirmed/);
    await userEvent.click(within(card).getByRole('button', { name: 'Open the protocol' }));
    expect(where()).toBe('/protocols/tiny');
  });

  it('tells a window that only reads what to do', async () => {
    const session = fakeSession({ ...prepared, standing: 'reader' });
    const problem = { code: 'not-writer', place: 'window', expected: 'a writer', came: 'reader' };
    session.openCase.mockResolvedValue(err(problem));
    show(<Today />, { session });
    await userEvent.click(await screen.findByRole('button', { name: 'Begin Two veneers' }));
    expect(await screen.findByRole('alert')).toHaveTextContent(/Take over here/);
  });

  it('puts an unfinished case first and goes on with it', async () => {
    const session = fakeSession({ ...prepared, cases: [open('c-1', null), open('c-2', 7)] });
    const { where } = show(<Today />, { session });
    const region = await screen.findByRole('region', { name: 'Begun veneers' });
    await userEvent.click(within(region).getByRole('button', { name: /^Go on/ }));
    expect(session.resumeCase).toHaveBeenCalledWith('c-1');
    await waitFor(() => expect(where()).toBe('/chair'));
    expect(screen.getByRole('link', { name: /Begun veneers/ })).toHaveAttribute(
      'href',
      '/record/c-2',
    );
  });

  it('says what to do where nothing is prepared', async () => {
    show(<Today />, { session: fakeSession() });
    expect(await screen.findByText('No case is prepared')).toBeVisible();
    expect(screen.getAllByRole('button', { name: 'Set up a case' }).length).toBeGreaterThan(0);
  });
});

describe('Set-up', () => {
  it('keeps what was typed and says beside the field what is missing', async () => {
    const session = fakeSession({ protocols: [entry] });
    show(<SetUp id={undefined} />, { session });
    await userEvent.click(screen.getByRole('button', { name: /^Tooth 11/ }));
    await userEvent.type(screen.getByLabelText('Chart reference'), 'SB-7');
    await userEvent.type(screen.getByLabelText('Tip diameter'), 'nine');
    await userEvent.click(screen.getByRole('button', { name: 'Save this case' }));
    expect(session.saveCase).not.toHaveBeenCalled();
    expect(screen.getByLabelText('Tip diameter')).toHaveAccessibleDescription(
      /Enter a diameter from 1 to 20 mm/,
    );
    expect(screen.getByLabelText('Title')).toBeInvalid();
    expect(screen.getByLabelText('Chart reference')).toHaveValue('SB-7');
    expect(screen.getByRole('button', { name: /^Tooth 11/ })).toHaveAttribute(
      'aria-pressed',
      'true',
    );
    await userEvent.click(screen.getByRole('button', { name: 'Leave without saving' }));
  });

  it('presets no protocol, and asks for one', async () => {
    const session = fakeSession({ protocols: [entry] });
    show(<SetUp id={undefined} />, { session });
    expect(screen.getByLabelText('Protocol')).toHaveDisplayValue('Choose a protocol');
    await userEvent.click(screen.getByRole('button', { name: 'Save this case' }));
    expect(screen.getByLabelText('Protocol')).toHaveAccessibleDescription(
      /Needed before the case can be saved/,
    );
    await userEvent.selectOptions(screen.getByLabelText('Protocol'), 'tiny');
    expect(screen.queryByText('Choose a protocol')).toBeNull();
    await userEvent.click(screen.getByRole('button', { name: 'Leave without saving' }));
  });

  it('keeps no case whose light was measured on a day to come', async () => {
    const ahead = { ...spec, light: { ...spec.light, readOn: '2030-01-01' } };
    const session = fakeSession({ ...prepared, prepared: [ahead] });
    show(<SetUp id={spec.id} />, { session });
    await userEvent.click(screen.getByRole('button', { name: 'Save this case' }));
    expect(session.saveCase).not.toHaveBeenCalled();
    expect(screen.getByLabelText('Measured on')).toHaveAccessibleDescription(/This day is to come/);
    await userEvent.click(screen.getByRole('button', { name: 'Leave without saving' }));
  });

  it('changes the seating order and keeps the case', async () => {
    const session = fakeSession(prepared);
    const { where } = show(<SetUp id={spec.id} />, { session });
    await userEvent.click(screen.getByRole('button', { name: 'Seat 21 earlier' }));
    await userEvent.click(screen.getByRole('button', { name: 'Save this case' }));
    const kept = session.saveCase.mock.calls[0]?.[0];
    expect(kept?.units.map((u) => u.id)).toEqual(['21', '11']);
    await waitFor(() => expect(where()).toBe('/'));
  });

  it('says why a case does not fit its protocol, and keeps it only when somebody insists', async () => {
    const glass = { ...entry, protocol: { ...entry.protocol, materials: ['leucite'] } };
    const session = fakeSession({ ...prepared, protocols: [glass] });
    show(<SetUp id={spec.id} />, { session });
    for (const field of screen.getAllByLabelText('Material')) {
      await userEvent.selectOptions(field, 'zirconia');
    }
    await userEvent.click(screen.getByRole('button', { name: 'Save this case' }));
    expect(session.saveCase).not.toHaveBeenCalled();
    expect(
      screen.getByText(/^11 and 21 are zirconia\. The protocol is written for leucite/),
    ).toBeVisible();
    await userEvent.click(screen.getByRole('button', { name: 'Save anyway' }));
    await waitFor(() => expect(session.saveCase).toHaveBeenCalledOnce());
  });

  it('joins two teeth to a bridge with a pontic, shown on the arch and kept', async () => {
    const session = fakeSession(prepared);
    show(<SetUp id={spec.id} />, { session });
    await userEvent.click(screen.getByText('More for 11: light through it, bridge'));
    const unit = screen.getByRole('listitem', { name: 'Unit 11' });
    await userEvent.selectOptions(within(unit).getByLabelText('In one piece with'), '21');
    const bridge = screen.getByRole('listitem', { name: 'Unit 11–21' });
    const tooth = within(bridge).getByRole('group', { name: 'Tooth 21' });
    await userEvent.click(within(tooth).getByLabelText('Pontic'));
    expect(screen.getByRole('button', { name: /^Tooth 21.*pontic$/ })).toHaveAttribute(
      'aria-pressed',
      'true',
    );
    await userEvent.click(screen.getByRole('button', { name: 'Save this case' }));
    expect(screen.getByText('11 is a bridge. The protocol is written for veneers.')).toBeVisible();
    await userEvent.click(screen.getByRole('button', { name: 'Save anyway' }));
    await waitFor(() => expect(session.saveCase).toHaveBeenCalledOnce());
    const kept = session.saveCase.mock.calls[0]?.[0];
    expect(kept?.units).toEqual([
      expect.objectContaining({ teeth: ['11'], pontics: ['21'], restoration: 'bridge' }),
    ]);
  });

  it('keeps a draft through a look at another place', async () => {
    const session = fakeSession(prepared);
    show(<SetUp id={spec.id} />, { session });
    await userEvent.type(screen.getByLabelText('Note'), 'call first');
    cleanup();
    show(<SetUp id={spec.id} />, { session });
    expect(screen.getByLabelText('Note')).toHaveValue('call first');
    await userEvent.click(screen.getByRole('button', { name: 'Leave without saving' }));
  });

  it('asks for a chart reference, never for a name', () => {
    show(<SetUp id={undefined} />, { session: fakeSession({ protocols: [entry] }) });
    expect(screen.getByLabelText('Chart reference')).toHaveAccessibleDescription(
      /Never a patient’s name/,
    );
  });
});

describe('Protocols', () => {
  it('tells standing, revision and hash', () => {
    show(<Protocols />, { session: fakeSession(prepared) });
    expect(screen.getByRole('link', { name: 'Tiny' })).toHaveAttribute('href', '/protocols/tiny');
    expect(screen.getByText('Unconfirmed')).toBeVisible();
    expect(screen.getByText('Hash abcdef01')).toBeVisible();
  });

  it('shows every number of a step with where it is from', () => {
    show(<ProtocolDetail id="tiny" />, { session: fakeSession(prepared) });
    const table = screen.getByRole('table', { name: 'Numbers of Work' });
    const row = within(table).getByRole('row', { name: /^etch/ });
    expect(row).toHaveTextContent(/minimum15\s+sCommon practice, no source/u);
    expect(screen.getByText(/Nobody has confirmed the numbers/)).toBeVisible();
  });

  it('says where a protocol is in another language than the app, and nothing where it is not', () => {
    const german = { ...entry, protocol: { ...ETCH_ROUND, language: 'de' } };
    const words = /It is shown in its own language, German\./;
    for (const place of [<ProtocolDetail key="d" id="tiny" />, <SetUp key="s" id={spec.id} />]) {
      show(place, { session: fakeSession({ ...prepared, protocols: [german] }) });
      expect(screen.getByText(words)).toBeVisible();
      cleanup();
      show(place, { session: fakeSession({ ...prepared, protocols: [entry] }) });
      expect(screen.queryByText(/its own language/)).not.toBeInTheDocument();
      cleanup();
    }
  });

  it('says so when a protocol is gone', () => {
    show(<ProtocolDetail id="gone" />, { session: fakeSession(prepared) });
    expect(screen.getByText('This protocol is not on this tablet')).toBeVisible();
  });
});

describe('Clinic', () => {
  it('asks a person whether the test was heard, and what to do when not', async () => {
    const { tablet } = show(<Clinic />, { session: fakeSession() });
    await userEvent.click(screen.getByRole('button', { name: 'Play test sound' }));
    expect(tablet.soundTest).toHaveBeenCalledOnce();
    await userEvent.click(screen.getByRole('button', { name: 'Nobody' }));
    expect(screen.getByText(/Turn up the tablet’s own volume/)).toBeVisible();
  });

  it('keeps the size of the screen that a card gave', async () => {
    const session = fakeSession();
    show(<Clinic />, { session });
    await userEvent.click(screen.getByRole('button', { name: 'More Width of the outline' }));
    await userEvent.click(screen.getByRole('button', { name: 'The card fits' }));
    // From 445 px, the assumed 5.2 px/mm, one step of 10 px: 455 px over 85.60 mm (ISO/IEC 7810).
    expect(session.store.getState().settings.pxPerMm).toBeCloseTo(455 / 85.6, 2);
  });

  it('keeps a choice at once', async () => {
    const session = fakeSession();
    show(<Clinic />, { session });
    await userEvent.click(screen.getByRole('checkbox', { name: /Left-handed/ }));
    expect(session.store.getState().settings.leftHanded).toBe(true);
  });

  it('says that instructions for use and judgement govern', () => {
    show(<Clinic />, { session: fakeSession() });
    expect(screen.getByText(/Instructions for use and licensed judgement govern/)).toBeVisible();
  });
});

describe('Record', () => {
  const chair = () =>
    etching().rows(`
      at 14 s  start etch 21
      at 21 s  end etch 11
      at 50 s  end etch 21
    `);

  it('tells steps, bounds and the chain', async () => {
    const session = fakeSession({ cases: [open('c-1', null)] });
    const { log } = chair();
    session.readRecord.mockResolvedValue(
      ok({
        log,
        reading: {
          caseId: 'c-1',
          entries: [],
          apart: [],
          verdict: { goodCount: 6, firstBad: null },
        },
        anchor: null,
      }),
    );
    show(<Record caseId="c-1" />, { session });
    expect(await screen.findByRole('heading', { name: 'Tiny case' })).toBeVisible();
    expect(screen.getByText(/^21: etch, over the limit by 6\ss$/u)).toBeVisible();
    expect(screen.getByText('6 entries, each hash fits the next')).toBeVisible();
    expect(screen.getByText(/stopped here/)).toBeVisible();
    const steps = screen.getByRole('region', { name: 'Steps' });
    expect(within(steps).getByRole('row', { name: /^etch/ })).toHaveTextContent(/36\ss/u);
    expect(screen.getByRole('img', { name: /^Lanes for the people/ })).toBeVisible();
  });

  it('says of a case that is not there what became of it', async () => {
    const session = fakeSession();
    session.readRecord.mockResolvedValue(
      err({ code: 'no-such-case', place: 'case c-9', expected: 'a readable entry', came: 'none' }),
    );
    show(<Record caseId="c-9" />, { session });
    expect(await screen.findByText('It is no longer on this tablet.')).toBeVisible();
  });
});

describe('Far view', () => {
  it('shows the step, the tooth and the one clock', () => {
    show(<FarView />, { session: fakeSession({ running: runningOf(etching()) }) });
    // Begun at 1 s, looked at 13 s later than the opening: 12 of 20 s have passed.
    expect(screen.getByRole('timer')).toHaveAccessibleName(/0:08 to target/);
    expect(screen.getByRole('heading', { level: 1 })).toBeVisible();
    // Nothing of the case is pressed there; only the way to the emergency cards is on every screen.
    const buttons = screen.getAllByRole('button').map((button) => button.textContent);
    expect(buttons).toEqual(['Emergency']);
  });

  it('says when nobody vouches for the picture', () => {
    const running = runningOf(etching(), { isViewOnly: true, isStale: true });
    show(<FarView />, { session: fakeSession({ running, standing: 'reader' }) });
    expect(screen.getByRole('alert')).toHaveTextContent(/Not live/);
  });

  it('follows the open case in a window that only reads', () => {
    const session = fakeSession({ standing: 'reader', cases: [open('c-1', null)] });
    show(<FarView />, { session });
    expect(session.resumeCase).toHaveBeenCalledWith('c-1');
    expect(screen.getByText('No case is running')).toBeVisible();
  });

  it('never takes a case up by itself in the window that writes', () => {
    const session = fakeSession({ standing: 'writer', cases: [open('c-1', null)] });
    show(<FarView />, { session });
    expect(session.resumeCase).not.toHaveBeenCalled();
  });
});
