/** What every screen is drawn from. Held in one store; changed only by the session. */
import type { Refusal } from '../engine/commands.ts';
import type { ListDraft } from '../engine/list-draft.ts';
import type { CaseLog } from '../engine/log.ts';
import type { Approval, Stamp } from '../engine/types.ts';
import type { Unanswered } from '../engine/unanswered-types.ts';
import type { View } from '../engine/view-types.ts';
import type { CaseFile, Notation } from '../protocol/case-types.ts';
import type { Protocol } from '../protocol/types.ts';
import type {
  CaseSummary,
  Damage,
  JournalProblemCode,
  JournalStatus,
  ReconcileReport,
} from '../storage/journal-types.ts';
import type { SecondEndRow } from './cases/second-ends.ts';
import type { RehearsalSpeed } from './device/clock.ts';
import type { StorageStatus } from './device/persist.ts';
import type { WakeLockStatus } from './device/wake-lock.ts';
import type { EmergencyState } from './emergency/emergency-state.ts';
import type { SharingState } from './sharing/sharing-state.ts';
import type { SoundStatus } from './sound/audio.ts';
import type { UpdateStatus } from './update/app-update.ts';

/** What this tablet remembers about itself. */
export interface Settings {
  readonly clinic: string;
  /** The clinic's time zone, a name of the IANA time zone database; empty until the first start. */
  readonly zone: string;
  /** A random id of this tablet, made at its first start; empty until then. */
  readonly tablet: string;
  readonly notation: Notation;
  readonly theme: 'auto' | 'light' | 'dark';
  /** Screen goes amber while uncured resin is exposed. */
  readonly amber: boolean;
  /** From 0 to 1. */
  readonly volume: number;
  readonly spoken: boolean;
  readonly leftHanded: boolean;
  /** Distance from which the dentist reads, in metres. */
  readonly distanceM: number;
  /** CSS pixels per millimetre, once the screen was calibrated. */
  readonly pxPerMm: number | null;
  /** Keys learned beside Space, Enter and PageDown. */
  readonly extraKeys: readonly string[];
  /** When a person last heard the test sound, ms since 1970; null when nobody did, or no longer. */
  readonly heardAtMs: number | null;
  /** Who heard it: `dentist` or `assistant`; empty when nobody did. */
  readonly heardBy: string;
  /** Loudness at which it was heard, from 0 to 1. */
  readonly heardVolume: number;
  /** The number to call in an emergency, as dialled from the clinic; empty until it is set. */
  readonly emergencyNumber: string;
  /** The clinic's own protocol for emergencies, a few lines. */
  readonly emergencyProtocol: string;
  readonly poisonNumber: string;
  /** URI of the system that chart references are unique in, as it was typed; empty: none is written. */
  readonly chartSystem: string;
  /** URI of the code system of the procedure codes, as it was typed. */
  readonly procedureSystem: string;
  /** The clinic's codes, one line for each kind of restoration: `veneer = CODE`. */
  readonly procedureCodes: string;
  /** Whether tables begin with a byte-order mark, which some spreadsheets need to read them. */
  readonly byteOrderMark: boolean;
  /** Monday first, `08:00-12:30, 14:00-18:00`; empty where closed. */
  readonly openingHours: readonly string[];
  /** Id of the tablet of the clinic that the far view follows while no case runs here; empty: none was chosen. */
  readonly farViewOf: string;
  /** Months from one recall to the next after the first year, 3 to 24. */
  readonly recallMonths: number;
}

export const DEFAULT_SETTINGS: Settings = {
  clinic: '',
  zone: '',
  tablet: '',
  notation: 'fdi',
  theme: 'auto',
  amber: true,
  volume: 0.8,
  spoken: false,
  leftHanded: false,
  distanceM: 2,
  pxPerMm: null,
  extraKeys: [],
  heardAtMs: null,
  heardBy: '',
  heardVolume: 0,
  emergencyNumber: '',
  emergencyProtocol: '',
  poisonNumber: '',
  chartSystem: '',
  procedureSystem: '',
  procedureCodes: '',
  byteOrderMark: false,
  openingHours: [],
  farViewOf: '',
  recallMonths: 12,
};

