/** What a session is made of, and what opening a case asks for. */

import type { Problem } from '../base/problem.ts';
import type { Result } from '../base/result.ts';
import type { Refusal } from '../engine/commands.ts';
import type { Unanswered } from '../engine/unanswered-types.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { Journal } from '../storage/journal-types.ts';
import type { AppState, ProtocolEntry, Settings } from './app-state.ts';
import type { CaseBegun, HoldRuns } from './cases/case-opening.ts';
import type { AlarmTimer } from './device/alarm-timer.ts';
import type { Clock, RehearsalSpeed } from './device/clock.ts';
import type { TimerHost } from './device/timer-host.ts';
import type { Visibility } from './device/visibility.ts';
import type { FactParts } from './facts/fact-writer.ts';
import type { CryptoLike } from './lead/lead-passphrase.ts';
import type { Shipped } from './library/library.ts';
import type { Planner } from './planner/planner.ts';
import type { SharingWindow } from './sharing/sharing-parts.ts';
import type { AppStore } from './store.ts';
import type { Pictures } from './windows/pictures.ts';

/** Who may write on this device; held by one window at a time. */
export interface WriterSeat {
  acquire(): Promise<boolean>;
  requestHandover(): Promise<'held' | 'refused' | 'silent'>;
  takeOver(): Promise<boolean>;
}

export interface SessionParts {
  readonly journal: Journal;
  readonly seat: WriterSeat;
  readonly store: AppStore;
  readonly clock: Clock;
  readonly timers: TimerHost;
  readonly alarm: AlarmTimer;
  readonly visibility: Visibility;
  readonly shipped: Shipped;
  /** Shows the case that runs here to those that look on, and looks on elsewhere. */
  readonly pictures: Pictures | null;
  readonly newId: () => string;
  readonly realNowMs: () => number;
  /** What takes part in a clinic's store; left out where a page cannot. */
  readonly sharing?: SharingWindow;
  /** The thread that drills are drawn in; left out where there is none. */
  readonly planner?: Pick<Planner, 'drill'>;
  /** Web Crypto, for the clinic lead's passphrase; left out where there is none. */
  readonly crypto?: CryptoLike;
}

/** What says new things of the clinic in the name of this tablet. */
export function factParts(
  { journal, store, clock }: SessionParts,
  epoch: () => number | null,
): FactParts {
  const tablet = (): string => store.getState().settings.tablet;
  return { journal, epoch, tablet, nowWallMs: () => clock.stamp().wallMs };
}

export interface CaseOpening {
  readonly spec: CaseFile;
  readonly mode: 'patient' | 'rehearsal';
  readonly speed: RehearsalSpeed;
  /** A protocol other than the one cases begin with: a draft that is rehearsed. */
  readonly draft?: ProtocolEntry;
  /** People were told what the clinic lead has not answered, and begin all the same. */
  readonly allTheSame?: boolean;
  /** People were told until when the hold runs, and begin all the same. */
  readonly withinHold?: boolean;
}

/** The first press on a patient's case that stands on corrections which nobody answered. */
export interface CorrectionsOpen {
  readonly code: 'corrections-open';
  readonly unanswered: Unanswered;
}

/** Why a case was not begun. */
export type NotBegun = Refusal | Problem | CorrectionsOpen | HoldRuns | CaseBegun;

export type CaseOpened = Result<string, NotBegun>;

/** Wanted when a case is opened, not when the app is. */
export const openingCode = () => import('./cases/case-opening.ts');

/** Only the window that writes keeps anything. */
export const notWriter = ({ standing }: Pick<AppState, 'standing'>): Problem => ({
  code: 'not-writer',
  place: 'window',
  expected: 'this window to be the one that writes',
  came: standing,
});

export const unknownProtocol = (came: string): Problem => ({
  code: 'unknown-protocol',
  place: 'case.protocol',
  expected: 'a protocol that this tablet has',
  came,
});

/** Where a case is opened, as its first entry says it; a tablet that has no id yet says none. */
export const openingPlace = ({ zone, tablet }: Pick<Settings, 'zone' | 'tablet'>) => ({
  zone,
  ...(tablet === '' ? {} : { tablet }),
});
