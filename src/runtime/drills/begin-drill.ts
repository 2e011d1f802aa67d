/**
 * The log with which a drill begins: entries that were played before people take over, with stamps moved so that
 * they end now, in one run of this page.
 */
import { monoMs, wallMs } from '../../base/units.ts';
import type { Drilled } from '../../engine/drilled-types.ts';
import type { CaseEvent, Recorded } from '../../engine/types.ts';

interface Moved {
  readonly records: readonly Recorded[];
  readonly drill: Drilled;
  /** Where and in which zone it is opened. */
  readonly place: { readonly zone: string; readonly tablet?: string };
  readonly runId: string;
  /** The wall clock at the instant at which people take over. */
  readonly nowWallMs: number;
}

/**
 * @param o.records of one run, whose monotonic readings tell how long after the opening each was made.
 * @returns the records up to `o.drill.beginsAtMs`; that instant is now, and its monotonic reading is that number.
 */
export function movedToNow(o: Moved): readonly Recorded[] {
  const openedMs = o.records[0]?.stamp.monoMs ?? 0;
  const { beginsAtMs } = o.drill;
  return o.records.flatMap((record): Recorded[] => {
    const atMs = record.stamp.monoMs - openedMs;
    if (atMs > beginsAtMs) return [];
    const stamp = {
      wallMs: wallMs(o.nowWallMs - beginsAtMs + atMs),
      monoMs: monoMs(atMs),
      runId: o.runId,
    };
    return [{ ...record, stamp, event: opened(record.event, o) }];
  });
}

function opened(event: CaseEvent, { drill, place }: Moved): CaseEvent {
  return event.type === 'case-opened' ? { ...event, ...place, drill } : event;
}

/** Whether all entries up to an instant were made in one run, so that their clocks compare. */
export function isOneRun(records: readonly Recorded[], untilMs: number): boolean {
  const first = records[0]?.stamp;
  if (first === undefined) return false;
  return records.every(({ stamp, event }) =>
    stamp.runId === first.runId
      ? stamp.monoMs - first.monoMs > untilMs || event.type !== 'gap-found'
      : stamp.wallMs - first.wallMs > untilMs,
  );
}
