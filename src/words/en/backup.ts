/** The backup page. */
import type { ApartWhy, RestoredDeed, RestoredGroup } from '../codes.ts';
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

export const backup = {
  title: 'Backup',
  lede: 'One encrypted file with everything on this tablet: cases, protocols, materials, settings.',
  toCases: 'All cases',
  make: 'Make a backup',
  last: 'Last backup',
  lastNever: 'None made on this tablet yet.',
  lastMade: (o: { readonly when: string; readonly cases: number }): string =>
    plural(o.cases, { one: `${o.when}, 1 case`, other: `${o.when}, ${o.cases} cases` }),
  passphrase: 'Passphrase',
  passphraseHint:
    'At least 12 characters; four or more words work well. Without it nobody can open the file.',
  repeat: 'Passphrase again',
  repeatWrong: 'The two passphrases differ.',
  short: 'At least 12 characters.',
  makeDo: 'Make the file',
  written: (count: number): string =>
    plural(count, { one: 'Writing: 1 case', other: `Writing: ${count} cases` }),
  ready: (size: string): string => `The file is ready, ${size}.`,
  save: 'Save it again',
  share: 'Share it',
  saveElsewhere: 'Save it on another device too. A lost tablet takes its own copies with it.',
  restore: 'Restore a backup',
  restoreLede:
    'What is in the file is added to what is here. Nothing here is lost, and restoring twice changes nothing.',
  file: 'File',
  fileNone: 'Choose a file',
  restoreDo: 'Restore',
  running: 'A case is running. Close it first, or stop the rehearsal.',
  checking: (count: number): string =>
    plural(count, { one: 'Checking the file: 1 case', other: `Checking the file: ${count} cases` }),
  merging: (o: { readonly done: number; readonly of: number }): string =>
    plural(o.of, {
      one: `Adding: ${o.done} of 1 case`,
      other: `Adding: ${o.done} of ${o.of} cases`,
    }),
  done: 'The backup is restored',
  failed: (problem: string): string => `${problem} Nothing was changed.`,
  failedPart: (problem: string): string =>
    `${problem} Part of it is here. Restore it again for the rest.`,
  facts: {
    added: 'Cases added',
    continued: 'Cases that grew or were mended',
    same: 'Cases that were here already',
    deleted: 'Cases that stay deleted',
    differing: 'Cases that differ from those here',
    documents: 'Protocols, materials and settings taken',
    apart: 'Set apart',
  },
  differingNote: 'The ones here stay. The others are set apart and go into the next backup.',
  apartNote: 'Saved beside what is shown: damaged, or different from what is here.',
  /** A signature shows on which tablet a file was made. */
  seals: {
    none: 'The file is not signed: nothing shows on which tablet it was made.',
    own: 'The file was signed on this tablet.',
    other: (key: string): string =>
      `The file was signed on another tablet, with the key ${key}. This does not say that what it holds is right.`,
    unchecked: 'The file is signed, but this browser cannot check it.',
  },
  things: {
    revision: 'Protocol revisions',
    sheet: 'Product sheets',
    material: 'Lots',
    'prepared-case': 'Prepared cases',
    case: 'Cases',
    'follow-up': 'Follow-up of cases',
    'outcome-review': 'What is asked of the outcomes',
  } satisfies Record<RestoredGroup, string>,
  reviews: {
    question: 'The question',
    review: 'Yearly reviews',
    flag: 'Flags that were looked at',
    'lives-left': 'Deleted cases whose units stay as counts',
  } as Readonly<Record<string, string>>,
  revision: (o: { readonly title: string; readonly revision: number | null }): string =>
    o.revision === null ? o.title : `${o.title}, revision ${o.revision}`,
  did: (deeds: readonly string[]): string => list(deeds),
  deeds: {
    added: 'added',
    changed: 'changed',
    removed: 'removed',
    recalled: 'recalled',
    'recall-lifted': 'recall lifted where the file comes from',
    retired: 'retired',
    waits: 'waits for the lead to confirm it',
    'set-apart': 'the one in the file is set apart',
  } satisfies Record<RestoredDeed, string>,
  moreThings: (count: number): string =>
    plural(count, { one: 'and 1 more', other: `and ${count} more` }),
  apart: (count: number): string =>
    plural(count, { one: 'Set apart: 1 thing', other: `Set apart: ${count} things` }),
  apartLede: 'It fits nowhere and stays as it was found. Every backup includes it.',
  apartWhy: {
    damaged: 'Damaged here, and replaced or left out.',
    'other-entry': 'An entry that reads differently in another copy.',
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
  keeping: 'Storage on this tablet',
  problems: {
    'backup-not-one': 'This file is not a backup of this app.',
    'backup-unreadable': 'This file cannot be read. Choose it again.',
    'backup-newer': 'This backup was made by a newer version of the app. Update the app first.',
    'backup-wrong-passphrase': 'The passphrase does not open this file.',
    'backup-cut-short': 'This file is cut short. Copy it again from where it was saved.',
    'backup-altered': 'This file was altered or damaged. Copy it again from where it was saved.',
    'backup-contents': 'The contents of this file do not fit together.',
    'no-crypto': 'This page was not served securely, so nothing can be encrypted here.',
    'not-writer': 'This window is view only. Press "Take over here" above first.',
    'passphrase-short': 'At least 12 characters.',
  },
};
