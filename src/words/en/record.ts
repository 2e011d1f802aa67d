/** The record of a case on one page. */
import type { SubjectState } from '../../engine/progress-types.ts';
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

export const record = {
  title: 'Record',
  reading: 'Reading the record',
  print: 'Print or save as PDF',
  goOn: 'Go on with this case',
  missing: 'This record cannot be read',
  lede: {
    patient: (chartRef: string): string => `${chartRef}. Patient case.`,
    rehearsal: (chartRef: string): string => `${chartRef}. Rehearsal.`,
  },
  where: 'Where',
  what: 'Who, what, with what',
  units: 'Units',
  order: 'Seating order',
  portions: 'Portions of cement',
  breaches: 'Limits that were not kept',
  mayBeBroken: 'Limits that may not have been kept',
  mayBeBrokenLede: 'The times are known as intervals, and the limit lies inside.',
  noBreaches: 'Every limit that was judged so far was kept.',
  exposure: 'Exposure given',
  exposureLede: 'Seconds of light given to each surface, and what was set for it.',
  steps: 'Steps',
  stepsLede: 'Time elapsed where a step is timed, and when it ended.',
  windows: 'Windows',
  windowsLede: 'What was left of each limit when the window closed.',
  noWindows: 'No window was opened.',
  waysBack: 'Ways back',
  correctionUndone: 'This correction was itself taken back later',
  addNote: 'Add a note',
  addNoteLede: 'It is added with today’s date. What was recorded stays as it is.',
  noteWords: 'Note',
  noteBy: 'Written by',
  noteDo: 'Add note',
  noteNotSaved: 'The note was not saved.',
  late: 'Added after the signature',
  materials: 'Materials and lots',
  materialsLede: 'Each lot, with the teeth it was used on and the steps it was used for.',
  noMaterials: 'The protocol names no material.',
  material: 'Material',
  lot: 'Lot',
  expires: 'Use by',
  recalledSince: (reason: string): string =>
    reason === '' ? 'marked as recalled since' : `marked as recalled since: ${reason}`,
  usedOn: 'Teeth',
  usedFor: 'Used for',
  noLot: 'not recorded',
  notUsed: 'not used',
  shades: 'Shades tried',
  /** "medium 1, 20 % modifier" as one paste. */
  paste: (parts: readonly string[]): string => parts.join(' '),
  shadeOfSet: (o: {
    readonly paste: string;
    readonly result: string;
    readonly judgedBy: string;
  }): string => `${o.paste}: ${o.result}, judged by ${o.judgedBy}`,
  shadeOf: (o: {
    readonly subject: string;
    readonly paste: string;
    readonly result: string;
    readonly judgedBy: string;
  }): string => `${o.subject}: ${o.paste}: ${o.result}, judged by ${o.judgedBy}`,
  light: (o: { readonly label: string; readonly irradiance: string }): string =>
    `${o.label}: ${o.irradiance}`,
  atBaseline: (tip: string): string => `${tip}. At its own baseline`,
  belowBaseline: (o: { readonly tip: string; readonly percent: number }): string =>
    `${o.tip}. ${o.percent} % below its own baseline`,
  aboveBaseline: (o: { readonly tip: string; readonly percent: number }): string =>
    `${o.tip}. ${o.percent} % above its own baseline`,
  tip: (tip: string): string => `Tip ${tip}`,
  tipRead: (o: { readonly tip: string; readonly on: string }): string =>
    `Tip ${o.tip}, read on ${o.on}`,
  room: (o: { readonly temperature: string; readonly lux: string }): string =>
    `${o.temperature}, ${o.lux}`,
  lastExposure: (at: string): string => `Last light given ${at}`,
  corrections: 'Corrections',
  correctionsLede: 'What was pressed first stays in the log.',
  noCorrections: 'Nothing was taken back or moved.',
  gaps: 'When nobody watched the clocks',
  noGaps: 'The clocks were watched without a break.',
  remarks: 'Notes',
  noRemarks: 'No notes.',
  verification: 'Log',
  chain: 'Chain of entries',
  chainGood: (entries: number): string =>
    plural(entries, {
      one: '1 entry, its hash fits',
      other: `${entries} entries, each hash fits the next`,
    }),
  chainBad: (o: { readonly good: number; readonly apart: number }): string => {
    const apart = plural(o.apart, {
      one: '1 entry after that does not fit and is set apart',
      other: `${o.apart} entries after that do not fit and are set apart`,
    });
    return plural(o.good, {
      one: `1 entry fits; ${apart}`,
      other: `${o.good} entries fit; ${apart}`,
    });
  },
  chainCutTodo: 'Look for a backup that holds the whole case.',
  anchor: 'Anchor',
  anchorage: 'On other tablets',
  chainBadTodo: 'The entries set apart stay as they were found. They are not part of this page.',
  chainBadWhere: 'This page shows what fits. What was set apart is under Log.',
  apartOf: (entries: number): string =>
    plural(entries, {
      one: 'The entry that was set apart',
      other: `The ${entries} entries that were set apart`,
    }),
  head: 'Hash of the last entry',
  empty: 'no entry',
  rehearsal: 'Rehearsal: no patient was treated.',
  drill: 'REHEARSAL, DRILL: no patient was treated.',
  stillOpen: 'This case is still open. Its record grows with it.',
  step: 'Step',
  tooth: 'Tooth',
  window: 'Window',
  limit: 'Limit',
  tightest: 'Smallest margin',
  margins: 'Each margin',
  atWorst: (margin: string): string => `${margin} at worst`,
  marginUnknown: 'not known',
  /** How it is known that a step was done, where no press was for it alone. */
  listed: (lines: number): string => `one of ${lines} lines confirmed together`,
  swept: 'swept with one press',
  implied: (by: string): string => `said by the press of “${by}”`,
  paced: 'paced by tones, confirmed afterwards',
  pacedTable: (title: string): string => `${title}, paced by tones`,
  partlyPacedTable: (title: string): string => `${title}, partly paced by tones`,
  ledByTones: 'Light led by tones',
  tonesHeard: 'Tones heard',
  tonesNotHeard: 'Tones not heard',
  passConfirmed: (o: { readonly title: string; readonly places: readonly string[] }): string =>
    `${o.title}: ${o.places.join(', ')}`,
  passNone: (title: string): string => `${title}: none of it was lit`,
  passOpen: (o: { readonly title: string; readonly places: readonly string[] }): string =>
    `${o.title}: paced, not confirmed. Nothing of it counts: ${o.places.join(', ')}`,
  passTurns: {
    begun: (at: string): string => `begun ${at}`,
    stopped: (at: string): string => `stopped ${at}`,
    resumed: (at: string): string => `resumed ${at}`,
  },
  passUnwatched: (at: string): string => `counted as stopped ${at}, no longer watched`,
  passConfirmedAt: (o: { readonly at: string; readonly by: string }): string =>
    `confirmed ${o.at} by ${o.by}`,
  passConfirmedWith: (o: { readonly at: string; readonly by: string; readonly step: string }) =>
    `confirmed ${o.at} by ${o.by}, with “${o.step}”`,
  passLeftOut: (places: readonly string[]): string => `left out: ${places.join(', ')}`,
  place: (o: { readonly subject: string; readonly surface: string }): string =>
    `${o.subject} ${o.surface}`,
  ofSet: (seconds: string): string => `of ${seconds}`,
  open: 'open',
  skipped: 'skipped',
  coats: (count: number): string => plural(count, { one: '1 coat', other: `${count} coats` }),
  passes: (count: number): string => plural(count, { one: '1 pass', other: `${count} passes` }),
  /** "12, 11": each as short as it is. */
  list: (parts: readonly string[]): string => parts.join(', '),
  /** The same where a part may have a comma of its own. */
  several: (parts: readonly string[]): string => parts.join('; '),
  sentences: (parts: readonly string[]): string => parts.join('. '),
  /** "12, 11: 20 s" */
  said: (words: string): string => `Said at the signature: ${words}`,
  skippedFor: (reason: string): string => `Skipped, ${reason}`,
  told: (o: { readonly of: string; readonly what: string }): string => `${o.of}: ${o.what}`,
  fromTo: (o: { readonly from: string; readonly to: string }): string => `${o.from} to ${o.to}`,
  orLater: (at: string): string => `${at} or later`,
  bead: (o: { readonly found: string; readonly at: string }): string =>
    `bead ${o.found} at ${o.at}`,
  unit: (o: { readonly restoration: string; readonly material: string }): string =>
    `${o.restoration} (${o.material})`,
  shade: (shade: string): string => `shade ${shade}`,
  notClosed: 'Not closed yet',
  closedBy: (o: { readonly at: string; readonly who: string; readonly role: string }): string =>
    `${o.at}, signed by ${o.who} (${o.role})`,
  person: (o: { readonly label: string; readonly role: string }): string =>
    `${o.label} (${o.role})`,
  unconfirmed: (o: { readonly revision: number; readonly hash: string }): string =>
    `Revision ${o.revision}, not confirmed by the clinic. Hash ${o.hash}`,
  confirmed: (o: {
    readonly revision: number;
    readonly hash: string;
    readonly by: string;
    readonly on: string;
  }): string => `Revision ${o.revision}, confirmed by ${o.by} on ${o.on}. Hash ${o.hash}`,
  takenBack: (o: { readonly press: number; readonly what: string; readonly at: string }): string =>
    `Press ${o.press} of ${o.at} taken back: ${o.what}`,
  movedEarlier: (o: {
    readonly press: number;
    readonly what: string;
    readonly by: string;
  }): string => `Press ${o.press} moved ${o.by} earlier: ${o.what}`,
  movedLater: (o: { readonly press: number; readonly what: string; readonly by: string }): string =>
    `Press ${o.press} moved ${o.by} later: ${o.what}`,
  settled: (length: string): string => `Gap settled at ${length}`,
  gapSettled: 'Settled by a person; see Corrections',
  planChanged: (reason: string): string => `Plan changed: ${reason}`,
  portionAdded: (o: { readonly units: string; readonly reason: string }): string =>
    `New portion for ${o.units}: ${o.reason}`,
  wayBack: (o: { readonly title: string; readonly reason: string }): string =>
    `${o.title}. ${o.reason}`,
  wayBackOf: (o: {
    readonly subject: string;
    readonly title: string;
    readonly reason: string;
  }): string => `${o.subject}: ${o.title}. ${o.reason}`,
  voided: (titles: readonly string[]): string => `No longer counts: ${titles.join(', ')}`,
  facts: {
    chart: 'Chart reference',
    mode: 'Kind',
    opened: 'Opened',
    closed: 'Closed',
    stopped: 'Stopped early',
    people: 'People',
    protocol: 'Protocol',
    light: 'Curing light',
    room: 'Room',
    follows: 'Follows case',
    allergies: 'Allergies',
    note: 'Note',
  },
  mode: { patient: 'Patient case', rehearsal: 'Rehearsal' },
  toothState: {
    waiting: 'open',
    active: 'open',
    running: 'running',
    done: 'done',
    over: 'over',
    short: 'short',
    skipped: 'skipped',
  } satisfies Record<SubjectState, string>,
  /** The limit lies inside what is known. */
  toothPerhaps: { over: 'over?', short: 'short?' },
  govern:
    'This is a timer and a notebook for trained staff. Instructions for use and licensed judgement govern.',
};
