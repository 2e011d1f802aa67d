/** Drills: the card over the chair, what is told afterwards, and how far practice is with each kind of mishap. */
import type { Readiness } from '../../drill/schedule.ts';
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

export const drill = {
  place: 'Drill',
  mark: 'DRILL, REHEARSAL',
  end: 'End the drill',
  /** The card that stands, or stood last. */
  card: 'What is seen',
  cardAgain: 'Show it again',
  taken: 'Seen',
  nothingYet: 'Nothing yet. Go on with the work.',
  workingOut: 'Working out what is seen. Go on with the work.',
  /** Once, the first time that a kind is met on this tablet. */
  named: (mishap: string): string => `For the first time its name is said: ${mishap}.`,
  awayLeft: (seconds: number): string =>
    plural(seconds, { one: 'Hands away: 1 s left', other: `Hands away: ${seconds} s left` }),
  awayOver: 'Hands back.',
  readOut: 'Read this out.',
  /** Why its journal was deleted. */
  pruned: 'The journal of a drill, after 12 months',
  notEnded: 'The drill could not be closed.',
  /** What is drawn is not known here. */
  notWorkedOut: 'What is seen in this drill could not be worked out.',
  askAgain: 'Try again',
  drawnOtherwise:
    'This version of the app draws another drill from its seed. It can only be ended.',
  /** A patient's case came in its way. */
  ended: 'A patient’s case was opened, so the drill was ended. What it came to is under Drills.',
  putDown:
    'A patient’s case was opened, so the drill was put down. It could not be closed, and is among the open cases.',

  debrief: {
    title: 'After the drill',
    lede: (o: { readonly title: string; readonly when: string }): string => `${o.title}, ${o.when}`,
    ledeAgain: (o: { readonly title: string; readonly when: string }): string =>
      `${o.title}, taken up again, ${o.when}`,
    loading: 'Working out what the drill came to.',
    lost: 'This drill cannot be told.',
    lostTodo:
      'It is no longer on this tablet, or this version of the app draws another one from its seed.',
    notTold: 'What the drill came to could not be worked out.',
    notToldTodo: 'Its journal is kept. Try again.',
    wentRight: 'What went right',
    wentRightNone: 'The drill was played, and it can be taken up again below.',
    noCards: 'Nothing was seen in this one. Some drills have none.',
    right: {
      rightInTime: (o: { readonly seen: string; readonly after: string }): string =>
        `Right way back first, in time, after ${o.after}: ${o.seen}`,
      rightFirst: (seen: string): string => `Right way back first: ${seen}`,
      inTime: (o: { readonly seen: string; readonly after: string }): string =>
        `In time, after ${o.after}: ${o.seen}`,
      leftAlone: (seen: string): string => `Left alone, as it should be: ${seen}`,
      bounds: 'Every limit kept that could be kept.',
      presses: 'No press was wasted.',
    },
    measures: 'Card by card',
    measuresLede: 'Four measures. They are not added up.',
    columns: {
      card: 'What was seen',
      first: 'First right way back',
      right: 'Right the first time',
      inTime: 'In time',
    },
    first: (after: string): string => `after ${after}`,
    firstNever: 'not taken',
    firstNone: 'nothing to take',
    yes: 'yes',
    no: 'no',
    notAsked: 'the drill was ended first',
    room: (o: { readonly answer: string; readonly room: string }): string =>
      `${o.answer}, the tightest window had ${o.room} left`,
    bounds: 'Limits',
    boundsNone: 'No limit was broken that the ideal run keeps.',
    boundsSome: (count: number): string =>
      plural(count, {
        one: '1 limit was broken that the ideal run keeps:',
        other: `${count} limits were broken that the ideal run keeps:`,
      }),
    presses: 'Presses',
    pressesNone: 'None taken back, no other way back.',
    takenBack: (count: number): string =>
      plural(count, { one: '1 press taken back', other: `${count} presses taken back` }),
    wrongWay: (count: number): string =>
      plural(count, {
        one: '1 way back that fits no card',
        other: `${count} ways back that fit no card`,
      }),
    wrongSubject: (count: number): string =>
      plural(count, {
        one: '1 way back for another tooth or unit',
        other: `${count} ways back for other teeth or units`,
      }),
    several: (parts: readonly string[]): string => list(parts),
    timeline: 'Run and ideal run',
    timelineLede:
      'The ideal run answers what is seen at once, at the usual pace. Nobody could do it sooner.',
    nothing: 'Nothing was seen, taken or broken.',
    run: 'This run',
    ideal: 'Ideal run',
    at: 'Time',
    what: 'What happened',
    kinds: { card: 'Seen', way: 'Way back', limit: 'Limit' },
    line: (o: { readonly kind: string; readonly what: string }): string => `${o.kind}: ${o.what}`,
    lane: (o: { readonly at: string; readonly what: string }): string => `${o.at} ${o.what}`,
    way: (o: { readonly title: string; readonly of: string }): string =>
      o.of === '' ? o.title : `${o.title}, ${o.of}`,
    neverCame: (count: number): string =>
      plural(count, {
        one: '1 more card was drawn and did not come: the work was past it, or the drill was over.',
        other: `${count} more cards were drawn and did not come: the work was past them, or the drill was over.`,
      }),
    questions: 'Three questions',
    questionsLede:
      'Each may stay empty. The first two stay on this tablet, with the drill. The third goes to the lead, without a name.',
    seen: 'What did you see?',
    thought: 'What did you think?',
    easier: 'What would make it easier?',
    keep: 'Keep the answers',
    kept: 'The answers are kept.',
    notKept: 'The answers could not be kept.',
    again: 'Again',
    againLede: 'The run is taken up 20 s before the card, with everything as it was.',
    againDo: 'Again from 20 s before',
    againName: (seen: string): string => `Again from 20 s before: ${seen}`,
    againNone: 'Each mishap was answered right and in time.',
    seed: (seed: number): string => `Seed ${seed}`,
    seedLede: 'The same seed, kinds, case, protocol and version of the app draw the same drill.',
    /** Kinds as a terminal takes them. */
    toward: (o: { readonly names: readonly string[]; readonly ids: readonly string[] }): string =>
      `Drawn toward what was due: ${list(o.names)}. In the terminal: --toward ${o.ids.join(',')}`,
    toRecord: 'Record of this drill',
    toReadiness: 'What is due',
  },

  readiness: {
    reading: 'Reading what is kept of drills.',
    notRead: 'What is kept of drills could not be read',
    notReadTodo: 'Load the page again.',
    title: 'Drills',
    lede: 'How far practice is with each kind of mishap: all drills on this tablet, without names.',
    how: 'How it works',
    howLines: [
      'Ready means practised, and nothing else. It says nothing of what anybody can do.',
      'Each kind comes again after 7 days, then every 30. After two answers that were right and in time, at least 7 days apart: every 90. After any other answer: every 30 again. Lapsed means 30 days late.',
      'Practice begins with four kinds, and two more come each month. Days and order are rules of this project, without a source.',
      'One drill in six has nothing in it. A drill takes five to ten minutes, and one press ends it.',
      'No study was found of what drills of bonding mishaps change. Nothing is said here of patients.',
    ],
    rules: 'What results are for',
    rulesLines: [
      'There are no ranks, and no pair is shown beside another. A drill is kept with names only where the pair wants it. Only people who give their own name see them.',
      'The record of a drill names who pressed, until it is deleted.',
      'Taking part can be stopped at any time, without a reason.',
      'The journal of a drill is deleted from this tablet after 12 months, when this page is opened, and names go with it. What stays is the kind, the day, and whether it was right and in time.',
    ],
    /** What the lead signs; the log keeps it as it read on that day. */
    sentence: 'Drill results are no grounds for action against anybody who works here.',
    signed: (o: { readonly by: string; readonly on: string }): string =>
      `Signed by ${o.by} on ${o.on}.`,
    notSigned: 'Not signed yet.',
    notSignedTodo: 'The lead signs it at the desk.',
    due: 'Due now',
    dueNone: 'Nothing is due.',
    dueDo: 'Press Drill beside a prepared case. What is due is drawn more often than the rest.',
    toToday: 'Prepared cases',
    grid: 'Kinds of mishap',
    columns: { kind: 'Kind', state: 'Practice', times: 'Drills', next: 'Next' },
    state: {
      'not-practised': 'not practised',
      practising: 'practising',
      ready: 'ready',
      due: 'due',
      lapsed: 'lapsed',
    } satisfies Record<Readiness, string>,
    later: 'comes later',
    from: (day: string): string => `from ${day}`,
    now: 'now',
    on: (day: string): string => `from ${day}`,
    kept: 'Drills that were done',
    keptLede: 'Newest first. Each can be read while its journal is here.',
    keptNone: 'No drill was done on this tablet yet.',
    keptLine: (o: { readonly when: string; readonly seed: number }): string =>
      `${o.when}, seed ${o.seed}`,
    keptAgain: 'taken up again',
    keptKinds: (kinds: readonly string[]): string => list(kinds),
    keptNothing: 'no mishap counted',
    gone: 'journal deleted',
  },

  /** Who did a drill. Names are optional everywhere. */
  pair: {
    parts: 'Whose drills',
    part: { tablet: 'This tablet', own: 'One pair' },
    both: (o: { readonly lead: string; readonly assists: string }): string =>
      `${o.lead} and ${o.assists}`,
    leads: 'Leads',
    assists: 'Assists',
    tooLong: (most: number): string => `A name has at most ${most} characters.`,
    notKept: 'It could not be kept.',

    now: 'Who drills now',
    nowLede:
      'Optional. The names are kept with the next drills, and this tablet forgets them two hours after the last one. Name only people who agree to it.',
    nowNamed: (pair: string): string => `The next drills are kept for ${pair}.`,
    nowNobody: 'The next drills are kept without names.',
    keep: 'Keep these names',
    nobody: 'Name nobody',

    did: 'Who drilled',
    didLede:
      'Optional. It counts towards the practice of this pair. Name only people who agree to it.',
    didOthers:
      'Names are kept with this drill. They are shown under Drills to people who give their own name.',
    didKept: (pair: string): string => `This drill is kept for ${pair}.`,
    didNobody: 'This drill is kept without names.',

    own: 'Drills of one pair',
    ownLede:
      'This tablet cannot tell who is asking. Give your own name and the name of the person you drilled with.',
    ownStays:
      'Drills stay on this tablet and in its backups: what you did on another tablet is not here.',
    you: 'Your name',
    other: 'The other name',
    otherHint: 'Which of you led makes no difference. May stay empty.',
    show: 'Show this pair',
    hide: 'Hide it again',
    choose: 'Choose with whom.',
    none: 'No drill on this tablet is kept for these names.',
    youMissing: 'Give your name.',
    with: 'Your pairs',
    withElse: 'Your other pairs',
    withOne: (other: string): string => `With ${other}`,
    alone: 'Without another name',

    share: 'What others see of you',
    shareWhat:
      'Others may see that I practised these kinds. They see only the kinds: not how often, not what came of it, and not with whom.',
    shareKinds: (kinds: readonly string[]): string =>
      kinds.length === 0
        ? 'No drill on this tablet names you, so there is nothing to see here.'
        : `From this tablet: ${list(kinds)}.`,
    shareNeeds: 'Nobody can share before the lead has signed.',
    shareWhere:
      'It holds on all tablets of the clinic, each with the drills done on it. When you withdraw it, it is gone here at once, and on every other tablet when the news arrives there.',
    shareDo: 'Let others see it',
    withdraw: 'Withdraw it',
    isShared: 'Others may see it.',
    isNotShared: 'Nobody else sees it.',
    unname: 'Take my name out',
    unnameLede:
      'Every drill on this tablet that names you is kept without names from then on. This cannot be undone.',
    unnameSure: 'Take it out of all drills',
    unnamed: (count: number): string =>
      plural(count, {
        one: '1 drill is kept without names now.',
        other: `${count} drills are kept without names now.`,
      }),

    shared: 'What people share',
    sharedLede: 'Kinds that people practised on this tablet and let others see.',
    sharedWho: 'Whose',
    sharedNobody: 'Choose a name',
    sharedKinds: (o: { readonly person: string; readonly kinds: readonly string[] }): string =>
      o.kinds.length === 0
        ? `No drill on this tablet names ${o.person}.`
        : `${o.person} practised: ${list(o.kinds)}.`,
  },

  /** At the lead's desk. */
  desk: {
    title: 'Drills',
    lede: 'Your signature is shown on the drills page, with your name, the day and the words as they are now. The log keeps it.',
    sign: 'Sign it',
    again: 'Sign it again',
    was: (words: string): string => `It read: “${words}”`,
  },
};
