/** What every part of a record is made from: state, layout, presses, and instants as facts. */
import { earliestMs, latestMs } from '../engine/axis.ts';
import { type Layout, layoutOf } from '../engine/layout.ts';
import { momentsOf } from '../engine/log.ts';
import type { CaseInstant, CaseState } from '../engine/types.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { Protocol, Step } from '../protocol/types.ts';
import type { ZoneFact } from '../words/codes.ts';
import { toldLog } from '../words/told-protocol.ts';
import { isZone, UTC_ZONE, zonedIso } from '../words/zone.ts';
import type { RecordSource } from './export-source.ts';
import { type PressLog, pressLogOf } from './press-log.ts';
import type { InstantFact, LengthFact } from './record-types.ts';
import { utc } from './utc.ts';

export interface RecordFrame {
  readonly source: RecordSource;
  readonly state: CaseState;
  readonly layout: Layout;
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly presses: PressLog;
  /** Where each press that counts lies on the case axis, corrections counted in. */
  readonly moments: ReadonlyMap<number, CaseInstant>;
  /** Wall clock of the opening, in ms; the case axis counts from here. */
  readonly openedWallMs: number;
  readonly zone: ZoneFact;
  readonly steps: ReadonlyMap<string, Step>;
  /** ISO 3950 numbers; none for a subject that a later plan no longer has. */
  readonly teethOf: (subject: SubjectId) => readonly string[];
}

/** The case's own zone if there are rules for it, else the clinic's. */
function zoneFact(ofCase: string | null, clinic: string | undefined): ZoneFact {
  if (ofCase !== null && isZone(ofCase)) return { name: ofCase, from: 'case', ofCase };
  if (clinic !== undefined && isZone(clinic)) return { name: clinic, from: 'clinic', ofCase };
  return { name: UTC_ZONE, from: 'utc', ofCase };
}

export function recordFrame(source: RecordSource): RecordFrame {
  const { state, records } = toldLog(source.log);
  const { spec, protocol } = state.opened;
  const zone = zoneFact(state.opened.zone ?? null, source.clinicZone);
  const layout = layoutOf(state);
  const known = new Set(Object.values(layout.subjects.order).flat());
  return {
    source,
    state,
    layout,
    spec,
    protocol,
    presses: pressLogOf(source.log, zone.name),
    moments: momentsOf(source.log),
    openedWallMs: records[0]?.stamp.wallMs ?? 0,
    zone,
    steps: new Map(protocol.steps.map((s) => [s.id, s])),
    teethOf: (subject) => (known.has(subject) ? layout.subjects.teethOf(subject) : []),
  };
}

/** A fact is plain data, which JSON can carry: what nobody knows is null there, not infinite. */
export const knownMs = (ms: number): number | null => (Number.isFinite(ms) ? ms : null);

/** Nothing that a case presses happened before it was opened, whatever nobody knows of a gap. */
const fromMsOf = (at: CaseInstant): number => Math.max(earliestMs(at), Math.min(0, at.loMs));

/** A place on the case axis with its wall instants: the earliest and the latest that it can have been. */
export function instantFact(frame: RecordFrame, at: CaseInstant): InstantFact {
  const { openedWallMs, zone } = frame;
  const loMs = fromMsOf(at);
  const toMs = knownMs(latestMs(at));
  const fromWallMs = openedWallMs + loMs;
  const toWallMs = toMs === null ? null : openedWallMs + toMs;
  return {
    loMs,
    hiMs: toMs,
    fromUtc: utc(fromWallMs),
    toUtc: toWallMs === null ? null : utc(toWallMs),
    fromLocal: zonedIso(fromWallMs, zone.name),
    toLocal: toWallMs === null ? null : zonedIso(toWallMs, zone.name),
  };
}

/** A length as a fact. */
export function lengthFact(length: { readonly loMs: number; readonly hiMs: number }): LengthFact {
  return { loMs: length.loMs, hiMs: knownMs(length.hiMs) };
}
