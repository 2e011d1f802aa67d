/** What the list of cases needs, carried along entry by entry so that opening it replays nothing. */
import { assert } from '../base/assert.ts';
import type { CasePen, CaseSummary, JournalEntry } from './journal-types.ts';

/**
 * The summary after `entries`, which follow directly on `before` (null before the first entry).
 * A press that is taken back takes its closing of the case back with it.
 */
export function summarise(
  before: CaseSummary | null,
  entries: readonly JournalEntry[],
): CaseSummary {
  const summary = entries.reduce<CaseSummary | null>(addEntry, before);
  assert(summary !== null, 'a case has at least one entry');
  return summary;
}

function addEntry(before: CaseSummary | null, entry: JournalEntry): CaseSummary {
  const base = before ?? blank(entry);
  const pen = penAfter(base.pen, entry);
  return {
    ...base,
    ...(pen && { pen }),
    closedByPress: closedAfter(base.closedByPress, entry),
    lastStamp: entry.stamp,
    entries: entry.seq + 1,
    head: entry.hash,
    lastEpoch: Math.max(base.lastEpoch, entry.epoch),
  };
}

function penAfter(before: CasePen | undefined, { event }: JournalEntry): CasePen | undefined {
  switch (event.type) {
    case 'case-opened':
      return event.tablet === undefined ? undefined : { tablet: event.tablet };
    case 'pen-given': {
      const { tablet, name, to, toName } = event;
      return { tablet, name, given: { to, toName } };
    }
    case 'pen-taken':
      return { tablet: event.tablet, name: event.name };
    default:
      return before;
  }
}

function closedAfter(before: number | null, entry: JournalEntry): number | null {
  if (entry.event.type === 'case-closed') return entry.press;
  const takenBack = entry.event.type === 'press-retracted' && entry.event.press === before;
  return takenBack ? null : before;
}

function blank(first: JournalEntry): CaseSummary {
  const { event } = first;
  // A log that lost its opening entry is still listed, so that people can find and export it.
  const opened = event.type === 'case-opened' ? event : null;
  return {
    caseId: first.caseId,
    ...(opened === null ? {} : { specId: opened.spec.id }),
    title: opened?.spec.title ?? '',
    chartRef: opened?.spec.chartRef ?? '',
    mode: opened?.mode ?? 'patient',
    openedWallMs: first.stamp.wallMs,
    lastStamp: first.stamp,
    closedByPress: null,
    entries: 0,
    head: first.prev,
    lastEpoch: first.epoch,
  };
}
