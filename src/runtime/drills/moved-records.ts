/**
 * The log with which a drill begins: entries that were played before people take over, with stamps moved so that
 * they end now, in one run of this page.
 */
import { present } from '../../base/assert.ts';
import { monoMs, wallMs } from '../../base/units.ts';
import { byPress, stretchesOf } from '../../drill/cards.ts';
import type { Drilled } from '../../engine/drilled-types.ts';
import type { CaseEvent, Recorded, Stamp } from '../../engine/types.ts';

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
    return [stamped({ ...record, event: opened(record.event, o) }, stamp)];
  });
}

function opened(event: CaseEvent, { drill, place }: Moved): CaseEvent {
  return event.type === 'case-opened' ? { ...event, ...place, drill } : event;
}

/** What was a gap has no length any more; its entry stays, so that entries keep their numbers. */
function stamped(record: Recorded, stamp: Stamp): Recorded {
  const { event } = record;
  return event.type === 'gap-found'
    ? { ...record, stamp, event: { ...event, before: stamp, after: stamp } }
    : { ...record, stamp };
}

/**
 * The same entries as of one run of one page: each lies as early as it can have been, so that time in which nobody
 * watched, as while a page was loaded anew, has not passed.
 */
export function inOneRun(records: readonly Recorded[]): readonly Recorded[] {
  const first = present(records[0], 'an entry').stamp;
  const stretches = stretchesOf({ records });
  return byPress(records).flatMap((batch, i) => {
    const atMs = present(stretches[i], 'the state after a press').fromMs;
    const wall = wallMs(first.wallMs + atMs);
    const stamp = { wallMs: wall, monoMs: monoMs(atMs), runId: first.runId };
    return batch.map((record) => stamped(record, stamp));
  });
}

/** Whether one tablet alone made these entries: the clocks of another tell nothing of when it was. */
export const isOfOneTablet = (records: readonly Recorded[]): boolean =>
  records.every(({ event }) => event.type !== 'pen-taken');
