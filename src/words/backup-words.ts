/** Words of the backup page. */
import type { Problem } from '../base/problem.ts';
import type { ApartWhy, RestoreCounts } from './codes.ts';

const cases = (count: number): string => (count === 1 ? '1 case' : `${count} cases`);

export const backupWords = {
  title: 'Backup',
  lede: 'One encrypted file with everything on this tablet: cases, protocols, materials, settings.',
  toCases: 'All cases',
  make: 'Make a backup',
  last: 'Last backup',
  lastNever: 'None was made on this tablet.',
  lastMade: (o: { readonly when: string; readonly cases: number }): string =>
    `${o.when}, ${cases(o.cases)}`,
  passphrase: 'Passphrase',
  passphraseHint:
    'At least 12 characters; four or more words are good. Nobody can open the file without it.',
  repeat: 'The same again',
  repeatWrong: 'The two do not agree.',
  short: 'At least 12 characters.',
  makeDo: 'Make the file',
  written: (count: number): string => `Writing: ${cases(count)}`,
  ready: (size: string): string => `The file is ready, ${size}.`,
  save: 'Save it again',
  share: 'Hand it on',
  keepElsewhere: 'Keep it on another device. A tablet that is lost takes its own copies along.',
  restore: 'Bring a backup back',
  restoreLede:
    'What is in the file is added to what is here. Nothing here is lost, and doing it twice changes nothing.',
  file: 'File',
  fileNone: 'Choose a file',
  restoreDo: 'Bring it back',
  running: 'A case is running. Close it or leave it first.',
  checking: (count: number): string => `Checking the file: ${cases(count)}`,
  merging: (o: { readonly done: number; readonly of: number }): string =>
    `Adding: ${o.done} of ${o.of} cases`,
  done: 'The backup is here',
  failed: 'Nothing was changed.',
  failedPart: 'A part of it is here. Bring it back again for the rest.',
  facts: {
    added: 'Cases added',
    continued: 'Cases that got longer or were mended',
    same: 'Cases that were here already',
    deleted: 'Cases that stay deleted',
    differing: 'Cases that differ from those here',
    documents: 'Protocols, materials, settings taken',
    apart: 'Set apart',
  },
  differingNote: 'The ones here were kept. The others are set apart and go into the next backup.',
  apartNote: 'Kept beside what is shown, because two tablets had changed the same thing.',
  apart: (count: number): string =>
    count === 1 ? 'Set apart: 1 thing' : `Set apart: ${count} things`,
  apartLede: 'It fits nowhere and is kept as it was found. Each backup takes it along.',
  apartWhy: {
    damaged: 'Damaged here, and replaced or left out.',
    'other-entry': 'An entry that another copy has otherwise.',
    'other-case': 'A case of a backup that differs from the one here.',
    'apart-before': 'What a backup had already set apart.',
    'gave-way': 'An earlier or other state of a document.',
  } satisfies Record<ApartWhy, string>,
  apartShow: 'As it was found',
  format: 'How the file is made',
  formatLines: [
    'One line of JSON, then chunks of 1 MiB, each AES-256-GCM (NIST SP 800-38D), numbered, the last one marked.',
    'The key comes from the passphrase by PBKDF2 with HMAC-SHA-256 (RFC 8018), 600 000 rounds, with a random salt.',
    'Inside: gzip (RFC 1952) over lines of canonical JSON (RFC 8785), counts and a SHA-256 at the end.',
  ],
  keeping: 'Keeping on this tablet',
} as const;

const PROBLEMS: Readonly<Record<string, string>> = {
  'backup-not-one': 'This file is not a backup of this app.',
  'backup-unreadable': 'This file cannot be read. Choose it again.',
  'backup-newer': 'This backup was made by a newer version of the app. Update the app first.',
  'backup-wrong-passphrase': 'The passphrase does not open this file.',
  'backup-cut-short': 'This file is cut short. Fetch it again from where it was kept.',
  'backup-altered': 'This file was altered or damaged. Fetch it again from where it was kept.',
  'backup-contents': 'What is in this file does not hold together.',
  'no-crypto': 'This page was not served securely, so nothing can be encrypted here.',
  'not-writer': 'This window only reads. Press "Write here" above first.',
  'passphrase-short': backupWords.short,
};

/** One line for what went wrong. */
export function backupProblemWords(problem: Pick<Problem, 'code' | 'expected'>): string {
  return PROBLEMS[problem.code] ?? `It did not work: expected ${problem.expected}.`;
}

/** What a restore did, line by line; lines with nothing to say are left out. */
export function restoreFacts(report: RestoreCounts): readonly {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly note?: string;
}[] {
  const { facts } = backupWords;
  const line = (id: keyof typeof facts, count: number, note?: string) => ({
    id,
    label: facts[id],
    value: String(count),
    count,
    ...(note === undefined ? {} : { note }),
  });
  const lines = [
    line('added', report.casesAdded),
    line('continued', report.casesContinued),
    line('same', report.casesSame),
    line('deleted', report.casesDeleted),
    line('differing', report.casesDiffering, backupWords.differingNote),
    line('documents', report.documentsTaken),
    line('apart', report.setApart, backupWords.apartNote),
  ];
  return lines.filter(({ id, count }) => count > 0 || id === 'added');
}
