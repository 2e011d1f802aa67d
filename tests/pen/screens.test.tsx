/** A case of another tablet on the screens: in the lists, at the chair, in the record; and how it is given and taken. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { err, ok } from '../../src/base/result.ts';
import { replay } from '../../src/engine/log.ts';
import type { AppState, RunningCase } from '../../src/runtime/app-state.ts';
import { NOT_SHARING, type TabletRow } from '../../src/runtime/sharing/sharing-state.ts';
import type { CaseSummary } from '../../src/storage/journal-types.ts';
import { Chair as ChairScreen } from '../../src/ui/chair/Chair.tsx';
import { type PenModel, penModel } from '../../src/ui/shared/pen-model.ts';
import { Today } from '../../src/ui/today/Today.tsx';
import { Chair } from '../engine/chair.ts';
import { dwell, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, NOW_MS, show } from '../ui-screens/fake-session.tsx';

// jsdom draws a dialog, but knows no modal ones.
HTMLDialogElement.prototype.showModal = function showModal() {
  this.open = true;
};
HTMLDialogElement.prototype.close = function close() {
  this.open = false;
};

afterEach(cleanup);

const OWN = 'tablet-a';
const OTHER = 'tablet-b';

const row = (o: Partial<TabletRow> = {}): TabletRow => ({
  device: 'device-b',
  tablet: OTHER,
  name: 'Chair 2',
  isThis: false,
  standing: 'paired',
  lastContactWallMs: NOW_MS - 3000,
  owes: 0,
  runs: null,
  ...o,
});

const sharingWith = (...tablets: readonly TabletRow[]): AppState['sharing'] => ({
  ...NOT_SHARING,
  standing: 'paired',
  name: 'Chair 1',
  line: 'open',
  tablets,
});

const etch = protocolOf([step('etch', 'tooth', dwell(15, 20, 30))]);

/** A case that another tablet opened, as this one reads it along. */
function otherCase(prepare: (chair: Chair) => void = () => undefined): RunningCase {
  const chair = new Chair(settingOf(etch, ['11']));
  chair.log = replay(
    chair.log.records.map((r) =>
      r.event.type === 'case-opened' ? { ...r, event: { ...r.event, tablet: OTHER } } : r,
    ),
  );
  chair.rows('start etch 11').at(12_000);
  prepare(chair);
  return runningOf(chair, { isViewOnly: true, isStale: false });
}

const gives = (to: string | null) => (chair: Chair) => {
  const from = { tablet: OTHER, name: 'Chair 2' } as const;
  chair.do({ do: 'give-pen', ...from, to, toName: to === null ? '' : 'Chair 1' });
};

function atChair(running: RunningCase, tablets: readonly TabletRow[] = [row()]) {
  const session = {
    ...fakeSession({ running, sharing: sharingWith(...tablets) }),
    pens: { take: vi.fn(async () => ok(null)), give: vi.fn(async () => ok(null)) },
  };
  const { settings } = session.store.getState();
  session.store.setState({ settings: { ...settings, tablet: OWN } });
  show(<ChairScreen />, { session });
  return session;
}

