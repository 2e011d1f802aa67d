/** Why a press was not taken, and what to do: one line each. */
import type { Refusal, RefusalCode } from '../engine/commands.ts';

interface Words {
  readonly what: string;
  readonly todo: string;
}

const WORDS: Readonly<Record<RefusalCode, Words>> = {
  'protocol-unconfirmed': {
    what: 'This protocol has not been confirmed against the product instructions.',
    todo: 'The clinic lead confirms it under Protocols. A rehearsal can be run without.',
  },
  'case-closed': { what: 'This case is closed.', todo: 'Add a note to its record instead.' },
  'unknown-step': { what: 'This step is not in the protocol.', todo: 'Choose another step.' },
  'unknown-subject': { what: 'This is not part of the case.', todo: 'Choose what the case has.' },
  'not-yet': {
    what: 'Something before this is still open.',
    todo: 'Do it first, or skip it with a reason.',
  },
  'not-running': { what: 'This clock is not running.', todo: 'Begin it first.' },
  'already-running': { what: 'This is running already.', todo: 'End it, or undo.' },
  'already-done': { what: 'This is done already.', todo: 'Undo, or take a way back.' },
  'does-not-apply': { what: 'This step does not apply here.', todo: 'Go on with the next.' },
  'wrong-press': { what: 'This press does not fit the step.', todo: 'Use what the bar offers.' },
  'light-is-on': { what: 'The light is on elsewhere.', todo: 'Stop it first.' },
  'light-is-off': { what: 'The light is off.', todo: 'Switch it on first.' },
  'unknown-option': { what: 'This is not one of the choices.', todo: 'Choose one of them.' },
  'reason-missing': { what: 'A reason is missing.', todo: 'Say why in a few words.' },
  'nothing-to-undo': { what: 'There is nothing to take back.', todo: 'Go on.' },
  'moves-past-now': { what: 'That lies in the future.', todo: 'Choose a moment that has passed.' },
  'moves-before-its-start': {
    what: 'That lies before the step began.',
    todo: 'Choose a later moment, or undo.',
  },
  'unknown-way-back': {
    what: 'This way back does not fit the present stage.',
    todo: 'Choose one that is offered.',
  },
  'unknown-gap': { what: 'This gap is not in the log.', todo: 'Nothing needs to be done.' },
  'gap-length': { what: 'A length of time is needed.', todo: 'Enter 0 s or more.' },
  'unknown-unit': { what: 'This unit is not part of the case.', todo: 'Choose one of its units.' },
  'unknown-person': {
    what: 'This person is not part of the case.',
    todo: 'Choose one of its people.',
  },
  'unknown-slot': {
    what: 'The protocol has no place for this material.',
    todo: 'Choose one of its materials.',
  },
  'work-left': { what: 'Some steps are still open.', todo: 'Do them, or skip them with a reason.' },
  'plan-does-not-fit': {
    what: 'The plan does not name the units of the case.',
    todo: 'Prepare the case again.',
  },
};

export function refusalWords(refusal: Pick<Refusal, 'code'>): Words {
  return WORDS[refusal.code];
}
