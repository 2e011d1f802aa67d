// @vitest-environment jsdom
import { screen } from '@testing-library/react';
import { describe, expect, it } from 'vitest';
import { createStore } from 'zustand/vanilla';
import type { Protocol } from '../../src/protocol/types.ts';
import type { StockState } from '../../src/runtime/stock/stock.ts';
import type { Material } from '../../src/runtime/stock/stock-types.ts';
import { MaterialsAhead } from '../../src/ui/materials/stock/MaterialsAhead.tsx';
import { caseNamed, protocolNamed } from '../families/family-chair.ts';
import { fakeSession, show } from './fake-session.tsx';

const spec = caseNamed('four-veneers-universal');
const primer = { id: 'primer', materialClass: 'metal primer', label: 'Metal primer' };
const slots = [{ ...primer, refrigerated: false, optional: true }];
const box = (lot: string, more: Partial<Material> = {}): Material => ({
  ...{ id: lot, materialClass: 'metal primer', label: 'Primer', lot, refrigerated: false },
  ...more,
});
const recalled = box('R1', { recalled: { onWallMs: 1, reason: '' } });

function ahead(
  materials: readonly Material[],
  protocol = spec.protocol,
  needed: Protocol['slots'] = slots,
) {
  const { scheduledFor: _, ...undated } = spec;
  const known = { ...protocolNamed(spec.protocol), slots: needed };
  const entry = { protocol: known, hash: 'h', approval: null, origin: 'template' as const };
  const session = fakeSession({ prepared: [{ ...undated, protocol }], protocols: [entry] });
  const state = createStore<StockState>(() => ({
    ...session.stock.state.getState(),
    materials,
  }));
  show(<MaterialsAhead />, {
    session: { ...session, stock: { ...session.stock, state } },
  });
}

describe('a lot that will not do on the day of a case', () => {
  it('has another in its place only where one is left', () => {
    ahead([recalled]);
    expect(screen.getByText('Metal primer: optional, and no lot will do')).toBeVisible();
    expect(screen.queryByText(/another lot will do/)).toBeNull();
  });

  it('says so where one is left', () => {
    ahead([recalled, box('S2')]);
    expect(screen.getByText('Metal primer: another lot will do')).toBeVisible();
  });
});

describe('a prepared case whose protocol is not here', () => {
  it('says that what it needs cannot be told', () => {
    ahead([box('S2')], 'unknown');
    expect(screen.getByRole('link', { name: spec.title })).toBeVisible();
    expect(screen.getByText(/^Cannot be told/)).toBeVisible();
  });
});

describe('a case whose materials were never listed', () => {
  it('is folded away: what runs out stands before it', () => {
    const needed = { ...primer, refrigerated: false };
    ahead([box('S2', { materialClass: 'cement' })], spec.protocol, [needed]);
    expect(screen.getByText('Never listed: 1 case')).toBeVisible();
    expect(screen.getByText('Not on the list: Metal primer')).not.toBeVisible();
  });
});
