/** What the bar says where a protocol has no words of its own. Read from two metres: short. */
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

/** One of several places of the tip on a surface. */
interface Spot {
  readonly at: number;
  readonly of: number;
}

interface LightPlace {
  readonly subject: string;
  /** The surface in words. */
  readonly surface: string;
  readonly spot: Spot | null;
}

/** Places of a pass of light. */
interface PassPlaces {
  readonly subject: string;
  /** Null where there is more than one. */
  readonly surface: string | null;
  readonly count: number;
}

const places = (count: number): string =>
  plural(count, { one: '1 place', other: `${count} places` });

interface StepPlace {
  readonly title: string;
  /** Empty for the whole case. */
  readonly subject: string;
}

export const offer = {
  begin: (o: StepPlace): string =>
    o.subject === '' ? `${o.title}: start` : `${o.title}: start ${o.subject}`,
  done: (o: StepPlace): string =>
    o.subject === '' ? `${o.title}: done` : `${o.title}: done ${o.subject}`,
  coat: (o: { readonly subject: string } & Spot): string =>
    `Coat ${o.at} of ${o.of} on ${o.subject}`,
  coats: (o: { readonly subject: string; readonly from: number; readonly to: number }): string =>
    `Coats ${o.from} to ${o.to} on ${o.subject}`,
  pass: (o: { readonly subject: string } & Spot): string => `Pass ${o.at} of ${o.of}, ${o.subject}`,
  allPasses: (o: StepPlace & { readonly of: number }): string =>
    plural(o.of, {
      one: `${o.title}: 1 pass, ${o.subject}`,
      other: `${o.title}: ${o.of} passes, ${o.subject}`,
    }),
  noPasses: (o: StepPlace): string => `${o.title}: none needed, ${o.subject}`,
  lightOn: ({ subject, surface, spot }: LightPlace): string =>
    spot === null
      ? `Light on ${subject}, ${surface}`
      : `Light on ${subject}, ${surface}, spot ${spot.at} of ${spot.of}`,
  lightTo: ({ subject, surface, spot }: LightPlace): string =>
    spot === null
      ? `Light to ${subject}, ${surface}`
      : `Light to ${subject}, ${surface}, spot ${spot.at} of ${spot.of}`,
  lightOff: (o: { readonly subject: string; readonly surface: string }): string =>
    `Light off ${o.subject}, ${o.surface}`,
  lightOffTooth: (subject: string): string => `Light off ${subject}`,
  /** One surface of several teeth, or several places of one. */
  passBegin: (o: PassPlaces): string =>
    o.surface === null
      ? `Light pass on ${o.subject}, ${places(o.count)}`
      : o.count === 1
        ? `Light on ${o.subject}, ${o.surface}`
        : `Light pass on ${o.subject}, ${o.surface}, ${places(o.count)}`,
  passOn: (o: PassPlaces): string => `Light on again, ${o.subject}, ${places(o.count)} left`,
  /** One press says what was lit and begins the next pass; the teeth are named again only where they differ. */
  passGoOn: (o: {
    readonly lit: string;
    readonly next: PassPlaces;
    readonly isSame: boolean;
  }): string =>
    o.isSame && o.next.surface !== null
      ? `${o.lit} lit, on to ${o.next.surface}, ${places(o.next.count)}`
      : `${o.lit} lit, on to ${o.next.subject}, ${places(o.next.count)}`,
  passStop: 'Light stopped',
  passConfirm: (o: PassPlaces): string =>
    o.surface === null
      ? `${o.subject}: lit, ${places(o.count)}`
      : o.count === 1
        ? `${o.subject} lit, ${o.surface}`
        : `${o.subject} lit, ${o.surface}, ${places(o.count)}`,
  passNone: 'Nothing was lit',
  listed: (o: { readonly words: string; readonly n: number; readonly of: number }): string =>
    `${o.words}, ${o.n} of ${o.of}`,
  /** Lines of a list that its press leaves; one alone by name. */
  stayDue: (o: { readonly titles: readonly string[] }): string => {
    const [first = '', ...more] = o.titles;
    return more.length === 0 ? `stays due: ${first}` : `${o.titles.length} stay due`;
  },
  stayDueAndLots: (o: { readonly left: string; readonly n: number }): string =>
    `${o.left}, ${o.n === 1 ? '1 lot' : `${o.n} lots`} not named`,
  alsoSays: (items: readonly string[]): string => `Also says: ${items.join('; ')}`,
  linesPressed: (o: { readonly title: string; readonly n: number }): string =>
    `${o.title}, ${o.n} lines`,
  close: 'Close the case',
  dueIn: (span: string): string => `due in ${span}`,
  over: (span: string): string => `${span} over`,
  perhapsOver: 'perhaps over',
  atLimit: 'at the limit',
  left: (span: string): string => `${span} left`,
  within: (span: string): string => `within ${span}`,
  in: (span: string): string => `in ${span}`,
  passLeft: (span: string): string => `${span} of the pass left`,
  /** What undo takes back, where no step names it. */
  lastPress: 'the last press',
  passMade: (o: StepPlace): string => `${o.title} ${o.subject}`,
  skipped: (o: StepPlace): string =>
    o.subject === '' ? `Skipped: ${o.title}` : `Skipped: ${o.title} ${o.subject}`,
  setAside: (unit: string): string => `${unit} set aside`,
  wayBack: (subject: string): string => (subject === '' ? 'Way back' : `Way back of ${subject}`),
  /** A step that asks for a reading or an answer, and was pressed without one. */
  lotsNotNamed: (o: { readonly done: string; readonly n: number }): string =>
    `${o.done}, ${o.n === 1 ? '1 lot' : `${o.n} lots`} not named`,
  notEntered: (title: string): string => `${title}: not entered`,
  mixAdded: 'Another portion',
  stopped: 'Stopped early',
  numbering: 'Numbering changed',
  planChanged: 'Plan changed',
  bead: (found: string): string => `Bead: ${found}`,
  beadFound: { soft: 'soft', stringy: 'stringy', firm: 'firm' },
  material: (label: string): string => `Lot of ${label}`,
  shade: 'Shade tried',
  gapSettled: 'Length of the gap',
  seen: 'Warning seen',
  note: 'Note',
  person: (label: string): string => `${label} presses`,
  closed: 'Case closed',
  tones: 'Tones heard',
  noTones: 'Tones not heard',
  retimed: 'Moved in time',
  anaesthesia: 'Anaesthesia given',
};
