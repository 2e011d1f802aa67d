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
  close: 'Close the case',
  dueIn: (span: string): string => `due in ${span}`,
  over: (span: string): string => `${span} over`,
  perhapsOver: 'perhaps over',
  atLimit: 'at the limit',
  left: (span: string): string => `${span} left`,
  in: (span: string): string => `in ${span}`,
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
  retimed: 'Moved in time',
  anaesthesia: 'Anaesthesia given',
};
