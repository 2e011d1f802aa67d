/** What each kind of event is about. */
import { unreachable } from '../base/assert.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { CaseEvent } from './types.ts';

/** The step and subjects that an event names; none for events about the log or the people. */
export function namedBy(event: CaseEvent): {
  readonly step: string | null;
  readonly subjects: readonly SubjectId[];
} {
  switch (event.type) {
    case 'step-confirmed':
    case 'step-started':
    case 'step-ended':
    case 'coat-applied':
    case 'option-chosen':
    case 'step-skipped':
      return { step: event.step, subjects: event.subjects };
    case 'pass-made':
    case 'exposure-started':
    case 'exposure-stopped':
      return { step: event.step, subjects: [event.subject] };
    case 'light-pass-begun':
    case 'light-pass-confirmed':
      return { step: event.step, subjects: [...new Set(event.places.map((p) => p.subject))] };
    case 'light-pass-stopped':
      return { step: event.step, subjects: [] };
    case 'way-back-taken':
      return { step: null, subjects: event.subjects };
    case 'case-opened':
    case 'mix-added':
    case 'plan-changed':
    case 'bead-probed':
    case 'material-named':
    case 'shade-tried':
    case 'emergency-noted':
    case 'anaesthesia-given':
    case 'gap-found':
    case 'gap-settled':
    case 'press-retimed':
    case 'press-retracted':
    case 'tones-heard':
    case 'cue-acknowledged':
    case 'note-added':
    case 'numbering-changed':
    case 'visit-stopped':
    case 'role-taken':
    case 'pen-given':
    case 'pen-taken':
    case 'case-closed':
      return { step: null, subjects: [] };
    default:
      return unreachable(event);
  }
}
