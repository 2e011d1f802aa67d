/** Words of the editor of protocols: numbers, steps, windows, differences, confirmation. */
import type { DurationRefusal } from '../../protocol/duration-entry.ts';
import type { Action, Basis, Link, Moment } from '../../protocol/types.ts';
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

const faultCount = (count: number): string =>
  plural(count, { one: '1 fault', other: `${count} faults` });
const cautionCount = (count: number): string =>
  plural(count, { one: '1 caution', other: `${count} cautions` });

export const editor = {
  undo: 'Undo',
  redo: 'Redo',
  saved: (count: number): string =>
    plural(count, { one: '1 edit, saved', other: `${count} edits, saved` }),
  unchanged: 'No edits yet',
  notSaved: 'Not saved',
  views: 'Parts of the draft',
  view: {
    head: 'Protocol',
    numbers: 'Numbers',
    steps: 'Steps and windows',
    around: 'Cautions and more',
    effect: 'Changes and effect',
    confirm: 'Confirm',
  },
  numbersCaption: (stage: string): string => `Numbers of ${stage}`,
  step: 'Step',
  window: 'Window',
  columns: { min: 'Minimum', target: 'Target', max: 'Limit', other: 'Other' },
  picture: 'Picture',
  pictureLede: 'Redrawn with every edit.',
  windows: 'Windows',
  windowsLede: 'Limits on the time between two moments.',
  noNumber: 'none',
  addNumber: (o: { readonly label: string; readonly title: string }): string =>
    `Add: ${o.label} of ${o.title}`,
  editNumber: (o: {
    readonly label: string;
    readonly title: string;
    readonly shown: string;
    readonly basis: string;
  }): string => `${o.title}, ${o.label}: ${o.shown}, ${o.basis}`,
  pace: 'Expected pace of the hands',
  paceLede: 'For planning only. No product instructs these, and no chemistry depends on them.',
  gone: 'This draft is not on this tablet',
  goneTodo: 'It was confirmed or discarded.',
  // One number
  numberOf: (o: { readonly title: string; readonly label: string }): string =>
    `${o.title}: ${o.label}`,
  value: 'Number',
  hints: {
    duration: 'For example 20 s, 1:30 or 1.5 min. A bare number is seconds.',
    count: 'A whole number',
    dose: 'Radiant exposure, a number above 0',
    ratio:
      'From 1 to 10: how many times shorter the limit is in a room 10\u00a0°C warmer. 2 is assumed.',
  },
  understood: (shown: string): string => `Understood: ${shown}`,
  durationRefusals: {
    empty: 'Give a time, for example 20 s.',
    'not-a-duration': 'This is not a length of time. Write 20 s, 1:30 or 1.5 min.',
    'not-above-zero': 'Give a time above zero.',
    'too-long': 'At most 30 days.',
  } satisfies Record<DurationRefusal, string>,
  needs: {
    duration: 'Give a time above zero, at most 30 days.',
    count: (max: number): string => `Give a whole number from 1 to ${max}.`,
    dose: (max: number): string => `Give a number above 0, at most ${max}\u00a0J/cm².`,
    ratio: 'Give a number from 1 to 10.',
  },
  was: (shown: string): string => `Was ${shown}`,
  basis: 'Where it comes from',
  basisKind: {
    instructions: 'Instructions',
    published: 'Published',
    practice: 'Common practice',
  } satisfies Record<Basis['kind'], string>,
  source: 'Publication',
  note: 'Note',
  apply: 'Apply',
  nothingTyped: 'Nothing here has changed.',
  takeAway: 'Remove this number',
  /** What is said at a field of a basis that has nothing in it. */
  basisNeeds: {
    document: 'Name the document.',
    revision: 'Give its revision or its date.',
    page: 'The number has changed. Give the page it stands on, or quote it below.',
    confirmedBy: 'Say who compared it.',
    confirmedOn: 'Say on which day.',
    source: 'There is no publication to choose from. Add one under “Cautions and more”.',
  },
  changedNumber:
    'The number has changed, so its page and quote are gone. Look it up in the document before you apply it.',
  /** What keeps an edit from being taken: whose number or field, and what it needs. */
  refusal: {
    of: (o: { readonly title: string; readonly label: string; readonly need: string }): string =>
      `${o.title}, ${o.label}: ${o.need}`,
    ofEntry: (o: { readonly title: string; readonly need: string }): string =>
      `${o.title}: ${o.need}`,
    missing: 'This is missing.',
    other: 'This cannot be taken as it stands.',
    gone: 'This entry is no longer in the draft.',
    taken: 'There is another one of this name.',
    fixed: 'This cannot be changed here.',
  },
  range: (o: { readonly range: string; readonly source: string }): string =>
    `Published for this kind of step: ${o.range} (${o.source})`,
  // Findings
  findings: (o: { readonly faults: number; readonly cautions: number }): string => {
    const [faults, cautions] = [faultCount(o.faults), cautionCount(o.cautions)];
    if (o.faults === 0) return `What the checks say: ${cautions}`;
    if (o.cautions === 0) return `What the checks say: ${faults}`;
    return `What the checks say: ${faults}, ${cautions}`;
  },
  noFindings: 'The checks found nothing.',
  fault: 'Fault',
  caution: 'Caution',
  moreFaults: (count: number): string =>
    plural(count, { one: 'And one more.', other: `And ${count} more.` }),
  goToFirst: 'Go to the first fault',
  goTo: 'Go there',
  goToName: (finding: string): string => `Go there: ${finding}`,
  // Full editor
  stepsTitle: 'Steps in order',
  addStep: 'Add a step',
  addWindow: 'Add a window',
  edit: 'Edit',
  up: 'Up',
  down: 'Down',
  duplicate: 'Duplicate',
  remove: 'Remove',
  named: {
    edit: (title: string): string => `Edit ${title}`,
    up: (title: string): string => `Move ${title} up`,
    down: (title: string): string => `Move ${title} down`,
    duplicate: (title: string): string => `Duplicate ${title}`,
    remove: (title: string): string => `Remove ${title}`,
  },
  stepSheet: (title: string): string => `Step: ${title}`,
  windowApart: (o: {
    readonly title: string;
    readonly from: string;
    readonly to: string;
  }): string => `${o.title}, from ${o.from} to ${o.to}`,
  windowSheet: (title: string): string => `Window: ${title}`,
  newNumbers: 'Numbers that nobody has given yet',
  newBounds: 'How long: a minimum, a limit, or both',
  boundMissing: 'Give a minimum, a limit, or both.',
  newNumber: (label: string): string => `${label.charAt(0).toUpperCase()}${label.slice(1)}`,
  newStep: 'New step',
  newWindow: 'New window',
  /** What a new choice offers first, and a new count counts. */
  newOption: 'Yes',
  newCount: 'passes',
  action: 'What is pressed',
  actionKind: {
    confirm: 'Done, one press',
    dwell: 'A time that runs',
    coats: 'Coats',
    expose: 'Light on surfaces',
    tally: 'A count with a limit',
    choose: 'A choice',
  } satisfies Record<Action['kind'], string>,
  surfaces: 'Surfaces',
  after: 'Waits for',
  linkWords: {
    same: 'the same subject',
    linked: 'what belongs to it',
    all: 'all of them',
    previous: 'the one before',
    earlier: 'what stands before it',
    last: 'the last of what belongs to it',
  } satisfies Record<Link | 'last', string>,
  addAfter: 'Add a step to wait for',
  edge: { start: 'the start', end: 'the end' } satisfies Record<Moment['edge'], string>,
  edgeOf: (label: string): string => `${label}: moment`,
  // Difference and effect
  difference: 'Changes',
  differenceTo: (o: { readonly revision: number; readonly hash: string }): string =>
    `Compared with revision ${o.revision}, hash ${o.hash}`,
  differenceStart: (hash: string): string =>
    `Compared with what this draft began with, hash ${hash}`,
  differenceTemplate: (hash: string): string => `Compared with the shipped template, hash ${hash}`,
  noDifference: 'Nothing has changed yet.',
  sideBySide: 'Side by side',
  before: 'Before',
  afterwards: 'After',
  what: 'What',
  byHowMuch: '±',
  effect: 'Effect on a case',
  effectLede:
    'The same case, planned with both in the same simulated runs. It is an estimate, not a promise.',
  effectCase: 'Case',
  effectBusy: 'Planning both',
  effectNone: 'No prepared case uses this protocol.',
  effectFaults: 'There are faults. Nothing can be planned until they are put right.',
  chairTime: 'Chair time',
  chairP90: 'Chair time, 9 runs of 10',
  anyBroken: 'Any window broken',
  slackOf: (window: string): string => `${window}: time to spare on a slow day`,
  brokenOf: (window: string): string => `${window}: broken`,
  rehearse: 'Rehearse the draft at 10\u00d7',
  touches: 'Prepared cases that use it',
  touchesNone: 'None.',
  touchesLede:
    'They will use the new revision once it is confirmed. A running case stays on its own.',
  touched: (o: { readonly title: string; readonly chart: string }): string =>
    `${o.title}, ${o.chart}`,
  // Confirmation
  confirm: {
    title: 'Confirm against instructions',
    lede: 'Every number that binds needs instructions: the product’s own, or a written rule of the clinic that you answer for.',
    open: (count: number): string =>
      count === 0
        ? 'Every number has its instructions.'
        : plural(count, { one: '1 number to compare', other: `${count} numbers to compare` }),
    materials: (names: readonly string[]): string => list(names),
    light: 'Curing light',
    noMaterial: 'Steps without a material',
    compare: 'Compare',
    compareName: (title: string): string => `Compare the numbers of ${title}`,
    choose: 'Tick each number that you have read in it',
    pick: 'Tick the numbers that you have read in the document.',
    number: (o: {
      readonly title: string;
      readonly label: string;
      readonly shown: string;
    }): string => `${o.title}: ${o.label} ${o.shown}`,
    quoted: (o: { readonly line: string; readonly quote: string }): string =>
      `${o.line}: “${o.quote}”`,
    doc: 'The document in your hand',
    bulk: (count: number): string =>
      plural(count, {
        one: 'Confirm 1 number against it',
        other: `Confirm ${count} numbers against it`,
      }),
    done: (count: number): string => `Confirmed numbers: ${count}`,
    paces: (count: number): string =>
      plural(count, {
        one: '1 pace of the hands needs no instructions: it is for planning only.',
        other: `${count} paces of the hands need no instructions: they are for planning only.`,
      }),
    final: 'Make it the revision in use',
    finalLede:
      'It gets the next number and a hash and can no longer be changed. New cases use it at once. A running case stays on its own.',
    confirmAs: (revision: number): string => `Confirm as revision ${revision}`,
    waits: (o: {
      readonly open: number;
      readonly faults: number;
      readonly misquoted: number;
    }): string =>
      `Before that: ${list([
        ...(o.open === 0
          ? []
          : [
              plural(o.open, { one: '1 number to compare', other: `${o.open} numbers to compare` }),
            ]),
        ...(o.faults === 0
          ? []
          : [
              plural(o.faults, {
                one: '1 fault to put right',
                other: `${o.faults} faults to put right`,
              }),
            ]),
        ...(o.misquoted === 0
          ? []
          : [
              plural(o.misquoted, {
                one: '1 number that its quote does not give',
                other: `${o.misquoted} numbers that their quotes do not give`,
              }),
            ]),
      ])}`,
  },
};
