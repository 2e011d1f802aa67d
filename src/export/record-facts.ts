/**
 * Everything a record says, as one plain object: who, what, where, each step with its time, each
 * surface with the exposure given, windows with margins, what was not kept, what was corrected, and
 * how the hash chain stands. A pure function of the journal: the same entries always give the same
 * object, with its keys in the same order.
 */
import { toothByFdi } from '../calc/tooth.ts';
import { lastLightWallMs } from '../engine/follow-on.ts';
import type { CaseEvent } from '../engine/types.ts';
import type { Light, Unit } from '../protocol/case-types.ts';
import { zonedIso } from '../words/zone.ts';
import type { RecordSource } from './export-source.ts';
import { namedMaterials } from './named-materials.ts';
import { asideFacts } from './record-aside.ts';
import {
  breachFacts,
  correctionFacts,
  cueFacts,
  gapFacts,
  noteFacts,
  roleFacts,
  signOffFact,
  wayBackFacts,
} from './record-changes.ts';
import { instantFact, type RecordFrame, recordFrame } from './record-frame.ts';
import { shadeFacts, slotFacts } from './record-materials.ts';
import { passFacts, tonesFacts } from './record-passes.ts';
import { stepFacts, undoneFacts, voidedFacts } from './record-steps.ts';
import { numberingFacts, stoppedFact } from './record-stopped.ts';
import { tabletFacts } from './record-tablets.ts';
import type {
  ChainFact,
  LightFact,
  MixFact,
  ProtocolFact,
  RecordFacts,
  UnitFact,
} from './record-types.ts';
import { windowFacts } from './record-windows.ts';
import { utc } from './utc.ts';

/**
 * How far a reading lies from the light's own baseline, in percent to one decimal; negative is
 * weaker. Null without a baseline.
 */
export function driftPercent({ irradianceMwPerCm2, baselineMwPerCm2 }: Light): number | null {
  if (baselineMwPerCm2 === undefined) return null;
  const drift = ((irradianceMwPerCm2 - baselineMwPerCm2) / baselineMwPerCm2) * 1000;
  // Rounding a small loss gives -0, which JSON would read back as 0.
  return Math.round(drift) / 10 + 0;
}

function lightFact(light: Light): LightFact {
  const { label, irradianceMwPerCm2, tipDiameterMm, baselineMwPerCm2, readOn } = light;
  return {
    label,
    irradianceMwPerCm2,
    tipDiameterMm,
    baselineMwPerCm2: baselineMwPerCm2 ?? null,
    driftPercent: driftPercent(light),
    readOn: readOn ?? null,
  };
}

function unitFact(unit: Unit): UnitFact {
  const { id, teeth, pontics, restoration, material, thicknessMm, shade } = unit;
  return {
    id,
    teeth: teeth.map((fdi) => {
      const tooth = toothByFdi(Number(fdi));
      const isPontic = pontics?.includes(fdi) ?? false;
      return { fdi, universal: tooth?.universal ?? null, name: tooth?.name ?? null, isPontic };
    }),
    restoration,
    material,
    thicknessMm: thicknessMm ?? null,
    shade: shade ?? null,
  };
}

function protocolFact({ state, protocol, zone }: RecordFrame): ProtocolFact {
  const { approval, protocolHash, unanswered } = state.opened;
  return {
    id: protocol.id,
    revision: protocol.revision,
    title: protocol.title,
    hash: protocolHash,
    approval: approval
      ? {
          by: approval.by,
          ...(approval.second !== undefined && { second: approval.second }),
          onUtc: utc(approval.onWallMs),
          onLocal: zonedIso(approval.onWallMs, zone.name),
        }
      : null,
    unanswered: unanswered?.corrections ?? [],
  };
}

function mixFacts(frame: RecordFrame): MixFact[] {
  const { plan, beads } = frame.state;
  return plan.mixes.map((units, index) => {
    const mix = `mix:${index + 1}`;
    const probed = beads[mix] ?? [];
    return {
      mix,
      units,
      beads: probed.map(({ found, at }) => ({ found, at: instantFact(frame, at) })),
    };
  });
}

const isHeld = (anchor: RecordSource['anchor']): boolean =>
  anchor === undefined || anchor.state === 'holds';

function anchorageFact({ source, zone }: RecordFrame): Pick<ChainFact, 'anchorage'> {
  const { anchorage } = source;
  if (anchorage === undefined) return {};
  if (anchorage === null) return { anchorage };
  const { entries, atWallMs, knownTo } = anchorage;
  const atLocal = zonedIso(atWallMs, zone.name);
  return { anchorage: { entries, atUtc: utc(atWallMs), atLocal, knownTo } };
}

