/**
 * Exported records as text, and the calendar of a case. Never a judgement of a person: what was
 * asked, what the clocks counted, by how much they differ.
 */
import type { ShadeTrial } from '../../engine/material-types.ts';
import type { GapCause, StepRun } from '../../engine/types.ts';
import type { Role, Scope } from '../../protocol/types.ts';
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

type Status = 'open' | 'kept' | 'may-be-broken' | 'broken';

interface Told {
  readonly title: string;
  readonly planned: string;
  readonly done: string;
}

export const exportTexts = {
  sections: {
    units: 'Units and portions',
    materials: 'Materials',
    shades: 'Shades tried',
    steps: 'Steps',
    voided: 'Runs that no longer count',
    undone: 'Not done',
    windows: 'Windows',
    stopped: 'Stopped early',
    numberings: 'Numbering on the screens',
    passes: 'Light led by tones',
    breaches: 'Limits that were not kept',
    mayBeBroken: 'Limits that may not have been kept',
    waysBack: 'Ways back',
    corrections: 'Corrections',
    gaps: 'When nobody watched the clocks',
    notes: 'Notes',
    plan: 'Against the plan it was opened with, minutes from the opening',
    log: 'Log',
  },
  /** What is told of one thing, one part after another. */
  parts: (parts: readonly string[]): string => parts.join(', '),
  /** The same where a part may have commas of its own. */
  several: (parts: readonly string[]): string => parts.join('; '),
  /** Parts that belong together, such as a number and what it counts. */
  together: (parts: readonly string[]): string => parts.join(' '),
  both: (parts: readonly string[]): string => list(parts),
  /** "tooth 11: Etching gel on enamel, 2 s under the limit" */
  about: (o: { readonly of: string; readonly what: string }): string => `${o.of}: ${o.what}`,
  fromTo: (o: { readonly from: string; readonly to: string }): string => `${o.from} to ${o.to}`,
  between: (o: { readonly from: string; readonly to: string }): string =>
    `between ${o.from} and ${o.to}`,
  atLeast: (length: string): string => `at least ${length}`,
  orLater: (at: string): string => `${at} or later`,
  unknownTime: 'an unknown time',
  subjects: {
    case: () => '',
    tooth: (id: string): string => `tooth ${id}`,
    unit: (id: string): string => `unit ${id}`,
    contact: (id: string): string => `contact ${id}`,
    mix: (id: string): string => `portion ${id}`,
  } satisfies Record<Scope, (id: string) => string>,

  chartRef: (chartRef: string): string => `Chart reference: ${chartRef}`,
  rehearsal: 'Rehearsal: no patient was treated.',
  patient: 'Patient case',
  times: (o: { readonly zone: string; readonly offset: string }): string =>
    `Times: ${o.zone} (UTC${o.offset})`,
  opened: (at: string): string => `Opened: ${at}`,
  signed: (o: { readonly at: string; readonly label: string; readonly role: string }): string =>
    `Signed: ${o.at}, ${o.label} (${o.role})`,
  unsigned: 'Not signed yet',
  signedFor: (o: { readonly line: string; readonly by: string }): string =>
    `${o.line}, pressed by ${o.by}`,
  left: (what: string): string => `left: ${what}`,
  proposed: (words: string): string => `the protocol proposes: ${words}`,
  numberings: { fdi: 'FDI', universal: 'Universal', palmer: 'Palmer' },
  pressedBy: (who: string): string => `pressed by ${who}`,
  doneBy: (o: { readonly label: string; readonly role: string }): string =>
    `done by ${o.label} (${o.role})`,
  doneByRole: (role: string): string => `done by the ${role}`,
  unconfirmed: (o: { readonly title: string; readonly revision: number }): string =>
    `Protocol: ${o.title}, revision ${o.revision}, not confirmed by the clinic`,
  confirmed: (o: {
    readonly title: string;
    readonly revision: number;
    readonly by: string;
    readonly on: string;
  }): string => `Protocol: ${o.title}, revision ${o.revision}, confirmed by ${o.by} on ${o.on}`,
  protocolHash: (hash: string): string => `Hash of the protocol: ${hash}`,
  unanswered: (o: { readonly what: string; readonly reason: string }): string =>
    `Not answered by the clinic lead at the beginning: ${o.what}. ${o.reason}`,
  people: (people: readonly string[]): string => `People: ${people.join(', ')}`,
  person: (o: { readonly label: string; readonly role: string }): string =>
    `${o.label} (${o.role})`,
  roles: { dentist: 'dentist', assistant: 'assistant' } satisfies Record<Role, string>,
  light: (label: string): string => `Light: ${label}`,
  baseline: (o: { readonly baseline: string; readonly drift: string }): string =>
    `baseline ${o.baseline} (${o.drift})`,
  tip: (size: string): string => `tip ${size}`,
  readOn: (day: string): string => `read on ${day}`,
  room: (temperature: string): string => `Room: ${temperature}`,
  follows: (o: { readonly caseId: string; readonly at: string }): string =>
    `Follows case ${o.caseId}, last light given ${o.at}`,
  allergies: (words: string): string => `Allergies: ${words}`,
  note: (words: string): string => `Note: ${words}`,

  unit: (o: { readonly id: string; readonly teeth: string }): string => `unit ${o.id}: ${o.teeth}`,
  pontic: '(pontic)',
  shade: (shade: string): string => `shade ${shade}`,
  unitsOf: (units: readonly string[]): string => `units ${units.join(', ')}`,
  noUnits: 'no units left',
  bead: (o: { readonly found: string; readonly at: string }): string =>
    `bead ${o.found} at ${o.at}`,
  shadeResults: {
    accepted: 'accepted',
    'too-light': 'too light',
    'too-dark': 'too dark',
    other: 'other',
  } satisfies Record<ShadeTrial['result'], string>,
  judgedBy: (label: string): string => `judged by ${label}`,
  material: (o: { readonly label: string; readonly materialClass: string }): string =>
    `${o.label} (${o.materialClass})`,
  lot: (lot: string): string => `lot ${lot}`,
  noLot: 'lot not recorded',
  expires: (day: string): string => `expires ${day}`,
  toUseBy: (day: string): string => `opened, use by ${day}`,
  usedFor: (uses: readonly string[]): string => `for ${uses.join('; ')}`,

  /** How it is known that it was done, where no press was for it alone. */
  listed: (o: { readonly title: string; readonly lines: number }): string =>
    `one of ${o.lines} lines confirmed together (${o.title})`,
  swept: (edges: readonly string[]): string => `swept with one press: ${edges.join(', ')}`,
  began: (at: string): string => `began ${at}`,
  ended: (at: string): string => `ended ${at}`,
  implied: (o: { readonly by: string; readonly at: string }): string =>
    `said by the press of “${o.by}”, ${o.at}`,
  paced: (length: string): string => `${length} paced by tones and confirmed afterwards`,
  passOf: (o: { readonly title: string; readonly turns: readonly string[] }): string =>
    `${o.title}: ${o.turns.join('; ')}`,
  passTurns: {
    begun: (when: string): string => `begun ${when}`,
    stopped: (when: string): string => `stopped ${when}`,
    resumed: (when: string): string => `resumed ${when}`,
  },
  passStoppedUnwatched: (at: string): string => `counted as stopped ${at}, no longer watched`,
  passConfirmed: (o: { readonly when: string; readonly places: readonly string[] }): string =>
    `confirmed ${o.when}: ${o.places.join(', ')}`,
  passConfirmedNone: (when: string): string => `confirmed ${when}: none of it was lit`,
  passImplied: (o: { readonly when: string; readonly by: string }): string =>
    `${o.when} with “${o.by}”`,
  passLeftOut: (places: readonly string[]): string => `left out: ${places.join(', ')}`,
  passOpen: (places: readonly string[]): string =>
    `paced, not confirmed, nothing of it counts: ${places.join(', ')}`,
  placeLit: (o: { readonly subject: string; readonly surface: string; readonly set: string }) =>
    `${o.subject} ${o.surface} ${o.set}`,
  atBy: (o: { readonly at: string; readonly by: string }): string => `${o.at} by ${o.by}`,
  tonesHeard: (when: string): string => `Tones heard: ${when}`,
  tonesNotHeard: (when: string): string => `Tones not heard: ${when}`,
  status: {
    running: 'running',
    done: '',
    skipped: 'skipped',
  } satisfies Record<StepRun['status'], string>,
  elapsed: (length: string): string => `${length} elapsed`,
  coats: (count: number): string => plural(count, { one: '1 coat', other: `${count} coats` }),
  passes: (count: number): string => plural(count, { one: '1 pass', other: `${count} passes` }),
  given: (surfaces: readonly string[]): string => `exposure given ${surfaces.join(', ')}`,
  givenOn: (o: {
    readonly surface: string;
    readonly given: string;
    readonly set: string;
  }): string => `${o.surface} ${o.given} of ${o.set}`,
  atMost: (count: number): string => `at most ${count}`,
  askedCount: (count: number): string => `asked ${count}`,
  asked: (target: string): string => `asked ${target}`,
  askedLimits: {
    least: (o: { readonly target: string; readonly min: string }): string =>
      `asked ${o.target} and not below ${o.min}`,
    most: (o: { readonly target: string; readonly max: string }): string =>
      `asked ${o.target} and not above ${o.max}`,
    both: (o: { readonly target: string; readonly min: string; readonly max: string }): string =>
      `asked ${o.target} and not below ${o.min} and not above ${o.max}`,
  },
  because: (reason: string): string => `because ${reason}`,
  voidedBecause: (o: { readonly step: string; readonly reason: string }): string =>
    `${o.step}; no longer counts because ${o.reason}`,

  breaches: {
    short: (by: string): string => `short of the minimum by ${by}`,
    over: (by: string): string => `over the limit by ${by}`,
    early: (by: string): string => `closed ${by} too early`,
    late: (by: string): string => `outside the window by ${by}`,
    'exposure-short': (by: string): string => `exposure given short by ${by}`,
    'gap-short': (by: string): string => `time between coats short by ${by}`,
    'rest-short': (by: string): string => `rest between exposures short by ${by}`,
  },
  /** The limit lies inside what is known. `by` is "by up to 6 s", or that nobody knows. */
  perhaps: {
    short: (by: string): string => `may be short of the minimum, ${by}`,
    over: (by: string): string => `may be over the limit, ${by}`,
    early: (by: string): string => `may have closed too early, ${by}`,
    late: (by: string): string => `may be outside the window, ${by}`,
    'gap-short': (by: string): string => `time between coats may be short, ${by}`,
    'rest-short': (by: string): string => `rest between exposures may be short, ${by}`,
  },
  byUpTo: (by: string): string => `by up to ${by}`,
  byUnknown: 'nobody knows by how much',
  passesOver: (count: number): string =>
    plural(count, { one: '1 pass over the limit', other: `${count} passes over the limit` }),
  said: (o: { readonly line: string; readonly said: string }): string => `${o.line} (${o.said})`,
  skippedFor: (reason: string): string => `skipped: ${reason}`,
  breach: (o: { readonly title: string; readonly by: string }): string => `${o.title}, ${o.by}`,
  windowStates: {
    open: 'open',
    kept: 'kept',
    'may-be-broken': 'may not have been kept',
    broken: 'not kept',
  } satisfies Record<Status, string>,
  min: (o: { readonly limit: string; readonly margin: string }): string =>
    `min ${o.limit}, margin ${o.margin}`,
  minUnknown: (limit: string): string => `min ${limit}, margin not known`,
  minOpen: (limit: string): string => `min ${limit}, open`,
  max: (o: { readonly limit: string; readonly margin: string }): string =>
    `max ${o.limit}, margin ${o.margin}`,
  maxUnknown: (limit: string): string => `max ${limit}, margin not known`,
  maxOpen: (limit: string): string => `max ${limit}, open`,

  wayBack: (o: { readonly what: string; readonly reason: string }): string =>
    `${o.what}. Reason: ${o.reason}.`,
  wayBackVoiding: (o: {
    readonly what: string;
    readonly reason: string;
    readonly voided: readonly string[];
  }): string => `${o.what}. Reason: ${o.reason}. No longer counts: ${o.voided.join(', ')}.`,
  correction: (o: { readonly at: string; readonly who: string; readonly what: string }): string =>
    `${o.at}, ${o.who}: ${o.what}`,
  correctionUndone: (o: {
    readonly at: string;
    readonly who: string;
    readonly what: string;
  }): string => `${o.at}, ${o.who}: ${o.what} - itself taken back`,
  theApp: 'the app',
  takenBack: (o: { readonly press: number; readonly at: string; readonly was: string }): string =>
    `press ${o.press} of ${o.at} taken back (${o.was})`,
  movedEarlier: (o: {
    readonly press: number;
    readonly at: string;
    readonly by: string;
    readonly was: string;
  }): string => `press ${o.press} of ${o.at} moved ${o.by} earlier (${o.was})`,
  movedLater: (o: {
    readonly press: number;
    readonly at: string;
    readonly by: string;
    readonly was: string;
  }): string => `press ${o.press} of ${o.at} moved ${o.by} later (${o.was})`,
  gapSettled: (o: { readonly gap: number; readonly length: string }): string =>
    `gap ${o.gap} settled at ${o.length}`,
  planChanged: (reason: string): string => `plan changed: ${reason}`,
  portionAdded: (o: { readonly units: readonly string[]; readonly reason: string }): string =>
    `new portion for units ${o.units.join(', ')}: ${o.reason}`,
  gapCauses: {
    closed: 'the app was closed',
    'asleep-or-moved': 'the tablet slept or its clock was moved forward',
    'moved-back': 'the tablet’s clock was set back',
    'other-tablet': 'the case went on at another tablet, by clocks of its own',
  } satisfies Record<GapCause, string>,
  gap: (o: { readonly at: string; readonly cause: string; readonly length: string }): string =>
    `${o.at}: ${o.cause}, ${o.length}`,
  gapSettledByPeople: (gap: string): string => `${gap}, settled by people`,
  gapOpenAbove: (gap: string): string => `${gap}, upper end not known`,
  noteAfterSigning: 'after the signature',

  planned: (o: Told): string => `${o.title}: planned ${o.planned}, done ${o.done}`,
  plannedAsDone: (o: Told): string =>
    `${o.title}: planned ${o.planned}, done ${o.done}, ended as planned`,
  plannedLater: (o: Told & { readonly by: string }): string =>
    `${o.title}: planned ${o.planned}, done ${o.done}, ended ${o.by} later`,
  plannedEarlier: (o: Told & { readonly by: string }): string =>
    `${o.title}: planned ${o.planned}, done ${o.done}, ended ${o.by} earlier`,
  notAtAll: 'not at all',
  at: (clock: string): string => `at ${clock}`,
  wholeCase: (o: { readonly planned: string; readonly took: string }): string =>
    `Whole case: planned ${o.planned}, took ${o.took}`,
  wholeCaseSoFar: (o: { readonly planned: string; readonly soFar: string }): string =>
    `Whole case: planned ${o.planned}, so far ${o.soFar}`,

  chainWhole: (entries: number): string =>
    plural(entries, {
      one: '1 entry holds, its hash fits',
      other: `${entries} entries hold, each hash fits the next`,
    }),
  chainCut: (o: { readonly entries: number; readonly named: number }): string =>
    `Cut short: ${o.entries} of the ${o.named} entries that the anchor names are here`,
  chainDiffers: (entries: number): string =>
    `Entry ${entries} is not the one that the anchor names`,
  anchor: (text: string): string => `Anchor: ${text}`,
  anchorSigned: (key: string): string =>
    `Signed with key ${key}. The tablet with that key held these entries. The signature does not show who pressed, or whether the tablet’s clock was right.`,
  anchorPlain: 'Not signed.',
  anchoredUpTo: (o: {
    readonly entries: number;
    readonly at: string;
    readonly knownTo: number;
  }): string =>
    plural(o.knownTo, {
      one: `Anchored up to entry ${o.entries} (${o.at}), known to 1 other tablet`,
      other: `Anchored up to entry ${o.entries} (${o.at}), known to ${o.knownTo} other tablets`,
    }),
  notAnchored: 'Not anchored yet: before a head has left the tablet, nothing shows a later change',
  anchorUnchecked: 'Signed, but the signature was not checked.',
  chainBroken: (o: { readonly entries: number; readonly apart: number }): string =>
    plural(o.entries, {
      one: `1 entry holds; ${o.apart} set apart`,
      other: `${o.entries} entries hold; ${o.apart} set apart`,
    }),
  chainBrokenAt: (o: {
    readonly entries: number;
    readonly apart: number;
    readonly index: number;
    readonly reason: string;
  }): string =>
    plural(o.entries, {
      one: `1 entry holds, the first that does not is entry ${o.index} (${o.reason}); ${o.apart} set apart`,
      other: `${o.entries} entries hold, the first that does not is entry ${o.index} (${o.reason}); ${o.apart} set apart`,
    }),
  head: (hash: string): string => `Hash of the last entry: ${hash}`,
  govern:
    'This is a timer and a notebook for trained staff. Instructions for use and licensed judgement govern.',
};

