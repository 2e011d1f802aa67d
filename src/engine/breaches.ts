/**
 * Compares what happened with the bounds: dwells with their minimum and maximum, windows with
 * theirs. A minimum is judged met by the shortest possible elapsed time, a maximum kept by the
 * longest. Times in milliseconds.
 */
import { elapsed } from './axis.ts';
import { edgeInstant } from './edge-instant.ts';
import type { Instance, Layout } from './layout.ts';
import type { Breach, CaseInstant, CaseState, StepRun } from './types.ts';
import { windowMaxMs } from './window-bounds.ts';

interface Ended {
  readonly instance: Instance;
  readonly run: StepRun;
  readonly press: number;
}

/** Breaches of a dwell's own bounds, at the moment it ended. */
export function dwellBreaches({ instance, run, press }: Ended): Breach[] {
  const { action } = instance.step;
  if (action.kind !== 'dwell' || !run.startedAt || !run.endedAt) return [];
  const took = elapsed(run.startedAt, run.endedAt);
  const base = {
    of: instance.step.id,
    what: 'step',
    subject: instance.subject,
    at: run.endedAt,
    press,
  } as const;
  const found: Breach[] = [];
  const min = action.minMs?.value;
  const max = action.maxMs?.value;
  if (min !== undefined && took.loMs < min) {
    found.push({ ...base, kind: 'short', by: min - took.loMs });
  }
  if (max !== undefined && took.hiMs > max) {
    found.push({ ...base, kind: 'over', by: took.hiMs - max });
  }
  return found;
}

/** Breaches of the windows that close with this edge of this instance. */
export function windowBreaches(o: {
  readonly state: CaseState;
  readonly layout: Layout;
  readonly instance: Instance;
  readonly edge: 'start' | 'end';
  readonly at: CaseInstant;
  readonly press: number;
}): Breach[] {
  const pairs = o.layout.windowsTo.get(o.instance.key) ?? [];
  return pairs.flatMap((pair) => {
    if (pair.window.to.edge !== o.edge) return [];
    const from = edgeInstant(o.state.runs[pair.from], pair.window.from.edge);
    if (!from) return [];
    const took = elapsed(from, o.at);
    const base = {
      of: pair.window.id,
      what: 'window',
      subject: pair.subject,
      at: o.at,
      press: o.press,
    } as const;
    const min = pair.window.minMs?.value;
    const max = windowMaxMs(o.state, pair);
    const found: Breach[] = [];
    if (min !== undefined && took.loMs < min) {
      found.push({ ...base, kind: 'early', by: min - took.loMs });
    }
    if (max !== undefined && took.hiMs > max) {
      found.push({ ...base, kind: 'late', by: took.hiMs - max });
    }
    return found;
  });
}
