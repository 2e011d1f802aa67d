/**
 * Which refrigerated materials a case has taken out already, and for how long they have been
 * warming, so that nobody is told to take out what stands on the tray. Times in ms on the case axis.
 */
import { elapsed } from '../engine/axis.ts';
import { edgeInstant } from '../engine/edge-instant.ts';
import { layoutOf } from '../engine/layout.ts';
import type { CaseInstant, CaseState, Elapsed } from '../engine/types.ts';
import type { MaterialSlot } from '../protocol/types.ts';
import { warmedBy } from './latest-starts.ts';

export interface MaterialOut {
  readonly slot: MaterialSlot;
  readonly elapsed: Elapsed;
  readonly warmUpMs: number;
}

/** The materials whose warm-up has begun, in the order of the protocol's slots. */
export function materialsOut(state: CaseState, now: CaseInstant): readonly MaterialOut[] {
  const { protocol, windows } = layoutOf(state);
  const out = windows.flatMap(({ window, from }) => {
    const since = edgeInstant(state.runs[from], window.from.edge);
    const warmUpMs = window.minMs?.value;
    if (window.protects !== 'warm' || warmUpMs === undefined || since === null) return [];
    const spent = elapsed(since, now);
    return warmedBy(window, protocol).map((slot) => ({ slot, elapsed: spent, warmUpMs }));
  });
  return protocol.slots.flatMap((slot) => {
    const own = out.filter((o) => o.slot.id === slot.id);
    return own.toSorted((a, b) => b.warmUpMs - a.warmUpMs).slice(0, 1);
  });
}

/** Whether one document's slot is the material that another one calls `label`. */
export function isSameMaterial(slot: MaterialSlot, label: string): boolean {
  return slot.label === label || (slot.standsFor?.includes(label) ?? false);
}
