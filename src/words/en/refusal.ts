/** Why a press was not taken, and what to do: one line each. */
import type { RefusalCode } from '../../engine/commands.ts';

interface Told {
  readonly what: string;
  readonly todo: string;
}

export const refusal = {
  'protocol-unconfirmed': {
    what: 'This protocol has not been confirmed against the product instructions.',
    todo: 'The clinic lead confirms it under Protocols. A rehearsal needs no confirmation.',
  },
  'not-asked': {
    what: 'Something about the teeth or units was not asked yet.',
    todo: 'Answer it in the case. Steps and times depend on it.',
  },
  'case-closed': { what: 'This case is closed.', todo: 'Add a note to its record instead.' },
  'unknown-step': { what: 'This step is not in the protocol.', todo: 'Choose another step.' },
  'unknown-subject': {
    what: 'This tooth or unit is not part of the case.',
    todo: 'Choose one that is.',
  },
  'not-yet': {
    what: 'Something before this is still open.',
    todo: 'Do it first, or skip it with a reason.',
  },
  'not-running': { what: 'This clock is not running.', todo: 'Start it first.' },
  'already-running': { what: 'This is already running.', todo: 'End it, or undo.' },
  'already-done': { what: 'This is already done.', todo: 'Undo, or take a way back.' },
  'does-not-apply': { what: 'This step does not apply here.', todo: 'Go on to the next one.' },
  'wrong-press': { what: 'This press does not fit the step.', todo: 'Use what the bar offers.' },
  'light-is-on': { what: 'The light is on elsewhere.', todo: 'Record light off first.' },
  'light-is-off': { what: 'The light is off.', todo: 'Record light on first.' },
  'unknown-option': { what: 'This is not one of the choices.', todo: 'Choose one of them.' },
  'answer-missing': { what: 'A line has no answer yet.', todo: 'Answer it, or untick it.' },
  'nothing-taken': { what: 'No line is ticked.', todo: 'Tick or answer one.' },
  'reason-missing': { what: 'A reason is missing.', todo: 'Say why in a few words.' },
  'nothing-to-undo': { what: 'There is nothing to undo.', todo: 'Go on.' },
  'moves-past-now': { what: 'That is in the future.', todo: 'Choose a time that has passed.' },
  'moves-before-its-start': {
    what: 'That is before the step started.',
    todo: 'Choose a later time, or undo.',
  },
  'unknown-way-back': {
    what: 'This way back does not fit the present stage.',
    todo: 'Choose one that is offered.',
  },
  'unknown-gap': { what: 'This gap is not in the record.', todo: 'There is nothing to do.' },
  'gap-length': { what: 'A length of time is needed.', todo: 'Enter 0 s or more.' },
  'unknown-unit': { what: 'This unit is not part of the case.', todo: 'Choose one that is.' },
  'unknown-person': { what: 'This person is not part of the case.', todo: 'Choose one who is.' },
  'unknown-slot': {
    what: 'The protocol has no place for this material.',
    todo: 'Choose one of its materials.',
  },
  'not-holder': {
    what: 'Another tablet goes on with this case.',
    todo: 'Press there, or take the case here.',
  },
  'holds-pen': { what: 'This tablet has the case already.', todo: 'Go on with it.' },
  'pen-is-held': {
    what: 'The other tablet still has the case.',
    todo: 'Give it up there first.',
  },
  'work-left': { what: 'Some steps are still open.', todo: 'Do them, or skip them with a reason.' },
  'plan-does-not-fit': {
    what: 'The plan and the units of the case do not match.',
    todo: 'Prepare the case again.',
  },
} satisfies Record<RefusalCode, Told>;