export const calendar = {
  /** What a rehearsal is called among appointments. */
  rehearsal: (chartRef: string): string => `${chartRef} (rehearsal)`,
  preparation: (of: string): string => `Preparation: ${of}`,
  preparationWords:
    'Take refrigerated materials out to warm. Look at lots, expiry dates, light reading and charge.',
  preparationAlarm: (of: string): string => `Take refrigerated materials out: ${of}`,
  appointment: (of: string): string => `Cementation: ${of}`,
  appointmentAlarm: (of: string): string => `Cementation in 15 minutes: ${of}`,
  finishing: (of: string): string => `Finishing visit: ${of}`,
  finishingSoon: (of: string): string => `Finishing visit in 15 minutes: ${of}`,
  finishingAlarm: (of: string): string => `Finishing visit in 1 hour: ${of}`,
  finishingWords: (notBefore: string): string =>
    `Contacts stay closed until then. Not before ${notBefore}.`,
  teeth: (teeth: readonly string[]): string => `Teeth ${teeth.join(' ')} (FDI).`,
  teethAndProtocol: (o: { readonly teeth: readonly string[]; readonly protocol: string }): string =>
    `Teeth ${o.teeth.join(' ')} (FDI). ${o.protocol}.`,
  teethAndRevision: (o: {
    readonly teeth: readonly string[];
    readonly protocol: string;
    readonly revision: number;
  }): string => `Teeth ${o.teeth.join(' ')} (FDI). ${o.protocol}, revision ${o.revision}.`,
  dayBefore: (of: string): string => `Preparation, day before: ${of}`,
  dayBeforeWords:
    'Dry fit of every unit, slots labelled, lots and expiry dates, light reading, charge.',
  dayBeforeAlarm: (of: string): string => `Prepare tomorrow’s case: ${of}`,
  outNow: (o: { readonly material: string; readonly of: string }): string =>
    `${o.material} must be out now: ${o.of}`,
  recall: (of: string): string => `Recall: ${of}`,
  recallAlarm: (of: string): string => `Recall tomorrow: ${of}`,
};
