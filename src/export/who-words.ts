/** Who pressed and who did it, in words; nobody is named who may not have done it. */
import { exportWords } from '../words/export-words.ts';
import type { DoneByFact, RecordFacts, StepFact } from './record-types.ts';
import { pressedBy } from './record-who.ts';

export function doneByWords({ label, role }: DoneByFact): string {
  const { roles, doneBy, doneByRole } = exportWords;
  return label === null ? doneByRole(roles[role]) : doneBy({ label, role: roles[role] });
}

/** "pressed by Assistant B; done by Dentist A (dentist)". */
export function whoWords(step: StepFact): string | null {
  const pressed = pressedBy(step);
  const parts = [
    ...(pressed.length > 0 ? [exportWords.pressedBy(pressed.join(', '))] : []),
    ...(step.doneBy === null ? [] : [doneByWords(step.doneBy)]),
  ];
  return parts.length === 0 ? null : parts.join('; ');
}

/** Who pressed the signature, where it is not the one who signed. */
export function signedWords(signOff: NonNullable<RecordFacts['signOff']>, line: string): string {
  const by = signOff.pressed?.by ?? null;
  return by === null || by === signOff.label ? line : exportWords.signedFor({ line, by });
}
