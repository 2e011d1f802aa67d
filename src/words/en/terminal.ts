/** What the commands print for people: refusals, limits that were not kept, cues and findings. */
import type { RefusalCode } from '../../engine/commands.ts';
import type { Breach } from '../../engine/types.ts';
import type { CueKind } from '../../engine/view-types.ts';
import type { FindingCode } from '../../protocol/finding.ts';
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

interface Refused {
  /** A value that came with the code, as text; empty when there is none. */
  readonly value: (key: string) => string;
  readonly missing: readonly string[];
}

interface Broken {
  readonly of: string;
  readonly subject: string;
  /** How long, or how many. */
  readonly by: string;
}

interface Rehearsed {
  readonly caseId: string;
  readonly protocol: string;
  readonly revision: number;
  readonly at: string;
}

interface Found {
  readonly value: (key: string) => string;
  readonly list: (key: string) => readonly string[];
}

const quoted = (titles: readonly string[], between: string): string =>
  titles.map((title) => `"${title}"`).join(between);

function link({ value }: Found, rest: string): string {
  return `the link "${value('link')}" from ${value('from')} to ${value('to')} ${rest}`;
}

const HELD_BY: Readonly<Record<string, string>> = {
  ceramic: 'the ceramic lets too little through',
  lamp: 'the lamp gives too little',
  tip: 'the tip is too small for the surface',
};

const HELPS: Readonly<Record<string, string>> = {
  'dual-cured-cement': 'take a dual-cured cement',
  'another-lamp': 'take another lamp',
  'wider-tip': 'take a lamp with a wider tip',
};

function held({ value }: Found, how: string): string {
  const [cause, helps] = [HELD_BY[value('cause')] ?? '', HELPS[value('wayOut')] ?? ''];
  return `within the ceilings of light "${value('title')}" gives the cement of the unit "${value('id')}" ${value('reachedJPerCm2')} J/cm2, ${how}: ${cause}; ${helps}`;
}

/** A window that the steps between its moments do not leave enough time for. */
function tight({ value, list }: Found, when: string): string {
  const head = `"${value('title')}" allows ${value('limitSeconds')} s`;
  const missing = `${value('missingSeconds')} s missing`;
  const others = quoted(list('otherWindows'), ', ');
  const seconds = list('stepSeconds');
  const steps = list('steps').map((title, i) => `"${title}" (${seconds[i] ?? '?'} s)`);
  if (steps.length === 0) return `${head}, but that collides with ${others}: ${missing}`;
  const also = others === '' ? '' : `; it also collides with ${others}`;
  return `${head}, but ${when} ${steps.join(', ')} lie between: ${missing}${also}`;
}

