/** The windows of a record with the margin of each subject, in words. Pure. */
import type { WindowFact } from '../../../export/record-types.ts';
import { windowAsks } from '../../../words/protocol-words.ts';
import { subjectLabel } from '../../../words/subject-words.ts';
import { marginWords, type RecordFrame } from './record-frame.ts';

interface WindowMargin {
  readonly id: string;
  /** "12"; empty for the case. */
  readonly subject: string;
  /** "+2 min 5 s"; empty while it is open. */
  readonly margin: string;
  readonly state: WindowFact['state'];
}

export interface WindowLine {
  readonly id: string;
  readonly title: string;
  readonly limit: string;
  readonly margins: readonly WindowMargin[];
  /** The smallest margin of all, in words; undefined while none was closed. */
  readonly tightest: string | undefined;
}

/** Smallest distance to a limit, negative outside; null while it is open. */
function marginMs(fact: WindowFact): number | null {
  if (fact.closed === null) return null;
  const { marginOverMinMs, marginToMaxMs } = fact;
  return Math.min(marginOverMinMs ?? Infinity, marginToMaxMs ?? Infinity);
}

function margin(frame: RecordFrame, fact: WindowFact): WindowMargin {
  const ms = marginMs(fact);
  return {
    id: `${fact.from}>${fact.to}`,
    subject: subjectLabel(fact.subject, frame.scene.spec),
    margin: ms === null ? '' : marginWords(ms),
    state: fact.state,
  };
}

/** Every window that was opened, in the order of the protocol. */
export function recordWindows(frame: RecordFrame): WindowLine[] {
  return frame.scene.protocol.windows.flatMap((window) => {
    const own = frame.facts.windows.filter((w) => w.window === window.id);
    if (own.length === 0) return [];
    const closed = own.flatMap((w) => marginMs(w) ?? []);
    return [
      {
        id: window.id,
        title: window.title,
        limit: windowAsks(window),
        margins: own.map((w) => margin(frame, w)),
        tightest: closed.length === 0 ? undefined : marginWords(Math.min(...closed)),
      },
    ];
  });
}