function chainFact(frame: RecordFrame): ChainFact {
  const { entries, verification, apart = [], anchor } = frame.source;
  return {
    entries: entries.length,
    head: entries.at(-1)?.hash ?? null,
    root: entries[0]?.hash ?? null,
    isWhole: verification.firstBad === null && apart.length === 0 && isHeld(anchor),
    firstBad: verification.firstBad,
    setApart: apart.length,
    ...(anchor === undefined ? {} : { anchor }),
    ...anchorageFact(frame),
  };
}

function headFacts(frame: RecordFrame) {
  const { source, state, spec, zone } = frame;
  const lastWallMs = source.log.records.at(-1)?.stamp.wallMs ?? frame.openedWallMs;
  const lightMs = lastLightWallMs(source.log);
  return {
    format: 'lutewatch-record',
    formatVersion: 1,
    caseId: source.entries[0]?.caseId ?? spec.id,
    preparedId: spec.id,
    chartRef: spec.chartRef,
    title: spec.title,
    mode: state.opened.mode,
    notation: spec.notation,
    zone,
    openedUtc: utc(frame.openedWallMs),
    openedLocal: zonedIso(frame.openedWallMs, zone.name),
    lastUtc: utc(lastWallMs),
    lastLocal: zonedIso(lastWallMs, zone.name),
    lastLightUtc: lightMs === null ? null : utc(lightMs),
    lastLightLocal: lightMs === null ? null : zonedIso(lightMs, zone.name),
    scheduledFor: spec.scheduledFor ?? null,
    allergies: spec.allergies ?? null,
    note: spec.note ?? null,
    follows: spec.follows
      ? {
          caseId: spec.follows.caseId,
          lastExposureUtc: utc(spec.follows.lastExposureWallMs),
          lastExposureLocal: zonedIso(spec.follows.lastExposureWallMs, zone.name),
        }
      : null,
  } as const;
}

/** Where a record tells of each kind of event: nothing that was written may go untold. */
export const EVENT_TOLD_IN = {
  'case-opened': 'openedUtc',
  'step-confirmed': 'steps',
  'step-started': 'steps',
  'step-ended': 'steps',
  'coat-applied': 'steps',
  'pass-made': 'steps',
  'option-chosen': 'steps',
  'exposure-started': 'steps',
  'exposure-stopped': 'steps',
  'light-pass-begun': 'passes',
  'light-pass-stopped': 'passes',
  'light-pass-confirmed': 'passes',
  'tones-heard': 'tones',
  'step-skipped': 'steps',
  'way-back-taken': 'waysBack',
  'mix-added': 'corrections',
  'plan-changed': 'corrections',
  'bead-probed': 'mixes',
  'material-named': 'materials',
  'shade-tried': 'shades',
  'emergency-noted': 'emergencies',
  'anaesthesia-given': 'anaesthesia',
  'gap-found': 'gaps',
  'gap-settled': 'corrections',
  'press-retimed': 'corrections',
  'press-retracted': 'corrections',
  'cue-acknowledged': 'cuesAcknowledged',
  'note-added': 'notes',
  'numbering-changed': 'numberings',
  'visit-stopped': 'stopped',
  'role-taken': 'rolesTaken',
  'pen-given': 'tablets',
  'pen-taken': 'tablets',
  'case-closed': 'signOff',
} as const satisfies Readonly<Record<CaseEvent['type'], keyof RecordFacts>>;

/** Everything the record of one case says. */
export function recordFacts(source: RecordSource): RecordFacts {
  const frame = recordFrame(source);
  const { spec } = frame;
  const steps = stepFacts(frame);
  const voided = voidedFacts(frame);
  return {
    ...headFacts(frame),
    signOff: signOffFact(frame),
    protocol: protocolFact(frame),
    people: spec.people.map(({ id, label, role }) => ({ id, label, role })),
    rolesTaken: roleFacts(frame),
    room: { temperatureC: spec.room.temperatureC, lux: spec.room.lux ?? null },
    light: lightFact(spec.light),
    units: spec.units.map(unitFact),
    order: frame.state.plan.order,
    mixes: mixFacts(frame),
    slots: slotFacts(frame, [...steps, ...voided]),
    materials: source.materials ?? namedMaterials(source.log),
    shades: shadeFacts(frame),
    steps,
    passes: passFacts(frame),
    tones: tonesFacts(frame),
    undone: undoneFacts(frame),
    windows: windowFacts(frame),
    breaches: breachFacts(frame),
    waysBack: wayBackFacts(frame),
    voided,
    corrections: correctionFacts(frame),
    gaps: gapFacts(frame),
    notes: noteFacts(frame),
    ...asideFacts(frame),
    cuesAcknowledged: cueFacts(frame),
    stopped: stoppedFact(frame),
    numberings: numberingFacts(frame),
    ...tabletFacts(frame),
    chain: chainFact(frame),
  };
}
