/** Words of the clinic lead's desk: the lock, what is on it, its log. */
import type { LeadDeed } from '../codes.ts';
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

interface ProtocolRevision {
  readonly protocol: string;
  readonly revision: string;
}

interface LotReason {
  readonly lot: string;
  readonly reason: string;
}

export const lead = {
  title: 'The lead’s desk',
  lede: 'The numbers of the protocols are changed and confirmed here. Whoever confirms them answers for them.',
  link: 'The lead’s desk',
  reading: 'Reading what is on this tablet',
  noLock: 'This browser cannot protect a passphrase.',
  noLockTodo: 'Open the app over HTTPS, or on the tablet itself.',
  firstTitle: 'Nobody has set a passphrase for this desk yet',
  firstLede:
    'Only a salted, slow hash of it is saved on this tablet. It cannot be read back or sent to you. Write it down where the clinic keeps such things.',
  openTitle: 'Open the desk',
  openLede: (keeper: string): string =>
    `The passphrase was set by ${keeper}. Protocols can be read without it.`,
  person: 'Who answers for the numbers',
  personHint: 'Initials or a short label, as it will stand beside each confirmed number',
  passphrase: 'Passphrase',
  passphraseHint: 'At least 8 characters. Several words are easier to remember.',
  again: 'Repeat it',
  notSame: 'The two passphrases differ.',
  set: 'Set it and open the desk',
  open: 'Open',
  opening: 'Checking',
  forgotten: 'The passphrase is forgotten',
  forgottenLede:
    'Nobody can recover it. You can set a new one here. The log will always say so, and every revision that was confirmed before is marked “before the reset”.',
  reason: 'Why a new one is set',
  reset: 'Set a new passphrase',
  closedIdle: 'The desk closed itself after five minutes without a touch. Drafts are saved.',
  close: 'Close the desk',
  back: 'Back to the desk',
  drafts: 'Drafts',
  draftsLede: 'A draft cannot be used on a patient until it is confirmed.',
  noDrafts: 'No drafts. Begin one here, or start from a protocol below.',
  begun: (o: { readonly by: string; readonly on: string }): string => `Started by ${o.by}, ${o.on}`,
  fromFile: 'From a file, unconfirmed',
  edits: (count: number): string => plural(count, { one: '1 edit', other: `${count} edits` }),
  toConfirm: (count: number): string =>
    count === 0
      ? 'Every number has its instructions'
      : plural(count, {
          one: '1 number without instructions',
          other: `${count} numbers without instructions`,
        }),
  drop: 'Discard',
  dropName: (title: string): string => `Discard the draft of ${title}`,
  protocols: 'Protocols',
  protocolsLede: 'New cases use the newest confirmed revision.',
  draft: 'Draft a change',
  draftName: (title: string): string => `Draft a change of ${title}`,
  exportDo: 'Export',
  exportName: (title: string): string => `Export ${title} as a file`,
  exportDraftName: (title: string): string => `Export the draft of ${title} as a file`,
  card: 'Wall card',
  retire: 'Retire',
  retireName: (title: string): string => `Retire the revision of ${title} that is in use`,
  retireTitle: 'Retire this revision',
  retireLede:
    'New patient cases can no longer use it. Running cases stay on it. The revision and its hash stay on this tablet.',
  retireReason: 'Why',
  revisions: 'Revisions',
  revisionsOf: (count: number): string => `Revisions: ${count}`,
  revision: 'Revision',
  hash: 'Hash (SHA-256)',
  standing: 'Status',
  confirmedBy: 'Confirmed by',
  confirmed: (o: { readonly by: string; readonly on: string }): string => `${o.by}, ${o.on}`,
  inUse: 'In use',
  retired: (reason: string): string => `Retired: ${reason}`,
  bringBack: 'Put back in force',
  bringBackName: (revision: number): string => `Put revision ${revision} back in force`,
  sameNumber:
    'Two revisions share a number because they were confirmed on two tablets. Their hashes differ.',
  otherLog: (o: { readonly tablet: string; readonly entries: number }): string =>
    plural(o.entries, {
      one: `Log of another tablet (${o.tablet}): 1 entry`,
      other: `Log of another tablet (${o.tablet}): ${o.entries} entries`,
    }),
  otherLogLede:
    'As a backup told it. What was confirmed there counts here once this desk confirms it.',
  inUseBeforeReset: 'In use. Confirmed before the passphrase was reset',
  retiredBeforeReset: (reason: string): string =>
    `Retired: ${reason}. Confirmed before the passphrase was reset`,
  refusedStored: 'A stored protocol is not what was confirmed. It is not used.',
  refusedStoredMore: (o: {
    readonly id: string;
    readonly was: string;
    readonly is: string;
  }): string =>
    `${o.id}: confirmed as ${o.was}, stored as ${o.is}. It is in the log. Confirm the numbers again in a draft, or restore a backup.`,
  more: 'More at this desk',
  sheets: 'Product sheets',
  sheetsLede: 'The instructions in hand, number by number, and what a new revision changes.',
  otherClinics: 'Other clinics',
  otherClinicsLede: 'Files from other clinics and for them.',
  ownTimes: 'Our own times',
  ownTimesLede: 'How long steps really took here, and which windows were broken.',
  log: 'Log',
  logLede:
    'Everything that was done here. Entries are only added. Each carries the hash of the one before it.',
  logWhole: 'The chain is intact from the first entry.',
  logBroken: (count: number): string =>
    plural(count, {
      one: 'The chain is broken in one place.',
      other: `The chain is broken in ${count} places.`,
    }),
  logBrokenMore: 'Somebody or something changed entries outside this app.',
  logExport: 'Export the log',
  logWhen: 'When',
  logWho: 'Who',
  logWhat: 'What',
  logHash: 'Hash',
  nobody: 'Desk closed',
  failed: 'That did not work.',
  deeds: {
    'passphrase-set': 'Set the first passphrase',
    'passphrase-reset': (o: { readonly person: string; readonly reason: string }): string =>
      `Passphrase reset by ${o.person}: ${o.reason}`,
    opened: 'Opened the desk',
    'passphrase-refused': (attempt: string): string =>
      `Wrong passphrase refused, attempt ${attempt}`,
    closed: {
      idle: 'The desk closed itself, idle for five minutes',
      left: 'The desk closed when it was left',
      'by-hand': 'Closed the desk',
    },
    'draft-begun': (o: { readonly protocol: string; readonly from: string }): string =>
      o.from === ''
        ? `Started a new protocol, ${o.protocol}, blank`
        : `Started a draft of ${o.protocol} from ${o.from}`,
    'draft-dropped': (protocol: string): string => `Discarded a draft of ${protocol}`,
    confirmed: (
      o: ProtocolRevision & { readonly hash: string; readonly second: string },
    ): string => {
      const what = `Confirmed ${o.protocol}, revision ${o.revision}, hash ${o.hash}`;
      return o.second === '' ? what : `${what}, together with ${o.second}`;
    },
    'entry-removed': (
      o: ProtocolRevision & { readonly entry: string; readonly reason: string },
    ): string => `Removed “${o.entry}” from ${o.protocol}, revision ${o.revision}: ${o.reason}`,
    'correction-kept': (o: {
      readonly protocol: string;
      readonly what: string;
      readonly template: string;
      readonly reason: string;
    }): string =>
      `Kept “${o.what}” of ${o.protocol} as it is, against template ${o.template}: ${o.reason}`,
    'back-in-force': (o: ProtocolRevision): string =>
      `Put revision ${o.revision} of “${o.protocol}” back in force`,
    retired: (o: ProtocolRevision & { readonly reason: string }): string =>
      `Retired ${o.protocol}, revision ${o.revision}: ${o.reason}`,
    exported: (o: ProtocolRevision & { readonly hash: string }): string =>
      `Exported ${o.protocol}, revision ${o.revision}, hash ${o.hash}`,
    imported: (o: { readonly protocol: string; readonly hash: string }): string =>
      `Imported ${o.protocol}, hash ${o.hash}, as a draft`,
    'import-refused': (o: {
      readonly place: string;
      readonly expected: string;
      readonly came: string;
    }): string => `Refused a file at ${o.place}: expected ${o.expected}, got ${o.came}`,
    'stored-refused': (o: {
      readonly document: string;
      readonly was: string;
      readonly is: string;
    }): string => `Refused stored ${o.document}: confirmed as ${o.was}, found ${o.is}`,
    'second-person': {
      asked: 'Asked for a second person to confirm each revision',
      notAsked: 'No longer asks for a second person to confirm each revision',
    },
    'break-noted': (broken: string): string =>
      `Noted that the log does not hold together: places ${broken}. It counts again from here`,
    'sheet-kept': (o: {
      readonly document: string;
      readonly revision: string;
      readonly hash: string;
    }): string => `Kept the sheet “${o.document}”, revision ${o.revision}, hash ${o.hash}`,
    'sheet-put-away': (document: string): string => `Put away the sheet “${document}”`,
    'lot-recalled': (o: LotReason): string => `Marked lot ${o.lot} as recalled: ${o.reason}`,
    'lot-recalled-at-shelf': (o: LotReason & { readonly person: string }): string =>
      [
        o.person === ''
          ? `Lot ${o.lot} was marked as recalled away from the desk; nobody gave a name`
          : `Lot ${o.lot} was marked as recalled away from the desk by ${o.person}`,
        o.reason === '' ? 'no reason was given' : o.reason,
      ].join(': '),
    'recall-lifted': (o: LotReason): string =>
      `Removed the recall mark of lot ${o.lot}: ${o.reason}`,
    'drill-note': (o: {
      readonly protocol: string;
      readonly seed: string;
      readonly words: string;
    }): string =>
      `After a drill of ${o.protocol}, seed ${o.seed}, somebody noted what would make it easier: ${o.words}`,
    'drills-signed': (words: string): string => `Signed for all drills: “${words}”`,
  } satisfies Record<LeadDeed, object | string>,
  waiting: 'Waiting for you',
  waitingLede:
    'Confirmed on another tablet, brought here by a backup. Nothing of it is in force on this tablet. Draft a change of it, read it against the instructions, and confirm it.',
  waitingLine: (o: { readonly by: string; readonly on: string; readonly hash: string }): string =>
    `Confirmed elsewhere by ${o.by}, ${o.on}, hash ${o.hash}`,
  problems: {
    'wrong-passphrase': 'That is not the passphrase. The attempt is in the log.',
    wait: (time: string): string => `Too many attempts. Try again in ${time}.`,
    'too-short': 'The passphrase needs at least 8 characters.',
    'already-set': 'A passphrase is set already.',
    noPerson: 'Say who answers for the numbers.',
    noReason: 'Say why.',
    'desk-closed': 'The desk has closed itself. Open it again. The draft is saved.',
    'not-writer': 'Another window of this app is writing. Take over in this one first.',
    'unconfirmed-figures': 'Some numbers have no instructions behind them yet.',
    faults: 'The protocol has faults. They are listed beside the numbers.',
    'no-second': 'Give the name of the second person.',
    oneAlone: 'One person confirmed it, and two do so now. Begin a draft from it and confirm that.',
    'same-person': 'This person worked on the draft. It has to be somebody else.',
    'quote-differs': 'A number is not the one that its quote gives. The checks name it.',
    changed:
      'The file was changed after it was exported: its hash does not fit. It was not taken in.',
    notProtocolFile: (detail: string): string =>
      `This is not a protocol file that a desk exported. ${detail}`,
    other: (o: {
      readonly place: string;
      readonly expected: string;
      readonly came: string;
    }): string => `${o.place}: expected ${o.expected}, got ${o.came}.`,
  },
};
