// @vitest-environment jsdom
// The far view of a tablet that runs nothing: which tablet of the clinic is followed there.
import { act, screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { describe, expect, it } from 'vitest';
import { DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import { NOT_SHARING, type TabletRow } from '../../src/runtime/sharing/sharing-state.ts';
import { FarView } from '../../src/ui/chair/FarView.tsx';
import { farViewWords } from '../../src/words/far-view-words.ts';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, NOW_MS, show } from '../ui-screens/fake-session.tsx';

const row = (device: string, more: Partial<TabletRow> = {}): TabletRow => ({
  device,
  name: device,
  isThis: false,
  standing: 'paired',
  lastContactWallMs: NOW_MS - 1000,
  owes: 0,
  runs: null,
  ...more,
});

const runs = { caseId: 'case-1', title: 'Upper six, SB-0422' };
const clinic = (tablets: readonly TabletRow[]) => ({
  ...NOT_SHARING,
  standing: 'paired' as const,
  line: 'open' as const,
  tablets: [row('Wall', { isThis: true }), ...tablets],
});

const etching = () => {
  const chair = new Chair(settingOf(ETCH_ROUND, ['11', '21'])).rows('at 0 s confirm ready case');
  return runningOf(chair, { isViewOnly: true });
};
const following = { ...DEFAULT_SETTINGS, farViewOf: 'Chair 1' };

describe('the far view of a tablet on which no case runs', () => {
  it('asks which tablet to follow, with what runs there, and remembers it', async () => {
    const tablets = [
      row('Chair 2', { lastContactWallMs: null }),
      row('Chair 1', { runs }),
      row('Chair 3'),
      row('Lost one', { standing: 'put-out' }),
    ];
    const session = fakeSession({ sharing: clinic(tablets) });
    show(<FarView />, { session });
    const offered = screen.getAllByRole('listitem').map((each) => each.textContent);
    expect(offered).toEqual([
      `Chair 1 ${runs.title}`,
      `Chair 2 ${farViewWords.unheard}`,
      `Chair 3 ${farViewWords.runsNone}`,
    ]);
    await userEvent.click(screen.getByRole('button', { name: /Chair 1/ }));
    expect(session.saveSettings).toHaveBeenCalledWith(
      expect.objectContaining({ farViewOf: 'Chair 1' }),
    );
    expect(session.follow).toHaveBeenCalledWith({ device: 'Chair 1', caseId: 'case-1' });
  });

  it('waits for a case on the tablet that was chosen, and follows it when it begins', () => {
    const session = fakeSession({ sharing: clinic([row('Chair 1')]), settings: following });
    show(<FarView />, { session });
    expect(screen.getByText(farViewWords.waits('Chair 1'))).toBeVisible();
    expect(session.follow).not.toHaveBeenCalled();
    act(() => session.store.setState({ sharing: clinic([row('Chair 1', { runs })]) }));
    expect(session.follow).toHaveBeenCalledOnce();
  });

  it('says whose picture it is, and whose screen to look at when it is not live', async () => {
    const sharing = clinic([row('Chair 1', { runs })]);
    const running = { ...etching(), isStale: true };
    const session = fakeSession({ sharing, settings: following, running });
    show(<FarView />, { session });
    expect(screen.getByRole('alert')).toHaveTextContent(farViewWords.farStaleTodo('Chair 1'));
    expect(screen.getByText(/From Chair 1/)).toBeVisible();
    await userEvent.click(screen.getByRole('button', { name: farViewWords.other }));
    expect(session.leaveCase).toHaveBeenCalled();
    expect(session.store.getState().settings.farViewOf).toBe('');
  });

  it('keeps the picture of a tablet that fell silent, and puts away that of one that left its case', () => {
    const silent = row('Chair 1', { lastContactWallMs: NOW_MS - 60_000 });
    const session = fakeSession({
      sharing: clinic([silent]),
      settings: following,
      running: { ...etching(), isStale: true },
    });
    show(<FarView />, { session });
    expect(session.leaveCase).not.toHaveBeenCalled();
    act(() => session.store.setState({ sharing: clinic([row('Chair 1')]) }));
    expect(session.leaveCase).toHaveBeenCalledOnce();
  });

  it('shows its own case first', () => {
    const sharing = clinic([row('Chair 1', { runs: { caseId: 'case-2', title: 'Other' } })]);
    const running = { ...etching(), isViewOnly: false };
    const session = fakeSession({ sharing, settings: following, running });
    show(<FarView />, { session });
    expect(session.follow).not.toHaveBeenCalled();
    expect(screen.queryByText(/From Chair 1/)).toBeNull();
  });

  it('says nothing of other tablets where there are none', () => {
    show(<FarView />, { session: fakeSession() });
    expect(screen.getByText(farViewWords.empty)).toBeVisible();
  });
});
