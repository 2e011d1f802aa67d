/** Words of taking protocols in from other clinics, and of comparing them with what is here. */
import type { Side } from '../../protocol/diff.ts';

export const otherClinics = {
  title: 'Other clinics',
  lede: 'A file from another clinic comes in as an unconfirmed draft. It never replaces anything.',
  take: 'Take a file in',
  file: 'Protocol file',
  fileHint: 'A .json file that was exported here or at another clinic',
  refused: 'The file was not taken in.',
  taken: (title: string): string => `Taken in: ${title}`,
  hash: (hash: string): string =>
    `Hash of the protocol in the file: ${hash}. Compare it with the sender’s.`,
  holds: (o: { readonly revision: number; readonly hash: string }): string =>
    `Holds revision ${o.revision}, ${o.hash}`,
  beganFrom: (o: { readonly revision: number; readonly hash: string }): string =>
    `Began from revision ${o.revision}, ${o.hash}`,
  sentBoth: (o: { readonly clinic: string; readonly by: string; readonly on: string }): string =>
    `Sent by ${o.by}, ${o.clinic}, ${o.on}, as the file says`,
  sent: (o: { readonly by: string; readonly on: string }): string =>
    `Sent by ${o.by}, ${o.on}, as the file says`,
  sentTablet: (o: { readonly tablet: string; readonly on: string }): string =>
    `Sent from a tablet that gave no name (${o.tablet}), ${o.on}`,
  noSender: 'The file does not say who sent it',
  takenIn: (o: { readonly by: string; readonly on: string }): string =>
    `Taken in by ${o.by}, ${o.on}`,
  sameInUse: (revision: number): string => `The same file: it is revision ${revision}, in use here`,
  sameRevision: (revision: number): string =>
    `The same file: it is revision ${revision} of this tablet`,
  sameTemplate: 'The same file: it is the template that ships',
  sameDraft: (on: string): string => `The same file as the one that was taken in ${on}`,
  otherTablet: (tablet: string): string =>
    `Begun on another tablet (${tablet}); a backup brought it`,
  hearsay:
    'What the other clinic confirmed is only a note here. Every number has to be confirmed here.',
  waiting: 'Files that were taken in',
  none: 'No file was taken in.',
  toDraft: 'Go to the draft',
  compare: 'Compare',
  compareName: (title: string): string => `Compare ${title}`,
  send: 'Share a protocol',
  sendLede: 'Each protocol on the desk has an Export button. The file carries its hash.',
  compareTitle: (title: string): string => `Compare: ${title}`,
  base: (hash: string): string =>
    `Both began with ${hash}. What only one clinic changed is taken from that clinic.`,
  noBase: 'The revision that both began with is not on this tablet. Choose for every difference.',
  same: 'It is the same as the protocol in use here.',
  unknown: 'No protocol of this name is in use here. The draft is a new one.',
  choice: { here: 'This clinic', other: 'Other clinic' },
  pick: (what: string): string => `Take from: ${what}`,
  changedBy: {
    here: 'Changed by this clinic',
    other: 'Changed by the other clinic',
    both: 'Changed by both',
  } satisfies Record<Side, string>,
  all: { here: 'All from this clinic', other: 'All from the other clinic' },
  apply: 'Put this into the draft',
  unfit:
    'What you chose does not fit together in one protocol. Where two parts belong together, take both.',
  applyLede:
    'The draft then holds this clinic’s protocol with what you take from the other. Undo brings the file back.',
};