describe('the chair of another tablet’s case', () => {
  it('names the tablet, and has no button that records', async () => {
    atChair(otherCase());
    expect(await screen.findByText('This case runs on Chair 2. Press there.')).toBeVisible();
    expect(screen.getByText(/^Last heard of 3.s ago.$/)).toBeVisible();
    expect(screen.queryByRole('button', { name: /^Rinse|etch|Undo|More|5 s ago/i })).toBeNull();
    expect(screen.queryByRole('button', { name: 'Take over here' })).toBeNull();
    for (const button of screen.getAllByRole('button')) expect(button).toBeEnabled();
  });

  it('says that the clocks stand still without a picture', async () => {
    atChair({ ...otherCase(), isStale: true });
    expect(await screen.findByText(/the clocks here stand still/)).toBeVisible();
  });

  it('is taken with one tap once it was given to this tablet', async () => {
    const session = atChair(otherCase(gives(OWN)));
    fireEvent.click(await screen.findByRole('button', { name: 'Take the case here' }));
    expect(session.pens.take).toHaveBeenCalledWith({ caseId: 'case-1' });
  });

  it('is not taken here where it was given to another that is heard of', async () => {
    const third = row({ device: 'device-c', tablet: 'tablet-c', name: 'Chair 3' });
    atChair(otherCase(gives('tablet-c')), [row(), third]);
    expect(
      await screen.findByText('Chair 2 gave this case up to Chair 3, which has not taken it yet.'),
    ).toBeVisible();
    expect(screen.queryByRole('button', { name: /Take/ })).toBeNull();
  });

  it('is taken over from a tablet that is silent only with a reason, after what may be missing was told', async () => {
    const session = atChair(otherCase(), [row({ lastContactWallMs: NOW_MS - 720_000 })]);
    fireEvent.click(await screen.findByRole('button', { name: 'Take over here' }));
    expect(screen.getByText(/the case gets two ends/)).toBeVisible();
    const take = screen.getByRole('button', { name: 'Take over' });
    expect(take).toBeDisabled();
    fireEvent.change(screen.getByLabelText('Why is it taken over?'), {
      target: { value: 'its battery is empty' },
    });
    fireEvent.click(take);
    expect(session.pens.take).toHaveBeenCalledWith({
      caseId: 'case-1',
      reason: 'its battery is empty',
    });
  });

  it('looks for a tablet that may not have been heard of yet, before it offers to take over', async () => {
    const looking = (agoMs: number, tablets: readonly TabletRow[]): PenModel =>
      penModel(otherCase(), {
        tablet: OWN,
        nowMs: NOW_MS,
        sharing: { ...sharingWith(...tablets), lookingSinceWallMs: NOW_MS - agoMs },
      });
    const unheard = row({ lastContactWallMs: null });
    const words = 'This case is with Chair 2. Looking for that tablet.';
    expect(looking(0, [unheard])).toMatchObject({ take: null, words, advice: '' });
    expect(looking(4000, [unheard])).toMatchObject({ take: null, words });
    // Two beats of two seconds have passed, and what they say would have been told.
    expect(looking(5000, [unheard])).toMatchObject({ take: 'with-reason' });
    // The screen was drawn last before the line opened.
    expect(looking(-900, [unheard])).toMatchObject({ take: null, words });
    // The tablet's own clock was put back meanwhile.
    expect(looking(-3_600_000, [unheard])).toMatchObject({ take: 'with-reason' });
    expect(looking(0, [row()])).toMatchObject({ words: 'This case runs on Chair 2. Press there.' });
  });

  it('says that the other tablet was put out, and is taken over at once then', async () => {
    const session = atChair(otherCase(), [row({ standing: 'put-out' })]);
    session.store.setState(({ sharing }) => ({
      sharing: { ...sharing, lookingSinceWallMs: NOW_MS },
    }));
    const words = 'This case is with Chair 2, which was put out of the clinic’s store.';
    expect(await screen.findByText(words)).toBeVisible();
    expect(screen.getByRole('button', { name: 'Take over here' })).toBeEnabled();
  });

  it('is not taken from a tablet that left and joined again: it is heard of by its new place', async () => {
    const before = row({
      device: OTHER,
      name: 'Chair 2',
      lastContactWallMs: null,
      isEarlier: true,
    });
    const { tablet: _, ...unheard } = before;
    atChair(otherCase(), [unheard, row({ device: 'zz' })]);
    expect(await screen.findByText('This case runs on Chair 2. Press there.')).toBeVisible();
    expect(screen.queryByRole('button', { name: 'Take over here' })).toBeNull();
  });

  it('says why it was not taken', async () => {
    const session = atChair(otherCase(gives(OWN)));
    const runs = { code: 'patient-runs', place: 'chair', expected: 'none', came: 'one' };
    session.pens.take.mockResolvedValueOnce(err(runs) as never);
    fireEvent.click(await screen.findByRole('button', { name: 'Take the case here' }));
    expect(await screen.findByText(/Another case runs on this tablet/)).toBeVisible();
  });
});

