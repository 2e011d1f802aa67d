/**
 * The windows of a record with their margins: shortest possible time less the minimum, maximum less
 * the longest possible time, in milliseconds; negative is outside.
 */
import { elapsed } from '../engine/axis.ts';
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

function windowFact(frame: RecordFrame, pair: WindowPair): WindowFact[] {
  const { state } = frame;
  const { window, from, to, subject } = pair;
  const opened = edgeInstant(state.runs[from], window.from.edge);
  if (!opened) return [];
  const closed = edgeInstant(state.runs[to], window.to.edge);
  const took = closed ? elapsed(opened, closed) : null;
  const maxMs = windowMaxMs(state, pair);
  const margin = margins({ minMs: window.minMs?.value, maxMs }, took);
  // Judged by the length itself: a margin that nobody knows is no margin that was kept.
  const isOver = took !== null && maxMs !== undefined && took.hiMs > maxMs;
  const isBroken = (margin.marginOverMinMs ?? 0) < 0 || isOver;
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
      ...margin,
      state: closed === null ? 'open' : isBroken ? 'broken' : 'kept',
    },
  ];
}

/** Every window that was opened, in the order of the protocol. */
export function windowFacts(frame: RecordFrame): WindowFact[] {
  return frame.layout.windows.flatMap((pair) => windowFact(frame, pair));
}
