// @vitest-environment jsdom
// The line about sharing: nothing where a tablet is alone, one drawing a second at most where it is not.
import { act, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { NOT_SHARING } from '../../src/runtime/sharing/sharing-state.ts';
import { Frame } from '../../src/ui/shared/Frame.tsx';
import { SharingSpot } from '../../src/ui/shared/SharingSpot.tsx';
import { NOW_MS, show } from '../ui-screens/fake-session.tsx';
import { fakeSharing, sharingSession } from './fake-sharing.ts';
import { PAIRED } from './states.ts';

const SHARED = { ...PAIRED, sharedAtWallMs: NOW_MS - 3000 };
const DEMO = 'DEMO store: for trying, not for patients';

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
});

afterEach(() => {
  vi.useRealTimers();
});

it('is not there on a tablet that is alone', async () => {
  const session = sharingSession(fakeSharing(NOT_SHARING));
  show(
    <Frame place="clinic" title="Clinic">
      {null}
    </Frame>,
    { session },
  );
  await act(async () => undefined);
  expect(screen.queryByText(/shared/i)).toBeNull();
  expect(document.querySelector('.sharing-line')).toBeNull();
});

it('stands on every page, and says DEMO where the store is for trying', async () => {
  const session = sharingSession(fakeSharing({ ...SHARED, isDemo: true }));
  show(
    <Frame place="clinic" title="Clinic">
      {null}
    </Frame>,
    { session },
  );
  expect(await screen.findByText(/^Shared 3\ss ago$/)).toBeVisible();
  expect(screen.getByText(DEMO)).toBeVisible();
});

it('is drawn once a second at most, however often the state changes', async () => {
  const sharing = fakeSharing(SHARED);
  const session = sharingSession(sharing);
  show(<SharingSpot />, { session });
  const line = await screen.findByText(/^Shared 3/);
  let changes = 0;
  const watch = new MutationObserver((records) => {
    changes += records.length;
  });
  watch.observe(document.body, {
    subtree: true,
    childList: true,
    characterData: true,
    attributes: true,
  });
  for (let n = 0; n < 200; n += 1) {
    await act(async () => {
      sharing.state.setState({ catchUp: { done: n, of: 200 } });
      vi.advanceTimersByTime(5);
    });
  }
  await act(async () => undefined);
  // 200 changes within one second: the look at its end, which draws the words and their mark.
  expect(line).not.toHaveTextContent(/^Shared/);
  expect(document.body).toHaveTextContent(/Reading 199 of 200/);
  const drawn = changes;
  expect(drawn).toBeGreaterThan(0);
  expect(drawn).toBeLessThan(12);
  await act(async () => {
    vi.advanceTimersByTime(5000);
  });
  expect(changes).toBe(drawn);
  watch.disconnect();
});
