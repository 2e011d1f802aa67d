/** Plain English for the terminal: what happened in a rehearsal, one sentence for each code. */
import { unreachable } from '../base/assert.ts';
import type { Refusal } from '../engine/commands.ts';
import type { Breach, CaseEvent, Cue, CueKind, Offer } from '../engine/types.ts';
import { clockText } from '../plan/script-time.ts';

/** Infinity where nobody knows how long it was. */
const secondsOf = (ms: number): string =>
  Number.isFinite(ms) ? `${ms / 1000} s` : 'an unknown time';

/** Why the engine did not carry out a press. */
export function refusalWords({ code, values, missing }: Refusal): string {
  const step = `"${values['step'] ?? ''}"`;
  const subject = String(values['subject'] ?? '');
  switch (code) {
    case 'protocol-unconfirmed':
      return 'the protocol is not confirmed by the clinic lead as it stands';
    case 'case-closed':
      return 'the case is signed off';
    case 'unknown-step':
      return `there is no step ${step}`;
    case 'unknown-subject':
      return `"${subject}" is no subject of ${step}`;
    case 'not-yet':
      return `${step} on ${subject} still waits for ${missing.join(', ')}`;
    case 'not-running':
      return `${step} on ${subject} is not running`;
    case 'already-running':
      return `${step} on ${subject} is running already`;
    case 'already-done':
      return `${step} on ${subject} is over already`;
    case 'does-not-apply':
      return `${step} does not apply to ${subject} in this case`;
    case 'wrong-press':
      return `"${values['kind'] ?? ''}" is no press for ${step} as it is given here`;
    case 'light-is-on':
      return 'the light is on already';
    case 'light-is-off':
      return 'the light is not on';
    case 'unknown-option':
      return `${step} has no option "${values['option'] ?? ''}"`;
    case 'reason-missing':
      return 'a reason in words is missing';
    case 'nothing-to-undo':
      return 'there is no press to take back or to move';
    case 'moves-past-now':
      return 'the press would be moved past now, or past one that follows from it';
    case 'moves-before-its-start':
      return 'the press would be moved before what it follows from';
    case 'unknown-way-back':
      return `the way back "${values['wayBack'] ?? ''}" does not fit ${values['subjects'] ?? ''} now`;
    case 'unknown-gap':
      return 'there is no such gap';
    case 'gap-length':
      return 'the length of a gap is a number of seconds from 0';
    case 'unknown-unit':
      return `there is no unit "${values['unit'] ?? ''}"`;
    case 'unknown-person':
      return `there is no person "${values['person'] ?? ''}"`;
    case 'unknown-slot':
      return `the protocol has no material slot "${values['slot'] ?? ''}"`;
    case 'work-left':
      return `${values['count'] ?? ''} steps are left, such as ${missing.slice(0, 3).join(', ')}`;
    case 'plan-does-not-fit':
      return 'the plan does not take every unit once, or two mixes take turns';
    default:
      return unreachable(code);
  }
}

/** By how much a bound was not kept: "short by 3 s". */
export function breachWords({ kind, of, subject, by }: Breach): string {
  switch (kind) {
    case 'short':
      return `${of} on ${subject}: ended ${secondsOf(by)} before its minimum`;
    case 'over':
      return `${of} on ${subject}: ended ${secondsOf(by)} after its maximum`;
    case 'early':
      return `window ${of} of ${subject}: closed ${secondsOf(by)} before its minimum`;
    case 'late':
      return `window ${of} of ${subject}: closed ${secondsOf(by)} after its maximum`;
    case 'passes-over':
      return `${of} on ${subject}: ${by} pass more than the limit`;
    case 'exposure-short':
      return `${of} on ${subject}: ${secondsOf(by)} of exposure not given`;
    default:
      return unreachable(kind);
  }
}

function cueKindWords(kind: CueKind): string {
  switch (kind) {
    case 'nearing':
      return 'target nearing';
    case 'now':
      return 'target reached';
    case 'over':
      return 'maximum reached';
    case 'window-closing':
      return 'window closing';
    case 'window-broken':
      return 'window over';
    default:
      return unreachable(kind);
  }
}

/** "target reached: etch on tooth:11". */
export function cueWords({ kind, of, subjects }: Cue): string {
  return `${cueKindWords(kind)}: ${of} on ${subjects.join(' ')}`;
}

const slackText = (ms: number): string =>
  Number.isFinite(ms) ? `${clockText(Math.floor(ms))} left` : 'perhaps over';

/** What a press would do, and how it stands in time. */
export function offerWords(offer: Offer): string {
  const { kind, step, subjects, surface, option, dueInMs, slackMs } = offer;
  const what = [kind, step, ...subjects, surface ?? '', option ?? ''].filter((w) => w !== '');
  const due = dueInMs > 0 ? `, due in ${clockText(Math.ceil(dueInMs))}` : '';
  const slack = slackMs === null ? '' : `, ${slackText(slackMs)}`;
  return `${what.join(' ')}${due}${slack}`;
}

/** One line for an event: its type and what it is about, without the documents it may carry. */
export function eventWords(event: CaseEvent): string {
  if (event.type === 'case-opened') {
    return `case-opened ${event.spec.id}, ${event.protocol.id} revision ${event.protocol.revision}`;
  }
  const { type, ...rest } = event;
  const shown = Object.values(rest).flatMap((value) =>
    typeof value === 'string' || typeof value === 'number'
      ? [String(value)]
      : Array.isArray(value)
        ? [value.join(' ')]
        : [],
  );
  return [type, ...shown].filter((word) => word !== '').join(' ');
}
