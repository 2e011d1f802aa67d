/** The windows of a record with the margin of each subject, in words. Pure. */
import type { WindowFact } from '../../../export/record-types.ts';
import { windowAsks } from '../../../words/protocol-words.ts';
import { recordWords } from '../../../words/record-words.ts';
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

/** Smallest distance to a limit, negative outside; null while it is open, and when nobody knows. */
function marginMs(fact: WindowFact): number | null {
  const { marginOverMinMs, marginToMaxMs, judgedMaxMs, closed } = fact;
  if (closed === null || (judgedMaxMs !== null && marginToMaxMs === null)) return null;
  return Math.min(marginOverMinMs ?? Infinity, marginToMaxMs ?? Infinity);
}

/** What of the interval is left in the worst case; a limit that may have been kept says so. */
function wordsOf(fact: WindowFact): string {
  const ms = marginMs(fact);
  if (ms === null) return fact.closed === null ? '' : recordWords.marginUnknown;
  const words = marginWords(ms);
  return fact.state === 'may-be-broken' ? recordWords.atWorst(words) : words;
}

function margin(frame: RecordFrame, fact: WindowFact): WindowMargin {
  return {
    id: `${fact.from}>${fact.to}`,
    subject: subjectLabel(fact.subject, frame.scene.spec),
    margin: wordsOf(fact),
    state: fact.state,
  };
}

/** Every window that was opened, in the order of the protocol. */
export function recordWindows(frame: RecordFrame): WindowLine[] {
  return frame.scene.protocol.windows.flatMap((window) => {
    const own = frame.facts.windows.filter((w) => w.window === window.id);
    if (own.length === 0) return [];
    const least = own
      .filter((w) => w.closed !== null)
      .toSorted((a, b) => (marginMs(a) ?? -Infinity) - (marginMs(b) ?? -Infinity))[0];
    return [
      {
        id: window.id,
        title: window.title,
        limit: windowAsks(window),
        margins: own.map((w) => margin(frame, w)),
        tightest: least && wordsOf(least),
      },
    ];
  });
}
