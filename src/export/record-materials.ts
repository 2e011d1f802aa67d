/** The slots of the protocol with the steps that used them, and the shades that were tried. */
import { instantFact, type RecordFrame } from './record-frame.ts';
import type { ShadeFact, SlotFact, StepFact, VoidedFact } from './record-types.ts';

/** Steps that used a slot, voided ones too: what was on the tooth was on the tooth. */
function usersOf(
  frame: RecordFrame,
  slot: string,
  steps: readonly (StepFact | VoidedFact)[],
): readonly (StepFact | VoidedFact)[] {
  return steps.filter(
    (s) => s.status !== 'skipped' && (frame.steps.get(s.step)?.uses?.includes(slot) ?? false),
  );
}

export function slotFacts(
  frame: RecordFrame,
  steps: readonly (StepFact | VoidedFact)[],
): SlotFact[] {
  return frame.protocol.slots.map(({ id, materialClass, label }) => ({
    slot: id,
    materialClass,
    label,
    usedFor: [...new Set(usersOf(frame, id, steps).map((s) => s.key))],
  }));
}

/** Shades that were tried, in order, with who judged them. */
export function shadeFacts(frame: RecordFrame): ShadeFact[] {
  return frame.state.shades.map(({ trial, at }) => ({
    subject: trial.subject,
    paste: trial.paste,
    modifier: trial.modifier ?? null,
    sharePercent: trial.sharePercent ?? null,
    judgedBy: trial.judgedBy,
    result: trial.result,
    note: trial.note ?? null,
    at: instantFact(frame, at),
  }));
}
