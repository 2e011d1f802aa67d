// @vitest-environment jsdom
// A file that does not come must not empty the page.
import { render, screen } from '@testing-library/react';
import { lazy } from 'react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Held, Late } from '../../src/ui/parts/Late.tsx';

const Missing = lazy(() =>
  Promise.reject<{ default: () => null }>(
    new TypeError('Failed to fetch dynamically imported module'),
  ),
);
const Coming = lazy(async () => ({ default: () => <p>came</p> }));

describe('what comes late', () => {
  beforeEach(() => {
    // React says on the console what was caught.
    vi.spyOn(console, 'error').mockImplementation(() => undefined);
  });
  afterEach(() => {
    vi.restoreAllMocks();
  });

  it('shows what stands there meanwhile, and then itself', async () => {
    render(
      <Late fallback={<p>wait</p>}>
        <Coming />
      </Late>,
    );
    expect(await screen.findByText('came')).toBeVisible();
    expect(screen.queryByText('wait')).toBeNull();
  });

  it('leaves the rest of the page as it is where it does not come, and offers to load again', async () => {
    render(
      <main>
        <p>etch 12</p>
        <Late>
          <Missing />
        </Late>
      </main>,
    );
    expect(await screen.findByRole('alert')).toHaveTextContent('A part of this page is missing.');
    expect(screen.getByRole('button', { name: 'Load again' })).toBeVisible();
    expect(screen.getByText('etch 12')).toBeVisible();
  });

  it('keeps what waits together with it', async () => {
    render(
      <Late>
        <Coming />
        <Held>
          <Missing />
        </Held>
      </Late>,
    );
    expect(await screen.findByRole('alert')).toBeVisible();
    expect(screen.getByText('came')).toBeVisible();
  });

  it('says nothing of the next place', async () => {
    const page = (at: string) => (
      <Late at={at}>{at === '/missing' ? <Missing /> : <p>another place</p>}</Late>
    );
    const { rerender } = render(page('/missing'));
    expect(await screen.findByRole('alert')).toBeVisible();
    rerender(page('/other'));
    expect(await screen.findByText('another place')).toBeVisible();
    expect(screen.queryByRole('alert')).toBeNull();
  });
});
