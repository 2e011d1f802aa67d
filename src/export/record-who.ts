/**
 * Who did a step, as far as the case knows: the person who had the role that the protocol names, when it
 * was pressed. Who pressed is another fact and stands beside it.
 */
import { holderOf } from '../engine/duty.ts';
import type { StepRun } from '../engine/types.ts';
import type { Role, Step } from '../protocol/types.ts';
import type { Touch } from './press-log.ts';
import type { RecordFrame } from './record-frame.ts';
import type { DoneByFact, EdgeFact } from './record-types.ts';

/** The label of whoever had the role at a press; null when nobody can tell. */
function holderAt(frame: RecordFrame, role: Role, press: number): string | null {
  const { people } = frame.spec;
  const taken = frame.source.log.records.findLast(
    (r) =>
      r.press <= press &&
      r.event.type === 'role-taken' &&
      r.event.role === role &&
      frame.presses.counts(r.press),
  );
  const person = taken?.event.type === 'role-taken' ? taken.event.person : undefined;
  return holderOf({ role, people, taken: person })?.label ?? null;
}

/**
 * Null for a step that either may do, that was skipped, or that this case did not press: nobody is
 * named who may not have done it. Where the role changed hands in between, the role alone is named.
 */
export function doneByFact(
  frame: RecordFrame,
  o: {
    readonly step: Step | undefined;
    readonly run: StepRun;
    readonly touches: readonly Touch[];
  },
): DoneByFact | null {
  const role = o.step?.by;
  if (role === undefined || role === 'either' || o.run.status === 'skipped') return null;
  const labels = new Set(o.touches.map((t) => holderAt(frame, role, t.press)));
  const [only = null] = labels;
  return labels.size === 0 ? null : { label: labels.size === 1 ? only : null, role };
}

/** The labels of those who pressed a step, each once. */
export function pressedBy(step: {
  readonly by: string | null;
  readonly start: EdgeFact | null;
  readonly end: EdgeFact | null;
}): readonly string[] {
  const all = [step.by, step.start?.pressed?.by, step.end?.pressed?.by];
  return [...new Set(all.flatMap((label) => label ?? []))];
}
