/** The page of the clinic's tablets, and what leads to it. */
import type { RefusedReason } from '../codes.ts';
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

const messages = (count: number): string =>
  plural(count, { one: '1 message that names', other: `${count} messages that name` });
const are = (count: number): string => plural(count, { one: 'is', other: 'are' });

export const sharing = {
  title: 'Tablets',
  lede: 'The tablets of this clinic, and what they share.',
  toClinic: 'Clinic',
  opening: 'Opening',
  notHere: 'This window cannot share.',
  notHereTodo: 'Open the app from the clinic’s own server.',
  reader: 'Another window of this tablet writes.',
  readerTodo: 'Join, invite and change tablets there, or take over here.',
  running: 'A patient’s case runs on this tablet.',
  runningTodo: 'Tablets are joined once it is closed.',

  alone: 'This tablet keeps to itself',
  aloneLines: [
    'With a server in the clinic, several tablets share cases, materials, protocols and product sheets.',
    'Each tablet keeps everything itself and goes on without the server; what is missing is handed over later.',
    'What leaves a tablet is encrypted and signed. The server cannot read it.',
    'Settings, the passphrase of this desk and rehearsals stay on this tablet.',
  ],

  join: 'Join',
  joinLede:
    'On a tablet that takes part, the lead opens Clinic, Tablets and invites this one. For the first tablet the server shows the code.',
  code: 'Code',
  codeHint: 'Four groups of four, as the other screen shows them',
  codeFaults: {
    empty: 'Code: four groups of four expected, nothing came.',
    short: (o: { readonly came: number; readonly of: number; readonly group: number }): string =>
      `Code: ${o.of} characters expected, ${o.came} came. Group ${o.group} is not full.`,
    long: (o: { readonly came: number; readonly of: number }): string =>
      `Code: ${o.of} characters expected, ${o.came} came.`,
    letter: (o: { readonly group: number; readonly came: string }): string =>
      `Code, group ${o.group}: “${o.came}” is in no code. Letters but U, and digits are.`,
  },
  name: 'Name of this tablet',
  nameHint: 'As it is called in the clinic: Chair 2',
  nameFaults: {
    empty: 'Name: a name expected, nothing came.',
    long: (o: { readonly came: number; readonly of: number }): string =>
      `Name: ${o.of} characters at most expected, ${o.came} came.`,
    taken: (name: string): string => `Name: one that no other tablet has expected, “${name}” came.`,
  },
  joinDo: 'Join',
  restoreFirst: 'Restore a backup first: faster',
  restoreFirstLede:
    'With a backup of another tablet on this one, only what is newer than the backup is read from the store.',

  waitingNew: 'Waiting for the other screen',
  waitingNewLede: 'Leave this page open. Six digits come up on both screens.',
  waitingLead: 'Type this code on the new tablet',
  waitingLeadLede: 'There: Clinic, Tablets, Join. The code serves once.',
  left: (minutes: number): string =>
    plural(minutes, { one: 'Less than 1 min left', other: `${minutes} min left` }),
  compare: 'Same digits on both screens?',
  compareNew: 'If they are the same, confirm on the other screen. If not, stop here.',
  compareLead: (name: string): string =>
    `“${name}” asks to join. Confirm only with both screens in sight.`,
  compareTaken: (name: string): string =>
    `A tablet called “${name}” is in the list already. If this is another one, rename one of them afterwards.`,
  digits: 'Six digits',
  same: 'Yes, the same',
  other: 'No, stop',
  stop: 'Stop',
  confirming: 'Handing over',
  doneNew: 'This tablet takes part now.',
  doneLead: (name: string): string => `${name} takes part now.`,
  close: 'Close',
  again: 'Try again',
  failed: 'This tablet did not join',
  failedLead: 'No tablet joined',

  found: 'Found the clinic',
  foundLede:
    'This is the first tablet. It makes the keys of the clinic, and the passphrase of the lead seals them in a box.',
  foundLost:
    'If box and passphrase are lost, nobody can invite a tablet or put one out any more, and a clinic whose tablets are all lost cannot read its store again.',
  passphrase: 'Passphrase of the lead',
  passphraseHint: (min: number): string =>
    `At least ${min} characters. Several words are easier to remember. It may be that of the desk.`,
  passphraseAgain: 'Repeat it',
  passphraseFaults: {
    empty: 'Passphrase: the lead’s expected, nothing came.',
    short: (o: { readonly came: number; readonly of: number }): string =>
      `Passphrase: at least ${o.of} characters expected, ${o.came} came.`,
    differ: 'Passphrase: the same twice expected, two that differ came.',
  },
  foundDo: 'Found the clinic',
  working: 'Working',

  recover: 'Start again from the box',
  recoverLede:
    'Where no tablet is left: with the printed box, or a restored backup, and the passphrase of the lead.',
  boxText: 'Text of the box',
  boxTextHint: 'Leave it empty to take the box of a backup that was restored here.',
  recoverDo: 'Start again',

  own: 'This tablet',
  ownFacts: {
    name: 'Name',
    line: 'Line to the store',
    shared: 'Shared',
    owed: 'Not in the store yet',
  },
  lines: {
    off: 'None',
    connecting: 'Trying',
    open: 'Open',
    refused: 'Not let in',
    closed: 'Closed',
  },
  sharedAt: (when: string): string => `All of it, ${when}`,
  sharedNever: 'Never all of it yet',
  behindSince: (when: string): string => `Not all of it since ${when}. Nothing is lost here.`,
  owed: (count: number): string => plural(count, { one: '1 message', other: `${count} messages` }),
  owedNone: 'Nothing',
  now: 'Share now',
  reading: 'Reading the store',
  readingOf: (o: { readonly done: number; readonly of: number }): string =>
    `Read: ${o.done} of ${o.of}`,
  readingLede: 'This tablet can be used meanwhile. What is read shows up as it comes.',
  wentBack: (when: string): string => `The store went back to an older state, ${when}.`,
  wentBackTodo:
    'Everything of this tablet is offered to it again. Tell whoever looks after the server.',
  demo: 'DEMO store: for trying, not for patients',
  demoTodo:
    'It serves one machine, and its server lacks what a clinic needs. Found the clinic on a store of its own before the first patient.',

  list: 'Tablets',
  isThis: 'this tablet',
  lastContact: (when: string): string => `Last heard of ${when}`,
  neverHeard: 'Not heard of since the app was opened here',
  joinedAgain: (name: string): string => `Left the store and joined again: now ${name}`,
  owes: (count: number): string =>
    plural(count, {
      one: 'Has 1 message not in the store yet',
      other: `Has ${count} messages not in the store yet`,
    }),
  owesNone: 'Has handed over everything',
  owesUnknown: 'What it has not handed over is not known',
  runs: (title: string): string => `Runs: ${title}`,
  runsNone: 'Runs no case',
  isPutOut: 'Put out',
  rename: 'Rename',
  renameName: (name: string): string => `Rename ${name}`,
  renameTitle: (name: string): string => `Rename ${name}`,
  newName: 'New name',
  renameDo: 'Rename it',
  putOut: 'Put out',
  putOutName: (name: string): string => `Put out ${name}`,
  putOutEarlierName: (name: string): string => `Put out the place that ${name} left`,
  putOutTitle: (name: string): string => `Put out ${name}`,
  putOutDoes: [
    'The server lets it in no more, and what it sends from now on is not shown.',
    'The others get new keys: it cannot read what comes after.',
    'Its cases and what it handed over stay.',
  ],
  putOutCannot:
    'It does not take back what that tablet has read: that stays readable on it. If it was stolen, treat what it holds as known.',
  putOutRuns: (title: string): string =>
    `${title} runs there. It goes on there alone, and others can take it over.`,
  reason: 'Why',
  reasonHint: 'Lost, sold, given back',
  reasonFault: 'Why: a reason expected, nothing came.',
  putOutDo: 'Put it out',

  invite: 'Invite a tablet',
  inviteLede: 'The passphrase opens the box and makes a code for one tablet.',
  inviteDo: 'Show a code',

  box: 'The lead’s box',
  boxLede:
    'The keys of the clinic, sealed with the passphrase of the lead. It lies in every tablet and every backup, and on paper.',
  boxUnsafe: 'The box as it is now is on no paper and in no backup of this tablet.',
  boxUnsafeTodo:
    'If the tablets are lost, the clinic cannot read its store again. Print the box or make a backup.',
  boxSealed: (when: string): string => `Sealed ${when}`,
  boxKept: 'On paper or in a backup',
  boxPrint: 'Print the box',
  boxNone: 'The box has not come to this tablet yet.',
  boxTitle: 'Box of the clinic lead',
  boxBack: 'Tablets',
  boxPrintDo: 'Print',
  boxPrinted: 'It is on paper and put away',
  boxPrintedTold: 'Noted.',
  boxFor: 'What this is for',
  boxForLines: [
    'If every tablet is lost: on a new tablet Clinic, Tablets, “Start again from the box”.',
    'It opens with the passphrase of the lead only. The passphrase is not on this sheet; do not write it here.',
    'Lock it away, apart from the passphrase. When a tablet was put out the box is sealed anew: print it again and shred this sheet.',
  ],
  boxPrintedBy: (o: { readonly tablet: string; readonly when: string }): string =>
    `Printed on ${o.tablet}, ${o.when}`,
  boxSealedOn: (when: string): string => `Box as sealed ${when}`,
  boxWho: 'Printed by',
  boxWhere: 'Put away in',
  boxGroups: 'Text of the box, line by line',
  makeBackup: 'Make a backup',

  refused: 'Not shown',
  refusedLede: 'Messages in the store that do not hold. They change nothing here.',
  refusedRows: {
    'not-a-message': (o: { readonly count: number; readonly name: string }): string =>
      `${messages(o.count)} ${o.name} ${are(o.count)} damaged: not shown.`,
    'other-clinic': (o: { readonly count: number; readonly name: string }): string =>
      `${messages(o.count)} ${o.name} ${are(o.count)} of another clinic: not shown.`,
    'unknown-tablet': (o: { readonly count: number; readonly name: string }): string =>
      `${messages(o.count)} ${o.name}: nobody has vouched for that tablet yet. Looked at again when somebody does.`,
    'put-out': (o: { readonly count: number; readonly name: string }): string =>
      `${messages(o.count)} ${o.name} came after it was put out: not shown.`,
    'no-key': (o: { readonly count: number; readonly name: string }): string =>
      `${messages(o.count)} ${o.name} ${are(o.count)} sealed with a key that this tablet does not have yet. Looked at again when it comes.`,
    'does-not-open': (o: { readonly count: number; readonly name: string }): string =>
      `${messages(o.count)} ${o.name} cannot be opened, changed on the way or moved from another place: not shown.`,
    'bad-signature': (o: { readonly count: number; readonly name: string }): string =>
      `${messages(o.count)} ${o.name} ${are(o.count)} not signed by it: not shown.`,
    'bad-payload': (o: { readonly count: number; readonly name: string }): string =>
      `${messages(o.count)} ${o.name} cannot be read by this version of the app: not shown.`,
  } satisfies Record<
    RefusedReason,
    (o: { readonly count: number; readonly name: string }) => string
  >,
  otherTablet: (id: string): string => `tablet ${id}`,

  thisPutOut: 'This tablet was put out of the clinic’s store.',
  thisPutOutTodo:
    'Everything that it holds stays, and it goes on by itself. To take part again, leave the store here and have the lead invite it.',
  leave: 'Leave the store',
  leaveTitle: 'Leave the store',
  leaveLines: [
    'This tablet shares no more. All its records stay on it.',
    'What it has not handed over yet stays on this tablet alone.',
    'To come back it needs a new code.',
  ],
  leaveOwed: (count: number): string =>
    plural(count, {
      one: '1 message is not in the store yet.',
      other: `${count} messages are not in the store yet.`,
    }),
  leaveDo: 'Leave',

  problems: {
    'not-connected':
      'There is no line to the server. Check that it runs and that this tablet is in the clinic’s network.',
    'no-answer': 'The server did not answer in time. Try again.',
    refused: 'The server did not let this tablet do that.',
    'too-large': 'Something is larger than the store takes. The rest is shared.',
    'store-full': 'The store is full. Nothing is lost here; make room on the server.',
    'wrong-store': 'The server that answered is not that of this clinic.',
    closed: 'The line to the server was closed. Try again.',
    'no-store':
      'Address of this page: a store expected, none answered. Check that the server runs, or open the app from the clinic’s own server.',
    'wrong-passphrase': 'Passphrase: the lead’s expected, another one came.',
    'no-box': 'The box expected, none is here. Type the printed text, or restore a backup first.',
    'box-not-whole': 'Text of the box: a whole printed box expected, a part came.',
    'box-newer': 'The box was sealed by a newer version of the app. Update the app first.',
    'other-clinic': 'The box of the clinic of this server expected, that of another clinic came.',
    'not-first': 'The clinic was founded already. Have the lead invite this tablet.',
    'bad-code': 'Code: one of an invitation expected, something else came.',
    'name-missing': 'Name: a name expected, nothing came.',
    'no-crypto': 'This page was not served securely, so nothing can be encrypted here.',
    'no-keys': 'This browser makes no keys to sign and seal with. Use a newer one.',
    'not-writer': 'Another window of this tablet writes. Do it there.',
    'put-out': 'This tablet was put out of the clinic’s store.',
    'not-let-in':
      'The store does not let this tablet in. It was put out, or the server was set up anew: ask the lead.',
    'own-tablet': 'Another tablet expected: this one leaves by “Leave the store”.',
    'already-paired': 'This tablet takes part in a clinic already.',
    'not-paired': 'This tablet takes part in no clinic yet.',
    'unknown-tablet': 'That tablet is not among those of the clinic any more.',
    'not-kept': 'What came could not be saved on this tablet. Make room on it.',
    'not-vouched':
      'What came was not signed by the lead of this clinic. Begin again with a new code.',
  },
  /** A line of the printed box, which has its number. */
  boxLine: (o: { readonly line: number; readonly came: string }): string =>
    `Text of the box, line ${o.line}: the line as it was printed expected, ${o.came} came.`,
  /** Why a pairing ended. */
  pairProblems: {
    'no-answer':
      'Code: the one that the other screen shows expected; nobody waits for the one that came. Compare it, or have a new one shown.',
    'code-expired': 'The time of the code is over. Have a new one shown.',
    'two-tablets': 'Two tablets used one code: somebody else has it. Have a new one shown.',
    'not-as-committed': 'The two screens did not agree. Begin again with a new code.',
    stopped: 'It was stopped here.',
    'stopped-there': 'It was stopped on the other screen.',
    'not-let-in': 'The other screen did not let this tablet in. Begin again with a new code.',
    'not-vouched':
      'What came was not signed by the lead of this clinic. Begin again with a new code.',
    'not-kept': 'What came could not be saved on this tablet. Make room on it, then begin again.',
  },
  /** Why none joined, on the screen that shows the code, where it is another reason than on the new tablet. */
  leadPairProblems: {
    'no-answer':
      'The new tablet did not say that it has what it was given. Look there; if it does not take part, show a new code.',
    'not-let-in': 'A tablet of that id is in the list already. Begin again on the new tablet.',
  },
  otherProblem: (o: {
    readonly place: string;
    readonly expected: string;
    readonly came: string;
  }): string => `Not done. At ${o.place}: expected ${o.expected}, came ${o.came}.`,
  codeProblem: (code: string): string => `Not done (${code}). Try again.`,
};
