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
  skipped: (title: string): string => `Skipped: ${title}`,
  wayBack: 'Way back',
  retimed: 'Moved in time',
  anaesthesia: 'Anaesthesia given',
};
