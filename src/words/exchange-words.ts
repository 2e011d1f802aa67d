/** Words of taking protocols in from other clinics, and of merging two that both changed. */
import type { Side } from '../protocol/diff.ts';

export const exchangeWords = {
  title: 'Exchange',
  lede: 'A file from another clinic comes in as an unconfirmed draft. It never replaces anything.',
  take: 'Take a file in',
  file: 'Protocol file',
  fileHint: 'A .json file that was exported here or at another clinic',
  refused: 'The file was not taken in.',
  taken: (title: string): string => `Taken in: ${title}`,
  hash: (hash: string): string =>
    `Hash of the file’s protocol: ${hash}. Compare it with the sender’s.`,
  hearsay:
    'What the other clinic confirmed stands there as a note only. Every number is to be confirmed here.',
  waiting: 'Files that were taken in',
  none: 'No file was taken in.',
  toDraft: 'Go to the draft',
  merge: 'Compare and merge',
  send: 'Hand one out',
  sendLede: 'Each protocol on the desk has an Export button. The file carries its hash.',
  mergeTitle: (title: string): string => `Merge: ${title}`,
  mergeBase: (hash: string): string =>
    `Both began with ${hash}. Differences that only one side made are set to that side.`,
  mergeNoBase:
    'Nothing that both began with is on this tablet: every difference is yours to choose.',
  mergeSame: 'Nothing differs from the protocol in use here.',
  mergeUnknown: 'No protocol of this name is in use here. The draft is a new one.',
  ours: 'Ours',
  theirs: 'Theirs',
  pick: (what: string): string => `Take for ${what}`,
  changedBy: 'Changed by',
  side: { mine: 'us', theirs: 'them', both: 'both' } satisfies Record<Side, string>,
  allOurs: 'All ours',
  allTheirs: 'All theirs',
  apply: 'Make the draft so',
  applyLede: 'The draft then holds ours with what you take from theirs. Undo brings the file back.',
} as const;
