/** What a running clock is called, what it calls out, and why its figure is an interval. */

import type { GapCause } from '../../engine/types.ts';
import type { CueKind } from '../../engine/view-types.ts';

interface GapTold {
  readonly unknown: string;
  readonly brief: string;
  readonly span: (span: string) => string;
}

export const clock = {
  /** "Etch 12". */
  label: (o: { readonly title: string; readonly subject: string }): string =>
    o.subject === '' ? o.title : `${o.title} ${o.subject}`,
  /** The portion whose working time runs, and what its figure tells. */
  cement: (portion: string): string => portion.charAt(0).toUpperCase() + portion.slice(1),
  cementLeft: 'of working time left',
  /** The first to end, and how many end after it: "12, 3 later". */
  withLater: (o: { readonly subject: string; readonly count: number }): string =>
    `${o.subject}, ${o.count} later`,
  /** "Exposure 12, incisal". */
  labelOnSurface: (o: {
    readonly title: string;
    readonly subject: string;
    readonly surface: string;
  }): string => `${o.title} ${o.subject}, ${o.surface}`,
  /** Of a round that one press began, or a step that a later press said. */
  spread: 'One press stands for several moments',
  /** A place of a pass of light, and how far the pass is: "22, facial", "light on, 2 of 10". */
  onSurface: (o: { readonly subject: string; readonly surface: string }): string =>
    `${o.subject}, ${o.surface}`,
  lightOf: (o: { readonly at: number; readonly of: number }): string =>
    `light on, ${o.at} of ${o.of}`,
  changeOf: (o: { readonly at: number; readonly of: number }): string =>
    `change to ${o.at} of ${o.of}`,
  gaps: {
    closed: {
      unknown: 'The app was closed for an unknown time: the tablet’s clock does not tell',
      brief: 'The app was closed for less than 1\u00a0s',
      span: (span: string): string => `The app was closed for ${span}`,
    },
    'asleep-or-moved': {
      unknown:
        'The tablet slept or its clock was moved for an unknown time: the clock was set back meanwhile',
      brief: 'The tablet slept or its clock was moved for less than 1\u00a0s',
      span: (span: string): string => `The tablet slept or its clock was moved for ${span}`,
    },
    'moved-back': {
      unknown: 'The tablet’s clock was set back: nobody knows how much time passed',
      brief: 'The tablet’s clock was set back or runs slow: less than 1\u00a0s may have passed',
      span: (span: string): string =>
        `The tablet’s clock was set back or runs slow: ${span} may have passed`,
    },
    'other-tablet': {
      unknown: 'The case changed tablets: their clocks do not tell how much time passed',
      brief: 'The case changed tablets within 1\u00a0s',
      span: (span: string): string => `The case changed tablets: ${span} in between`,
    },
  } satisfies Record<GapCause, GapTold>,
  /** Read and spoken. */
  cues: {
    nearing: (of: string): string => `${of}: 5 s left`,
    now: (of: string): string => `${of}: time elapsed`,
    over: (of: string): string => `${of}: over the limit`,
    'window-closing': (of: string): string => `${of}: closing`,
    'window-broken': (of: string): string => `${of}: outside the window`,
  } satisfies Record<CueKind, (of: string) => string>,
  /** The same where nobody knows how long it was, so that a limit only counts as passed. */
  cuesInDoubt: {
    nearing: (of: string): string => `${of}: 5 s left`,
    now: (of: string): string => `${of}: time elapsed`,
    over: (of: string): string => `${of}: perhaps over the limit`,
    'window-closing': (of: string): string => `${of}: perhaps closing`,
    'window-broken': (of: string): string => `${of}: perhaps outside the window`,
  } satisfies Record<CueKind, (of: string) => string>,
};
