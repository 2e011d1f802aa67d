// @vitest-environment jsdom
import { screen } from '@testing-library/react';
import { describe, expect, it } from 'vitest';
import { createStore } from 'zustand/vanilla';
import type { StockState } from '../../src/runtime/stock/stock.ts';
import { MaterialsShelf } from '../../src/ui/shared/MaterialsShelf.tsx';
import { fakeSession, show } from './fake-session.tsx';

const inDays = (days: number): string => new Date(Date.now() + days * 86_400_000).toISOString();
const slots = [{ id: 'gel', materialClass: 'acid gel', label: 'Gel', refrigerated: true }];

function shelf(scheduledFor?: string) {
  const session = fakeSession();
  const state = createStore<StockState>(() => ({
    ...session.stock.state.getState(),
    materials: [
      {
        ...{ id: 'm', materialClass: 'acid gel', label: 'Gel', lot: 'L1', refrigerated: true },
        expiry: inDays(3).slice(0, 10),
      },
    ],
  }));
  show(<MaterialsShelf protocol={{ slots }} scheduledFor={scheduledFor} />, {
    session: { ...session, stock: { ...session.stock, state } },
  });
}

describe('the shelf while a case is planned', () => {
  it('is judged by the day of the case, and not by how cold it is today', () => {
    shelf(inDays(9));
    expect(screen.getByText(/^Use by .+, before the day of the case$/)).toBeVisible();
    expect(screen.queryByText(/^Expired/)).toBeNull();
    expect(screen.queryByText(/refrigerator/)).toBeNull();
  });

  it('is judged as of now where the case has no day', () => {
    shelf();
    expect(screen.queryByText(/^Expired/)).toBeNull();
    expect(screen.getByText('Not entered as taken out of the refrigerator')).toBeVisible();
  });
});
