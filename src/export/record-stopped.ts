/** A visit that was stopped early, and changes of the numbering, as facts. */
import type { Recorded } from '../engine/types.ts';
import { instantFact, type RecordFrame } from './record-frame.ts';
import type { RecordFacts, StoppedFact } from './record-types.ts';

const counted = (frame: RecordFrame): readonly Recorded[] =>
  frame.source.log.records.filter((r) => frame.presses.counts(r.press));

/** Null for a visit that was not stopped, or of which the stop was taken back. */
export function stoppedFact(frame: RecordFrame): StoppedFact | null {
  const records = counted(frame);
  const stop = records.findLast((r) => r.event.type === 'visit-stopped');
  const at = stop && frame.moments.get(stop.press);
  if (stop?.event.type !== 'visit-stopped' || at === undefined) return null;
  const { reason, proposals } = stop.event;
  const titleOf = (id: string): string => frame.steps.get(id)?.title ?? id;
  return {
    reason,
    at: instantFact(frame, at),
    pressed: frame.presses.pressed(stop.press),
    left: records.flatMap(({ press, event }) =>
      press === stop.press && event.type === 'step-skipped'
        ? [{ step: event.step, title: titleOf(event.step), subjects: event.subjects }]
        : [],
    ),
    proposals: proposals.map(({ wayBack, subjects }) => {
      const own = frame.protocol.waysBack.find((w) => w.id === wayBack);
      return { wayBack, title: own?.title ?? wayBack, words: own?.proposal ?? '', subjects };
    }),
  };
}

export function numberingFacts(frame: RecordFrame): RecordFacts['numberings'] {
  return counted(frame).flatMap(({ event, press }) =>
    event.type === 'numbering-changed'
      ? [{ notation: event.notation, pressed: frame.presses.pressed(press) }]
      : [],
  );
}
