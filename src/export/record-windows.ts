/**
 * The windows of a record with their margins: shortest possible time less the minimum, maximum less
 * the longest possible time, in milliseconds; negative is outside.
 */
import { compareHi, elapsed } from '../engine/axis.ts';
import { edgeInstant } from '../engine/edge-instant.ts';
import type { WindowPair } from '../engine/layout.ts';
import type { Elapsed } from '../engine/types.ts';
import { windowMaxMs } from '../engine/window-bounds.ts';
import { instantFact, knownMs, lengthFact, type RecordFrame } from './record-frame.ts';
import type { WindowFact } from './record-types.ts';

function margins(
  limits: { readonly minMs: number | undefined; readonly maxMs: number | undefined },
  took: Elapsed | null,
) {
  const { minMs, maxMs } = limits;
  return {
    marginOverMinMs: took && minMs !== undefined ? took.loMs - minMs : null,
    marginToMaxMs: took && maxMs !== undefined ? knownMs(maxMs - took.hiMs) : null,
  };
}

/** Kept, or not, by every time of the interval; judged by the length itself: an end may be infinite. */
function stateOf(
  { minMs, maxMs }: { readonly minMs: number | undefined; readonly maxMs: number | undefined },
  took: Elapsed | null,
): WindowFact['state'] {
  if (took === null) return 'open';
  const { loMs, hiMs } = took;
  const [leastMs, mostMs] = [minMs ?? 0, maxMs ?? Number.POSITIVE_INFINITY];
  if (loMs > mostMs || hiMs < leastMs) return 'broken';
  return hiMs > mostMs || loMs < leastMs ? 'may-be-broken' : 'kept';
}

/**
 * Where the window was opened and closed. It counts from the run that stands, or, where that came after it was closed,
 * from the one before it that no longer counts: cement that was mixed anew for the others did not hold this unit. Where
 * there is none, what was closed was never open, and what was opened since is open still.
 */
function edgesOf({ state }: RecordFrame, { window, from, to }: WindowPair) {
  const opened = edgeInstant(state.runs[from], window.from.edge);
  const closed = edgeInstant(state.runs[to], window.to.edge);
  if (opened === null || closed === null || compareHi(opened, closed) <= 0) {
    return { opened, closed };
  }
  const earlier = state.voided.flatMap(({ key, run }) => {
    const at = key === from ? edgeInstant(run, window.from.edge) : null;
    return at !== null && compareHi(at, closed) <= 0 ? [at] : [];
  });
  const last = earlier.at(-1);
  return last === undefined ? { opened, closed: null } : { opened: last, closed };
}

function windowFact(frame: RecordFrame, pair: WindowPair): WindowFact[] {
  const { state } = frame;
  const { window, from, to, subject } = pair;
  const { opened, closed } = edgesOf(frame, pair);
  if (!opened) return [];
  const took = closed ? elapsed(opened, closed) : null;
  const maxMs = windowMaxMs(state, pair);
  const limits = { minMs: window.minMs?.value, maxMs };
  return [
    {
      window: window.id,
      title: window.title,
      protects: window.protects,
      severity: window.severity,
      subject,
      teeth: frame.teethOf(subject),
      from,
      to,
      opened: instantFact(frame, opened),
      closed: closed ? instantFact(frame, closed) : null,
      elapsed: took && lengthFact(took),
      minMs: window.minMs?.value ?? null,
      maxMs: window.maxMs?.value ?? null,
      judgedMaxMs: maxMs ?? null,
      ...margins(limits, took),
      state: stateOf(limits, took),
    },
  ];
}

/** Every window that was opened, in the order of the protocol. */
export function windowFacts(frame: RecordFrame): WindowFact[] {
  return frame.layout.windows.flatMap((pair) => windowFact(frame, pair));
}