export const terminal = {
  refused: {
    'protocol-unconfirmed': () => 'the protocol is not confirmed by the clinic lead as it stands',
    'not-asked': ({ value, missing }) => `not asked yet for ${value('ids')}: ${missing.join(', ')}`,
    'case-closed': () => 'the case is signed off',
    'unknown-step': ({ value }) => `there is no step "${value('step')}"`,
    'unknown-subject': ({ value }) =>
      `"${value('subject')}" is not a subject of "${value('step')}"`,
    'not-yet': ({ value, missing }) =>
      `"${value('step')}" on ${value('subject')} still waits for ${missing.join(', ')}`,
    'not-running': ({ value }) => `"${value('step')}" on ${value('subject')} is not running`,
    'already-running': ({ value }) =>
      `"${value('step')}" on ${value('subject')} is running already`,
    'already-done': ({ value }) => `"${value('step')}" on ${value('subject')} is over already`,
    'does-not-apply': ({ value }) =>
      `"${value('step')}" does not apply to ${value('subject')} in this case`,
    'wrong-press': ({ value }) =>
      `"${value('kind')}" is not a press for "${value('step')}" as it is given here`,
    'light-is-on': () => 'the light is on already',
    'light-is-off': () => 'the light is not on',
    'unknown-option': ({ value }) => `"${value('step')}" has no option "${value('option')}"`,
    'reason-missing': () => 'a reason in words is missing',
    'nothing-to-undo': () => 'there is no press to take back or to move',
    'moves-past-now': () => 'the press would be moved past now, or past one that follows from it',
    'moves-before-its-start': () => 'the press would be moved before what it follows from',
    'unknown-way-back': ({ value }) =>
      `the way back "${value('wayBack')}" does not fit ${value('subjects')} now`,
    'unknown-gap': () => 'there is no such gap',
    'gap-length': () => 'the length of a gap is a number of seconds from 0',
    'unknown-unit': ({ value }) => `there is no unit "${value('unit')}"`,
    'unknown-person': ({ value }) => `there is no person "${value('person')}"`,
    'unknown-slot': ({ value }) => `the protocol has no material slot "${value('slot')}"`,
    'not-holder': () => 'another tablet goes on with the case',
    'holds-pen': () => 'this tablet has the case already',
    'pen-is-held': () => 'the other tablet still has the case',
    'work-left': ({ value, missing }) => {
      const such = missing.slice(0, 3).join(', ');
      return plural(Number(value('count')), {
        one: `1 step is left, ${such}`,
        other: `${value('count')} steps are left, such as ${such}`,
      });
    },
    'answer-missing': ({ value }) => `the line ${value('step')} of the list has no answer`,
    'nothing-taken': ({ value }) => `no line of the list ${value('list')} is taken`,
    'plan-does-not-fit': () => 'the plan does not take every unit once, or two mixes take turns',
  } satisfies Record<RefusalCode, (o: Refused) => string>,
  broken: {
    short: (o) => `${o.of} on ${o.subject}: ended ${o.by} before its minimum`,
    over: (o) => `${o.of} on ${o.subject}: ended ${o.by} after its maximum`,
    early: (o) => `window ${o.of} of ${o.subject}: closed ${o.by} before its minimum`,
    late: (o) => `window ${o.of} of ${o.subject}: closed ${o.by} after its maximum`,
    'passes-over': (o) => `${o.of} on ${o.subject}: ${o.by} pass more than the limit`,
    'exposure-short': (o) => `${o.of} on ${o.subject}: ${o.by} of exposure not given`,
    'gap-short': (o) =>
      `${o.of} on ${o.subject}: coat applied ${o.by} too soon after the one before`,
    'rest-short': (o) => `${o.of} on ${o.subject}: light on ${o.by} before its rest had passed`,
  } satisfies Record<Breach['kind'], (o: Broken) => string>,
  /** The limit lies inside what is known. */
  perhapsBroken: {
    short: (o: Broken): string =>
      `${o.of} on ${o.subject}: may have ended ${o.by} before its minimum`,
    over: (o: Broken): string =>
      `${o.of} on ${o.subject}: may have ended ${o.by} after its maximum`,
    early: (o: Broken): string =>
      `window ${o.of} of ${o.subject}: may have closed ${o.by} before its minimum`,
    late: (o: Broken): string =>
      `window ${o.of} of ${o.subject}: may have closed ${o.by} after its maximum`,
    'gap-short': (o: Broken): string =>
      `${o.of} on ${o.subject}: coat may have been applied ${o.by} too soon after the one before`,
    'rest-short': (o: Broken): string =>
      `${o.of} on ${o.subject}: light may have come ${o.by} before its rest had passed`,
  },
  seconds: (seconds: number): string => `${seconds} s`,
  /** In the place of a span that nobody knows. */
  unknownTime: 'an unknown time',
  cue: {
    nearing: (what: string): string => `target nearing: ${what}`,
    now: (what: string): string => `target reached: ${what}`,
    over: (what: string): string => `maximum reached: ${what}`,
    'window-closing': (what: string): string => `window closing: ${what}`,
    'window-broken': (what: string): string => `window over: ${what}`,
  } satisfies Record<CueKind, (what: string) => string>,
  cueOf: (o: { readonly of: string; readonly subjects: readonly string[] }): string =>
    `${o.of} on ${o.subjects.join(' ')}`,
  left: (time: string): string => `${time} left`,
  perhapsOver: 'perhaps over',
  /** What a rehearsal came to. */
  finishedHead: (o: Rehearsed): string =>
    `${o.caseId}, ${o.protocol} revision ${o.revision}: finished at ${o.at}`,
  unfinishedHead: (o: Rehearsed): string =>
    `${o.caseId}, ${o.protocol} revision ${o.revision}: not finished at ${o.at}`,
  presses: (o: { readonly count: number; readonly stages: readonly string[] }): string =>
    `presses: ${o.count} (${o.stages.join(', ')})`,
  stagePresses: (o: { readonly stage: string; readonly count: number }): string =>
    `${o.stage} ${o.count}`,
  eventsHead: (count: number): string => `events (wall clock since the opening): ${count}`,
  cuesHead: (count: number): string => `cues: ${count}`,
  toCome: (cue: string): string => `${cue} (to come)`,
  progressHead: (o: {
    readonly done: number;
    readonly total: number;
    readonly teeth: number;
  }): string => `progress ${o.done} of ${o.total}, teeth: ${o.teeth}`,
  tooth: (o: {
    readonly tooth: string;
    readonly done: number;
    readonly total: number;
    readonly state: string;
    readonly light: readonly string[];
  }): string => `${o.tooth}: ${o.done} of ${o.total}, ${o.state}; ${o.light.join(', ')}`,
  toothLight: (o: {
    readonly surface: string;
    readonly given: string;
    readonly set: string;
  }): string => `${o.surface} ${o.given}/${o.set} s`,
  agendaHead: (count: number): string => `agenda: ${count}`,
  notKeptHead: (count: number): string => `limits not kept: ${count}`,
  /** What a press would do; the times are null where nothing bounds it. */
  offered: (o: {
    readonly what: readonly string[];
    readonly dueIn: string | null;
    readonly slack: string | null;
  }): string => {
    const due = o.dueIn === null ? [] : [`due in ${o.dueIn}`];
    return [o.what.join(' '), ...due, ...(o.slack === null ? [] : [o.slack])].join(', ');
  },
  found: {
    'duplicate-id': ({ value }) => `the id "${value('id')}" is used twice`,
    'unknown-stage': ({ value }) => `there is no stage "${value('id')}"`,
    'unknown-step': ({ value }) => `there is no step "${value('id')}"`,
    'unknown-slot': ({ value }) => `there is no material slot "${value('id')}"`,
    'unknown-caution': ({ value }) => `there is no caution "${value('id')}"`,
    'caution-not-short': ({ value }) =>
      value('length') === '0'
        ? `the caution "${value('id')}" has no short form of at most ${value('max')} characters`
        : `the short form of the caution "${value('id')}" has ${value('length')} characters, ${value('max')} at most`,
    'unknown-source': ({ value }) => `there is no source "${value('id')}"`,
    'unknown-way-back': ({ value }) => `there is no way back "${value('id')}"`,
    'unknown-option': ({ value }) => `that step has no option "${value('id')}"`,
    'link-needs-same-scope': (o) =>
      link(o, 'needs both steps to be done to the same kind of subject'),
    'link-needs-other-scope': (o) =>
      link(o, 'joins different kinds of subjects; "same" is meant here'),
    'link-has-no-order': (o) => link(o, 'has no previous subject, since there is one case only'),
    'waits-in-a-circle': ({ list }) =>
      `steps wait for each other in a circle: ${quoted(list('chain'), ' waits for ')}`,
    'bounds-crossed': ({ value }) =>
      `${value('low')} (${value('lowValue')}) is above ${value('high')} (${value('highValue')})`,
    'window-without-bound': ({ value }) =>
      `the window "${value('title')}" has neither a minimum nor a maximum`,
    'window-of-one-moment': ({ value }) =>
      `the window "${value('title')}" begins and ends with the same moment`,
    'window-cannot-be-kept': (o) => tight(o, 'at the usual pace'),
    'window-tight-on-a-slow-day': (o) => tight(o, 'on a slow day'),
    'expose-without-time': () =>
      'an exposure needs a time for each surface, a radiant exposure, or both',
    'expose-without-surface': () => 'an exposure needs at least one surface',
    'surface-twice': ({ value }) => `the surface "${value('surface')}" is listed twice`,
    'condition-without-value': () => 'a condition without a value never holds',
    'choice-without-options': () => 'a choice needs at least one option',
    'hands-without-dwell': () => 'the rhythm of the hands counts only for a step with a dwell',
    'clock-without-dwell': () => 'only a dwell can begin with the end of another step',
    'clock-not-after': ({ value }) =>
      `the clock begins with "${value('id')}", but the step does not wait for it`,
    'no-steps': () => 'a protocol needs at least one step',
    'acid-on-zirconia': ({ value }) =>
      `"${value('title')}" puts hydrofluoric acid on zirconia: there is no glass to dissolve, so it gives no hold and leaves the acid risk; air abrasion and a phosphate primer are used instead`,
    'phosphate-on-zirconia': ({ value }) =>
      `"${value('title')}" puts phosphoric acid on zirconia: phosphate stays on the surface and takes the place of the primer; clean with water, an alkaline cleaner or by air abrasion`,
    'material-not-in-protocol': ({ value, list }) =>
      `the unit "${value('id')}" is ${value('material')}, but this protocol is written for ${list('materials').join(', ')}`,
    'restoration-not-in-protocol': ({ value, list }) =>
      `the unit "${value('id')}" is a ${value('restoration')}, but this protocol is written for ${list('restorations').join(', ')}`,
    'unknown-choice': ({ value }) => `there is no choice "${value('id')}"`,
    'unknown-value': ({ value }) => `"${value('id')}" is not a value of ${value('of')}`,
    'not-asked': ({ value }) =>
      `${value('id')}: ${value('fact')} was not asked yet, and the steps that depend on it are left out`,
    'light-cured-thick': ({ value }) =>
      value('mm') === ''
        ? `the unit "${value('id')}" (${value('material')}) is cautioned over a cement that sets by light alone, however thin it is`
        : `the unit "${value('id')}" (${value('material')}) is ${value('mm')} mm thick, which is cautioned over a cement that sets by light alone; above ${value('mostMm')} mm a dual-cured cement is needed`,
    'light-cured-too-thick': ({ value }) =>
      `the unit "${value('id')}" (${value('material')}) is ${value('mm')} mm thick, over the ${value('mostMm')} mm for a cement that sets by light alone; take a dual-cured cement`,
    'light-dose-not-reached': (o) => held(o, `below the least of ${o.value('leastJPerCm2')} J/cm2`),
    'light-target-not-reached': (o) => held(o, 'below what is aimed at'),
    'light-product-over': ({ value }) =>
      `the product's own time for "${value('title')}" on the unit "${value('id')}" is over 40 s a place or 60 s a surface`,
    'light-no-programme': ({ value }) =>
      `the lamp has no programme for "${value('title')}" on the unit "${value('id')}" within 40 J/cm2 at the tip; take another lamp`,
    'product-light-over': ({ value }) =>
      `${value('seconds')} s on one place of the tip is over the ceiling of ${value('mostSeconds')} s; does the product ask for it?`,
    'dose-beyond-credit': ({ value }) =>
      `${value('dose')} J/cm2 is asked for, but more than ${value('most')} J/cm2 is not credited at a thin film`,
    unused: ({ value }) => `"${value('id')}" is not used by any step`,
    'unknown-list': ({ value }) => `there is no list "${value('id')}"`,
    'press-does-not-fit': ({ value }) =>
      `"${value('title')}" cannot be pressed in the way "${value('way')}"`,
    'list-waits-outside': ({ value, list }) =>
      `the list "${value('title')}" cannot be taken by one press: ${quoted(list('chain'), ' waits for ')}`,
    'list-spans-minimum': ({ value }) =>
      `the window "${value('title')}" has a minimum between two lines of one list`,
    'sweep-without-edge': () => 'a sweep needs a start, an end or both',
    'sweep-start-not-pressed': ({ value }) =>
      `the clock begins with "${value('title')}", so its start is never pressed`,
    'start-not-pressed': ({ value }) =>
      `the start of "${value('title')}" is not pressed, but its maximum (${value('limitMs')} ms) is under a minute`,
    'implied-by-nothing': () => 'at least one later step is needed that implies this one',
    'implied-not-later': ({ value }) =>
      `"${value('title')}" does not wait for this step, so it cannot imply it`,
    'implied-past-press': ({ value }) =>
      `a step with a press of its own lies between this one and "${value('title')}", so that cannot imply it`,
    'implied-answer': ({ value }) =>
      `"${value('title')}" asks for an answer that a person gives, so it cannot be implied`,
    'implied-minimum': ({ value }) =>
      `the minimum of the window "${value('title')}" begins or ends with this step, so it cannot be implied`,
    'paced-not-later': ({ value }) =>
      `"${value('title')}" does not wait for this light itself, so it cannot confirm it`,
    'quote-differs': ({ value, list }) =>
      `the number is ${value('value')} ${value('unit')}, but the words quoted for it say ${list('said').join(', ')}`,
    'hardly-meant': ({ value }) =>
      `${value('value')} ${value('unit')} is hardly meant: ${value('least')} to ${value('most')} is what anybody gives (common practice, no source)`,
    'hazard-without-caution': ({ value }) =>
      `no caution of the step "${value('title')}" speaks of its hazard: ${value('hazard')}`,
    'title-too-long': ({ value }) =>
      `the title "${value('title')}" has ${value('length')} characters; at most ${value('max')} can be read from two metres`,
    'after-signature': ({ value }) =>
      `"${value('title')}" stands behind the signature "${value('signature')}", which ends the case`,
  } satisfies Record<FindingCode, (o: Found) => string>,
};
