/** Words of the clinic lead's desk: the lock, what is on it, the log, the exchange. */
import { unreachable } from '../base/assert.ts';
import type { Problem } from '../base/problem.ts';
import type { LeadDeed, LeadValues } from './codes.ts';
import { formatWords } from './duration.ts';

export const leadWords = {
  title: 'The lead’s desk',
  lede: 'Where the numbers of the protocols are changed, and who answers for them.',
  link: 'The lead’s desk',
  reading: 'Reading what is on this tablet',
  noLock: 'This browser offers no way to keep a passphrase.',
  noLockTodo: 'Open the app over HTTPS, or on the tablet itself.',
  firstTitle: 'Nobody keeps this desk yet',
  firstLede:
    'The passphrase is kept only as a salted, slow hash on this tablet. It cannot be read back or sent to you. Write it down where the clinic keeps such things.',
  openTitle: 'Open the desk',
  openLede: (keeper: string): string => `Kept by ${keeper}. Reading protocols needs no passphrase.`,
  person: 'Who answers for the numbers',
  personHint: 'Initials or a short label, as it will stand beside each confirmed number',
  passphrase: 'Passphrase',
  passphraseHint: 'At least 8 characters; several words are easier to keep',
  again: 'The same once more',
  notSame: 'The two are not the same.',
  set: 'Set it and open the desk',
  open: 'Open',
  opening: 'Checking',
  forgotten: 'The passphrase is forgotten',
  forgottenLede:
    'Nobody can bring it back. You can set a new one here. The log will say so for good, and every revision that was confirmed before is marked “before the reset”.',
  reason: 'Why it is set anew',
  reset: 'Set a new passphrase',
  closedIdle: 'The desk closed itself after five minutes without a touch. Drafts are kept.',
  close: 'Close the desk',
  back: 'The desk',
  drafts: 'Drafts',
  draftsLede: 'Nothing here can be used on a patient until it is confirmed.',
  noDrafts: 'No draft. Begin one from a protocol below.',
  begun: (o: { readonly by: string; readonly on: string }): string => `Begun by ${o.by}, ${o.on}`,
  fromFile: 'From a file, unconfirmed',
  edits: (n: number): string => (n === 1 ? '1 edit' : `${n} edits`),
  toConfirm: (n: number): string =>
    n === 0 ? 'every number has its instruction' : `${n} numbers without an instruction`,
  drop: 'Drop',
  dropName: (title: string): string => `Drop the draft of ${title}`,
  protocols: 'Protocols',
  protocolsLede: 'Cases begin with the newest confirmed revision.',
  draft: 'Draft a change',
  draftName: (title: string): string => `Draft a change of ${title}`,
  exportDo: 'Export',
  exportName: (title: string): string => `Export ${title} as a file`,
  card: 'Wall card',
  retire: 'Retire',
  retireName: (title: string): string => `Retire the revision of ${title} that is in use`,
  retireTitle: 'Take this revision out of use',
  retireLede:
    'No patient case can begin on it any more. Cases that run stay on it. The revision and its hash are kept.',
  retireReason: 'Why',
  revisions: 'Revisions',
  revision: 'Revision',
  hash: 'Hash (SHA-256)',
  standing: 'Standing',
  confirmedBy: 'Confirmed',
  inUse: 'In use',
  retired: (reason: string): string => `Retired: ${reason}`,
  beforeReset: 'Confirmed before the passphrase was reset',
  refusedStored: 'A stored protocol is not what was confirmed. It is not used.',
  refusedStoredMore: (o: { readonly id: string; readonly was: string; readonly is: string }) =>
    `${o.id}: confirmed as ${o.was}, stored as ${o.is}. The log keeps this. Confirm the numbers anew in a draft, or bring a backup.`,
  more: 'More at this desk',
  exchange: 'Exchange',
  exchangeLede: 'Files from and for other clinics.',
  learning: 'Learning',
  learningLede: 'How long steps really took here, and which windows were broken.',
  log: 'Log',
  logLede:
    'Everything that was done here. Entries are only added; each carries the hash of the one before it.',
  logWhole: 'The chain holds from the first entry.',
  logBroken: (n: number): string =>
    n === 1 ? 'The chain is broken in one place.' : `The chain is broken in ${n} places.`,
  logBrokenMore: 'Somebody or something changed entries outside this app.',
  logExport: 'Export the log',
  logWhen: 'When',
  logWho: 'Who',
  logWhat: 'What',
  logHash: 'Hash',
  nobody: 'desk closed',
  failed: 'That did not work.',
} as const;