describe('the running case', () => {
  const own = () => {
    const chair = new Chair(settingOf(etch, ['11']));
    chair.rows('start etch 11').at(5000);
    return runningOf(chair);
  };

  it('is given up with two taps, to a tablet by name', async () => {
    const running = { ...own() };
    const { opened } = running.log.state;
    const state = { ...running.log.state, opened: { ...opened, mode: 'patient' as const } };
    const session = atChair({ ...running, log: { ...running.log, state } });
    fireEvent.click(await screen.findByRole('button', { name: 'More' }));
    fireEvent.click(await screen.findByRole('button', { name: 'Give to another tablet' }));
    fireEvent.click(await screen.findByLabelText(/^Chair 2, heard 3.s ago$/));
    fireEvent.click(screen.getByRole('button', { name: 'Give it to Chair 2' }));
    await vi.waitFor(() =>
      expect(session.pens.give).toHaveBeenCalledWith({ tablet: OTHER, name: 'Chair 2' }),
    );
  });

  it('is not offered to others on a tablet that is alone', async () => {
    atChair(own(), []);
    fireEvent.click(await screen.findByRole('button', { name: 'More' }));
    await screen.findByRole('button', { name: 'Leave the chair' });
    expect(screen.queryByRole('button', { name: 'Give to another tablet' })).toBeNull();
  });

  it('tells of a second end, and goes on', async () => {
    const session = atChair(own());
    const end = { caseId: 'case-1', tablet: OTHER, name: 'Chair 2', presses: 2, hasPen: true };
    session.store.setState({ secondEnds: [end] });
    expect(await screen.findByText('This case has two ends.')).toBeVisible();
    expect(screen.getByText(/^Chair 2 took the case over and goes on with it/)).toBeVisible();
    expect(screen.getByRole('button', { name: 'More' })).toBeEnabled();
  });
});

describe('Today', () => {
  const summary = (o: Partial<CaseSummary>): CaseSummary => ({
    caseId: 'c-1',
    title: 'Two veneers',
    chartRef: 'SB-1',
    mode: 'patient',
    openedWallMs: NOW_MS as CaseSummary['openedWallMs'],
    lastStamp: { wallMs: NOW_MS, monoMs: 0, runId: 'r' } as CaseSummary['lastStamp'],
    closedByPress: null,
    entries: 3,
    head: 'h',
    lastEpoch: 1,
    ...o,
  });

  function atToday(pen: CaseSummary['pen'], sharing = sharingWith(row())) {
    const cases = [summary(pen === undefined ? {} : { pen })];
    const session = {
      ...fakeSession({ cases, sharing }),
      pens: { take: vi.fn(async () => ok(null)) },
    };
    const { settings } = session.store.getState();
    session.store.setState({ settings: { ...settings, tablet: OWN } });
    show(<Today />, { session });
    return session;
  }

  it('says on which tablet a case runs, and offers to look on instead of to go on', async () => {
    const runs = { caseId: 'c-1', title: 'Two veneers, SB-1' };
    const session = atToday({ tablet: OTHER }, sharingWith(row({ runs })));
    expect(await screen.findByText(/Runs on Chair 2 \(heard 3.s ago\)/)).toBeVisible();
    expect(screen.queryByRole('button', { name: /^Go on/ })).toBeNull();
    fireEvent.click(screen.getByRole('button', { name: 'Look on at Two veneers' }));
    expect(session.resumeCase).toHaveBeenCalledWith('c-1');
  });

  it('takes one that was given up for whoever takes it', async () => {
    const session = atToday({ tablet: OTHER, given: { to: null, toName: '' } });
    fireEvent.click(await screen.findByRole('button', { name: 'Take Two veneers here' }));
    expect(session.pens.take).toHaveBeenCalledWith({ caseId: 'c-1' });
  });

  it('goes on with its own, and with what a file brought to a tablet that is alone', async () => {
    atToday({ tablet: OTHER }, NOT_SHARING);
    expect(await screen.findByRole('button', { name: /^Go on with/ })).toBeVisible();
  });
});