/** A protocol with its content hash; `approval` is null until the clinic lead confirmed it. */
export interface ProtocolEntry {
  readonly protocol: Protocol;
  readonly hash: string;
  readonly approval: Approval | null;
  readonly origin: 'template' | 'own';
}

/** What a new template corrects in a confirmed revision that could hurt, and nobody answered. */
export interface OpenCorrections {
  /** Id and title of the protocol in force. */
  readonly protocol: string;
  readonly title: string;
  readonly unanswered: Unanswered;
}

/** The case on the chair screen. */
export interface RunningCase {
  readonly caseId: string;
  readonly log: CaseLog;
  readonly view: View;
  /** The instant `view` was made for. */
  readonly now: Stamp;
  /** When that was by the page's own monotonic clock; absent where the picture is another window's. */
  readonly madeAtRealMs?: number;
  /** Presses that are on their way to the journal. */
  readonly pending: number;
  /** Entries that the journal refused and does not have; this page alone holds them. */
  readonly unsaved: number;
  /** The last press that can be taken back, and until when it is offered (real ms). */
  readonly undo: { readonly press: number; readonly untilRealMs: number } | null;
  readonly refusal: Refusal | null;
  readonly speed: RehearsalSpeed;
  /** Who presses, as a person id of the case. */
  readonly by: string;
  /** The step for which an answer was typed that its press will carry; null where none was. */
  readonly typed: string | null;
  /** Ticks and answers of a list that its press will carry. */
  readonly answers: ListDraft;
  /** Another window writes this case; this one reads along. */
  readonly isViewOnly: boolean;
  /** Read along, and nobody vouches for the picture any more: its clocks stand still. */
  readonly isStale: boolean;
}

export interface DrillEnded {
  readonly caseId: string;
  /** False where it could not be closed: it stands among the open cases. */
  readonly isKept: boolean;
}

export interface Tablet {
  readonly sound: SoundStatus;
  readonly screen: WakeLockStatus;
  readonly storage: StorageStatus;
  readonly update: UpdateStatus;
  /** The browser offers to install the app, and asks when told to. */
  readonly canInstall: boolean;
  /** The zone that the tablet's own clock is set to; nothing is told in it. */
  readonly zone: string;
}

export type Fault =
  | { readonly kind: 'journal'; readonly code: JournalProblemCode; readonly line: string }
  | { readonly kind: 'broken'; readonly line: string };

export interface AppState {
  readonly phase: 'starting' | 'ready';
  /** Whether this window writes, or reads along because another one writes. */
  readonly standing: 'writer' | 'reader' | 'none';
  readonly journal: JournalStatus;
  readonly report: ReconcileReport | null;
  readonly cases: readonly CaseSummary[];
  /** What other tablets pressed in the place of other entries; none as a rule. */
  readonly secondEnds: readonly SecondEndRow[];
  /** What was saved here once and is missing. */
  readonly damage: Damage;
  readonly prepared: readonly CaseFile[];
  /** By the id of a prepared case: what other tablets keep under it that did not know of this one. */
  readonly preparedTwice: ReadonlyMap<string, readonly CaseFile[]>;
  /** Names of prepared cases that cannot be read. */
  readonly unreadPrepared: readonly string[];
  readonly protocols: readonly ProtocolEntry[];
  /** By protocol, where there is something. */
  readonly corrections: readonly OpenCorrections[];
  readonly settings: Settings;
  readonly running: RunningCase | null;
  /** The drill that was ended because a patient's case was opened; until somebody has seen it. */
  readonly drillEnded?: DrillEnded | null;
  /** In a window that reads along: the case whose live picture was heard last, whichever it follows. */
  readonly liveCaseId: string | null;
  readonly tablet: Tablet;
  readonly fault: Fault | null;
  readonly emergency: EmergencyState;
  /** What this tablet shares with others of the clinic. */
  readonly sharing: SharingState;
}
