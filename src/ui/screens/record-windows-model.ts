/** The windows of a record with the margin of each subject. Pure. */
import { elapsed } from '../../engine/axis.ts';
import { edgeInstant } from '../../engine/edge-instant.ts';
import type { WindowPair } from '../../engine/layout.ts';
import type { Window } from '../../protocol/types.ts';
import { subjectLabel } from '../words/subject-words.ts';
import { windowAsks } from './protocol-model.ts';
import { marginWords, type RecordFrame } from './record-frame.ts';

export interface WindowMargin {
  readonly id: string;
  /** "12"; empty for the case. */
  readonly subject: string;
  /** "+2 min 5 s"; empty while it is open. */
  readonly margin: string;
  readonly state: 'kept' | 'broken' | 'open';
}

export interface WindowLine {
  readonly id: string;
  readonly title: string;
  readonly limit: string;
  readonly margins: readonly WindowMargin[];
  /** The smallest margin of all, in words; undefined while none was closed. */
  readonly tightest: string | undefined;
}

interface Judged extends WindowMargin {
  readonly marginMs: number | null;
}

/** Smallest distance to a bound; negative outside. Minimum by the low end, maximum by the high. */
function marginMs(window: Window, took: { loMs: number; hiMs: number }): number {
  const toMax = window.maxMs ? window.maxMs.value - took.hiMs : Number.POSITIVE_INFINITY;
  const toMin = window.minMs ? took.loMs - window.minMs.value : Number.POSITIVE_INFINITY;
  return Math.min(toMax, toMin);
}

function judge(frame: RecordFrame, pair: WindowPair): Judged | null {
  const { state, scene } = frame;
  const from = edgeInstant(state.runs[pair.from], pair.window.from.edge);
  if (!from) return null;
  const to = edgeInstant(state.runs[pair.to], pair.window.to.edge);
  const base = { id: `${pair.from}>${pair.to}`, subject: subjectLabel(pair.subject, scene.spec) };
  if (!to) return { ...base, margin: '', state: 'open', marginMs: null };
  const ms = marginMs(pair.window, elapsed(from, to));
  const isBroken = ms < 0;
  return {
    ...base,
    margin: marginWords(ms),
    state: isBroken ? 'broken' : 'kept',
    marginMs: ms,
  };
}

/** Every window that was opened, in the order of the protocol. */
export function recordWindows(frame: RecordFrame): WindowLine[] {
  return frame.scene.protocol.windows.flatMap((window) => {
    const judged = frame.layout.windows
      .filter((p) => p.window.id === window.id)
      .flatMap((p) => judge(frame, p) ?? []);
    if (judged.length === 0) return [];
    const closed = judged.flatMap((j) => (j.marginMs === null ? [] : [j.marginMs]));
    return [
      {
        id: window.id,
        title: window.title,
        limit: windowAsks(window),
        margins: judged.map(({ id, subject, margin, state }) => ({ id, subject, margin, state })),
        tightest: closed.length === 0 ? undefined : marginWords(Math.min(...closed)),
      },
    ];
  });
}
