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

/** A breach that the other end of what is known does not bear out. */
const perhaps = (isKept: boolean): Pick<Breach, 'perhaps'> => (isKept ? { perhaps: true } : {});

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
    found.push({ ...base, kind: 'short', by: min - took.loMs, ...perhaps(took.hiMs >= min) });
  }
  if (max !== undefined && took.hiMs > max) {
    found.push({ ...base, kind: 'over', by: took.hiMs - max, ...perhaps(took.loMs <= max) });
  }
  return found;
}

/** A time between two things on one subject that was shorter than its least; the n-th of this press. */
export function shortOf(
  state: CaseState,
  o: {
    readonly kind: 'gap-short' | 'rest-short';
    readonly instance: Instance;
    readonly at: CaseInstant;
    readonly press: number;
    readonly minMs: number;
    readonly took: { readonly loMs: number; readonly hiMs: number };
  },
): Breach[] {
  const { kind, instance, at, press, minMs, took } = o;
  if (took.loMs >= minMs) return [];
  const [of, subject] = [instance.step.id, instance.subject];
  const before = state.breaches.filter(
    (b) => b.press === press && b.kind === kind && b.of === of && b.subject === subject,
  ).length;
  const nth = before === 0 ? {} : { nth: before + 1 };
  const by = minMs - took.loMs;
  const isPerhaps = took.hiMs >= minMs;
  return [{ kind, of, what: 'step', subject, by, ...perhaps(isPerhaps), at, press, ...nth }];
}

/** The breach of the gap between a coat and the one before it. */
export function gapBreaches(
  state: CaseState,
  o: {
    readonly instance: Instance;
    readonly before: CaseInstant | undefined;
    readonly at: CaseInstant;
    readonly press: number;
  },
): Breach[] {
  const { instance, before, at, press } = o;
  const { action } = instance.step;
  if (action.kind !== 'coats' || before === undefined) return [];
  const minMs = action.gapMsMin?.value ?? 0;
  return shortOf(state, {
    ...{ kind: 'gap-short', instance, at, press, minMs },
    took: elapsed(before, at),
  });
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
      found.push({ ...base, kind: 'early', by: min - took.loMs, ...perhaps(took.hiMs >= min) });
    }
    if (max !== undefined && took.hiMs > max) {
      found.push({ ...base, kind: 'late', by: took.hiMs - max, ...perhaps(took.loMs <= max) });
    }
    return found;
  });
}
