/** Words of the record. */
import type { SubjectState } from '../engine/types.ts';
import type { Role } from '../protocol/types.ts';
import { formatWords } from './duration.ts';

export const recordWords = {
  title: 'Record',
  reading: 'Reading the record',
  print: 'Print or save as PDF',
  goOn: 'Go on with this case',
  missing: 'This record cannot be read',
  where: 'Where',
  what: 'Who, what, with what',
  units: 'Units',
  order: 'Seating order',
  mixes: 'Mixes of cement',
  noMixes: 'No mix in this protocol',
  breaches: 'Bounds that were not kept',
  noBreaches: 'Every bound that was judged so far was kept.',
  exposure: 'Exposure given',
  exposureLede: 'Seconds of light on each surface, and what was set for it.',
  steps: 'Steps',
  stepsLede:
    'Time elapsed where a step is timed, and the moment it was ended. Times of day as on this tablet.',
  windows: 'Windows',
  windowsLede: 'What was left of each limit when the window was closed.',
  noWindows: 'No window was opened.',
  waysBack: 'Ways back',
  correctionUndone: 'Itself taken back later',
  addNote: 'Add a note',
  addNoteLede: 'It is added with today’s date. What was recorded stays as it is.',
  noteWords: 'Note',
  noteBy: 'Who writes it',
  noteDo: 'Add it',
  noteNotKept: 'The note was not kept.',
  late: 'Added after the signature',
  materials: 'Materials and lots',
  materialsLede: 'Each lot with the teeth and steps it was used for.',
  noMaterials: 'The protocol names no material.',
  material: 'Material',
  lot: 'Lot',
  expires: 'Expires',
  usedOn: 'Teeth',
  usedFor: 'Used for',
  noLot: 'not recorded',
  notUsed: 'not used',
  shades: 'Shades tried',
  shadeLine: (o: {
    readonly subject: string;
    readonly paste: string;
    readonly result: string;
    readonly judgedBy: string;
  }): string => {
    const tried = `${o.paste}: ${o.result}, judged by ${o.judgedBy}`;
    return o.subject === '' ? tried : `${o.subject}: ${tried}`;
  },
  drift: (percent: number): string =>
    percent === 0
      ? 'At its own baseline'
      : `${Math.abs(percent)} % ${percent < 0 ? 'below' : 'above'} its own baseline`,
  lastExposure: (at: string): string => `Light last fell on it ${at}`,
  corrections: 'Corrections',
  correctionsLede: 'What was pressed first stays in the log.',
  noCorrections: 'Nothing was taken back or moved.',
  gaps: 'Times nobody watched the clocks',
  noGaps: 'The clocks were watched without a break.',
  remarks: 'Notes',
  noRemarks: 'No notes.',
  verification: 'Log',
  chain: 'Chain of entries',
  chainGood: (entries: number): string =>
    entries === 1
      ? '1 entry, each hash fits the next'
      : `${entries} entries, each hash fits the next`,
  chainBad: (o: { readonly good: number; readonly apart: number }): string =>
    `${o.good} entries fit; ${o.apart} after them do not and are set apart`,
  chainBadTodo:
    'The entries set apart are kept as they were found. They are not part of this page.',
  chainBadWhere: 'This page tells what fits. What was set apart stands under Log.',
  apartOf: (entries: number): string =>
    entries === 1 ? 'The entry that was set apart' : `The ${entries} entries that were set apart`,
  head: 'Hash of the last entry',
  empty: 'no entry',
  rehearsal: 'Rehearsal: no patient was treated.',
  stillOpen: 'This case is still open. The record grows with it.',
  step: 'Step',
  tooth: 'Tooth',
  window: 'Window',
  limit: 'Limit',
  tightest: 'Smallest margin',
  margins: 'Margin of each',
  ofSet: (seconds: string): string => `of ${seconds}`,
  open: 'open',
  notDone: 'not done',
  skipped: 'skipped',
  coats: (count: number): string => (count === 1 ? '1 coat' : `${count} coats`),
  passes: (count: number): string => (count === 1 ? '1 pass' : `${count} passes`),
  mix: (n: number): string => `Mix ${n}`,
  bead: (o: { readonly found: string; readonly at: string }): string =>
    `bead ${o.found} at ${o.at}`,
  shade: (shade: string): string => `shade ${shade}`,
  tip: (tip: string): string => `Tip ${tip}`,
  tipRead: (o: { readonly tip: string; readonly on: string }): string =>
    `Tip ${o.tip}, read on ${o.on}`,
  notClosed: 'Not closed yet',
  closedBy: (o: { readonly at: string; readonly who: string; readonly role: Role }): string =>
    `${o.at}, signed by ${o.who} (${o.role})`,
  protocolNote: (o: {
    readonly revision: number;
    readonly hash: string;
    readonly confirmed: { readonly by: string; readonly on: string } | null;
  }): string =>
    o.confirmed === null
      ? `Revision ${o.revision}, not confirmed by the clinic. Hash ${o.hash}`
      : `Revision ${o.revision}, confirmed by ${o.confirmed.by} on ${o.confirmed.on}. Hash ${o.hash}`,
  takenBack: (o: { readonly press: number; readonly what: string; readonly at: string }): string =>
    `Taken back: press ${o.press}, ${o.what}, of ${o.at}`,
  moved: (o: { readonly press: number; readonly what: string; readonly byMs: number }): string => {
    const span = formatWords(Math.abs(o.byMs));
    return o.byMs < 0
      ? `Moved ${span} earlier: press ${o.press}, ${o.what}`
      : `Moved ${span} later: press ${o.press}, ${o.what}`;
  },
  settled: (lengthMs: number): string => `A gap was settled at ${formatWords(lengthMs)}`,
  gapSettled: 'Settled by a person; see the corrections',
  planChanged: (reason: string): string => `Plan changed: ${reason}`,
  mixAdded: (o: { readonly units: string; readonly reason: string }): string =>
    `New mix for ${o.units}: ${o.reason}`,
  wayBack: (o: {
    readonly subject: string;
    readonly title: string;
    readonly reason: string;
  }): string =>
    o.subject === '' ? `${o.title}. ${o.reason}` : `${o.subject}: ${o.title}. ${o.reason}`,
  voided: (titles: string): string => `No longer counts: ${titles}`,
  facts: {
    chart: 'Chart reference',
    mode: 'Kind',
    opened: 'Opened',
    closed: 'Closed',
    people: 'People',
    protocol: 'Protocol',
    light: 'Curing light',
    room: 'Room',
    follows: 'Goes on from case',
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
  govern:
    'This is a timer and a notebook for trained staff. Instructions for use and licensed judgement govern.',
} as const;
