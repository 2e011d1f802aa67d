/**
 * The longest time a window may last, as it stands now. The working time of a mix is narrowed by
 * its sample bead: a firm bead ends it, a stringy bead leaves half of what was left. The bead lies
 * at room temperature and the cement under a unit does not, so a bead never lengthens anything; the
 * half is common practice, no source. Times in ms.
 */
import type { Window } from '../protocol/types.ts';
import { elapsed, firstMs } from './axis.ts';
import { edgeInstant } from './edge-instant.ts';
import type { WindowPair } from './layout.ts';
import type { RunPlan } from './run-plan-types.ts';
import type { CaseState } from './types.ts';

/** Share of the remaining working time that a stringy bead leaves. Common practice, no source. */
const STRINGY_LEAVES_SHARE = 0.5;

/** The maximum as planned: the protocol's, or a shorter one where the room asks for it. */
export function plannedMaxMs(window: Window, plan: RunPlan): number | undefined {
  const maxMs = window.maxMs?.value;
  if (maxMs === undefined) return undefined;
  return Math.min(maxMs, plan.windowMaxMs?.[window.id] ?? maxMs);
}

/** The maximum of one window between two subjects; undefined when it has none. */
export function windowMaxMs(
  state: Pick<CaseState, 'beads' | 'runs' | 'plan'>,
  pair: WindowPair,
): number | undefined {
  const { window, from } = pair;
  const maxMs = plannedMaxMs(window, state.plan);
  if (maxMs === undefined || window.protects !== 'working') return maxMs;
  const beads = state.beads[from.slice(from.indexOf('@') + 1)] ?? [];
  const since = edgeInstant(state.runs[from], window.from.edge);
  if (!since || beads.length === 0) return maxMs;
  return beads.reduce((left, bead) => {
    const atMs = elapsed(since, bead.at).hiMs;
    // Both lie on one axis, so a gap before them widens both alike: their lower ends keep the order.
    const isOfAnother = bead.at.loMs < firstMs(since);
    if (isOfAnother || bead.found === 'soft' || atMs >= left) return left;
    return bead.found === 'firm' ? atMs : Math.round(atMs + (left - atMs) * STRINGY_LEAVES_SHARE);
  }, maxMs);
}