/** What a line of the log tells. */
interface Deed {
  readonly deed: LeadDeed;
  readonly values: LeadValues;
}

const text = (entry: Deed, key: string): string => String(entry.values[key] ?? '');
const short = (entry: Deed, key: string): string => text(entry, key).slice(0, 8);

/** One entry of the log as a sentence. */
export function deedWords(entry: Deed): string {
  switch (entry.deed) {
    case 'passphrase-set':
      return 'Set the first passphrase';
    case 'passphrase-reset':
      return `Passphrase reset to one of ${text(entry, 'person')}: ${text(entry, 'reason')}`;
    case 'opened':
      return 'Opened the desk';
    case 'passphrase-refused':
      return `Wrong passphrase refused, attempt ${text(entry, 'failed')}`;
    case 'closed':
      return CLOSED[text(entry, 'why')] ?? 'Closed the desk';
    case 'draft-begun':
      return `Began a draft of ${text(entry, 'protocol')} from ${short(entry, 'from')}`;
    case 'draft-dropped':
      return `Dropped a draft of ${text(entry, 'protocol')}`;
    case 'confirmed':
      return `Confirmed ${text(entry, 'protocol')}, revision ${text(entry, 'revision')}, hash ${short(entry, 'hash')}`;
    case 'entry-removed':
      return `Took “${text(entry, 'entry')}” out of ${text(entry, 'protocol')}, revision ${text(entry, 'revision')}: ${text(entry, 'reason')}`;
    case 'retired':
      return `Retired ${text(entry, 'protocol')}, revision ${text(entry, 'revision')}: ${text(entry, 'reason')}`;
    case 'exported':
      return `Exported ${text(entry, 'protocol')}, revision ${text(entry, 'revision')}, hash ${short(entry, 'hash')}`;
    case 'imported':
      return `Imported ${text(entry, 'protocol')}, hash ${short(entry, 'hash')}, as a draft`;
    case 'import-refused':
      return `Refused a file at ${text(entry, 'place')}: expected ${text(entry, 'expected')}, got ${text(entry, 'came')}`;
    case 'stored-refused':
      return `Refused stored ${text(entry, 'document')}: confirmed as ${short(entry, 'approvedHash')}, found ${short(entry, 'storedHash')}`;
    default:
      return unreachable(entry.deed);
  }
}

const CLOSED: Readonly<Record<string, string>> = {
  idle: 'The desk closed itself, idle for five minutes',
  left: 'The desk closed when it was left',
  'by-hand': 'Closed the desk',
};

/** What the desk refused, and what to do. */
export function leadProblemWords(problem: Problem): string {
  switch (problem.code) {
    case 'wrong-passphrase':
      return 'That is not the passphrase. The attempt is in the log.';
    case 'wait':
      return `Too many attempts. The next one is taken in ${formatWords(Number(problem.came), 'up')}.`;
    case 'too-short':
      return 'The passphrase needs at least 8 characters.';
    case 'already-set':
      return 'A passphrase is set already.';
    case 'no-crypto':
      return leadWords.noLock;
    case 'empty':
      return `This is missing: ${problem.expected}.`;
    case 'desk-closed':
      return 'The desk has closed itself. Open it again; the draft is kept.';
    case 'not-writer':
      return 'Another window of this app is writing. Take over there first.';
    case 'unconfirmed-figures':
      return 'Some numbers have no instruction behind them yet.';
    case 'faults':
      return 'The protocol has faults. They are listed beside the numbers.';
    case 'changed':
      return 'The file was changed after it was exported: its hash does not fit. It was not taken in.';
    default:
      return `${problem.place}: expected ${problem.expected}, got ${problem.came}.`;
  }
}
