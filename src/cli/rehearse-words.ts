/** What happened in a rehearsal, for the terminal: one sentence for each code. */
import type { Refusal } from '../engine/commands.ts';
import type { Breach, CaseEvent } from '../engine/types.ts';
import type { Cue, Offer } from '../engine/view-types.ts';
import { howPressed } from '../export/press-log.ts';
import { clockText } from '../plan/script-time.ts';
import { terminalWords } from '../words/terminal-words.ts';

/** Infinity where nobody knows how long it was. */
const secondsOf = (ms: number): string =>
  Number.isFinite(ms) ? terminalWords.seconds(ms / 1000) : terminalWords.unknownTime;

/** Why the engine did not carry out a press. */
export function refusalWords({ code, values, missing }: Refusal): string {
  return terminalWords.refused[code]({ value: (key) => String(values[key] ?? ''), missing });
}

/** By how much a limit was not kept: "short by 3 s". */
export function breachWords({ kind, of, subject, by, perhaps }: Breach): string {
  const amount = kind === 'passes-over' ? String(by) : secondsOf(by);
  if (perhaps && kind !== 'passes-over' && kind !== 'exposure-short') {
    return terminalWords.perhapsBroken[kind]({ of, subject, by: amount });
  }
  return terminalWords.broken[kind]({ of, subject, by: amount });
}

/** "target reached: etch on tooth:11". */
export function cueWords({ kind, of, subjects }: Cue): string {
  return terminalWords.cue[kind](terminalWords.cueOf({ of, subjects }));
}

function slackText(ms: number): string {
  return Number.isFinite(ms)
    ? terminalWords.left(clockText(Math.floor(ms)))
    : terminalWords.perhapsOver;
}

/** What a press would do, and how it stands in time. */
export function offerWords(offer: Offer): string {
  const { kind, step, subjects, surface, option, dueInMs, slackMs } = offer;
  return terminalWords.offered({
    what: [kind, step, ...subjects, surface ?? '', option ?? ''].filter((w) => w !== ''),
    dueIn: dueInMs > 0 ? clockText(Math.ceil(dueInMs)) : null,
    slack: slackMs === null ? null : slackText(slackMs),
  });
}

/** One line for an event: its type and what it is about, without the documents it may carry. */
export function eventWords(event: CaseEvent): string {
  if (event.type === 'case-opened') {
    return `case-opened ${event.spec.id}, ${event.protocol.id} revision ${event.protocol.revision}`;
  }
  const { type, ...rest } = event;
  const how = howPressed(event);
  // What says how it was pressed is told together, at the end.
  const shown = Object.entries(rest).flatMap(([key, value]) => {
    if (['list', 'impliedBy', 'sweep', 'places', 'heard'].includes(key)) return [];
    if (typeof value === 'string' || typeof value === 'number') return [String(value)];
    return Array.isArray(value) ? [value.join(' ')] : [];
  });
  const told = [type, ...shown, how === null ? '' : `(${how})`];
  return told.filter((word) => word !== '').join(' ');
}
