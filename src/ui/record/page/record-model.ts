/**
 * The record of a case as one page: who, what, where; every tooth and surface with the exposure
 * given; every step with its time; windows with their margins; what was not kept, what was changed.
 * Everything is worked out from the facts that the exported forms are made of, so that page and
 * files cannot differ; nothing is stored beside the log. Pure.
 */

import type { ToothProgress } from '../../../engine/progress-types.ts';
import { breachId } from '../../../engine/sign-list.ts';
import { viewOf } from '../../../engine/view.ts';
import type { RecordSource } from '../../../export/export-source.ts';
import type {
  LightFact,
  PersonFact,
  RecordFacts,
  SurfaceFact,
  UnitFact,
} from '../../../export/record-types.ts';
import { signedWords } from '../../../export/who-words.ts';
import type { Step, Surface } from '../../../protocol/types.ts';
import { approvers } from '../../../words/approval-words.ts';
import { breachWords } from '../../../words/breach-words.ts';
import { correctionWords, placeWords } from '../../../words/correction-words.ts';
import { exportWords } from '../../../words/export-words.ts';
import { materialWord, restorationWord } from '../../../words/material-words.ts';
import { formatQuantity } from '../../../words/number.ts';
import { protocolWords } from '../../../words/protocol-words.ts';
import { lightNoteWords, protocolNote, recordWords } from '../../../words/record-words.ts';
import {
  portionTitle,
  subjectLabel,
  subjectsLabel,
  surfaceOn,
  teethUnder,
  toothLabel,
} from '../../../words/subject-words.ts';
import { zoneFactWords, zoneWords } from '../../../words/zone-words.ts';
import type { ArchTooth } from '../../parts/Arch.tsx';
import { recordAside } from './record-aside-model.ts';
import {
  type RecordNote,
  recordCorrections,
  recordGaps,
  recordRemarks,
  recordWaysBack,
  saidIn,
} from './record-changes-model.ts';
import { instantWords, type RecordFrame, recordFrame, wallOf } from './record-frame.ts';
import { type MaterialLine, recordMaterials, recordShades } from './record-materials-model.ts';
import { recordPasses } from './record-passes-model.ts';
import { type RecordStage, recordStages } from './record-steps-model.ts';
import { recordWindows, type WindowLine } from './record-windows-model.ts';

interface RecordFact {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly note?: string;
}

export interface SurfaceCell {
  readonly surface: Surface;
  readonly givenMs: number;
  readonly setMs: number;
}

interface ExposureRow {
  readonly unit: string;
  readonly label: string;
  readonly cells: readonly (SurfaceCell | null)[];
}

export interface ExposureTable {
  readonly step: string;
  /** With how the light was pressed, where tones led it. */
  readonly title: string;
  readonly surfaces: readonly { readonly id: Surface; readonly label: string }[];
  readonly rows: readonly ExposureRow[];
}

export interface RecordModel {
  /** What all forms of the record are made of. */
  readonly record: RecordFacts;
  readonly title: string;
  readonly chartRef: string;
  readonly mode: 'patient' | 'rehearsal';
  readonly isDrill: boolean;
  readonly isClosed: boolean;
  readonly facts: readonly RecordFact[];
  readonly teeth: readonly ArchTooth[];
  /** Labels of the units in seating order: the columns of the steps. */
  readonly columns: readonly { readonly id: string; readonly label: string }[];
  readonly units: readonly RecordFact[];
  readonly mixes: readonly RecordFact[];
  readonly materials: readonly MaterialLine[];
  readonly shades: readonly RecordNote[];
  readonly emergencies: readonly RecordNote[];
  readonly anaesthesia: readonly RecordNote[];
  readonly counts: readonly RecordNote[];
  readonly exposures: readonly ExposureTable[];
  readonly stages: readonly RecordStage[];
  readonly windows: readonly WindowLine[];
  readonly breaches: readonly {
    readonly id: string;
    readonly words: string;
    readonly at: string;
    readonly said?: string;
    /** It may have been kept. */
    readonly perhaps: boolean;
  }[];
  readonly passes: readonly RecordNote[];
  readonly waysBack: readonly RecordNote[];
  readonly corrections: readonly RecordNote[];
  readonly gaps: readonly RecordNote[];
  readonly remarks: readonly RecordNote[];
}

const SURFACE_ORDER: readonly Surface[] = [
  'facial',
  'incisal',
  'occlusal',
  'mesial',
  'distal',
  'lingual',
];

const quantity = (value: number, unit: string, digits = 0): string =>
  formatQuantity({ value, unit, digits });

function lightNote({ tipDiameterMm, readOn, driftPercent }: LightFact): string {
  return lightNoteWords({ tip: quantity(tipDiameterMm, 'mm', 1), readOn, driftPercent });
}

function fact(id: keyof typeof recordWords.facts, value: string, note?: string): RecordFact {
  const label = recordWords.facts[id];
  return { id, label, value, ...(note === undefined ? {} : { note }) };
}

function closedWords(frame: RecordFrame): string {
  const { signOff } = frame.facts;
  if (signOff === null) return recordWords.notClosed;
  const { label: who, role } = signOff;
  const line = recordWords.closedBy({
    at: instantWords(frame, signOff.at),
    who,
    role: protocolWords.roles[role],
  });
  return signedWords(signOff, line);
}

/** The reason, with what was left and what the protocol proposes for it. */
function stoppedFacts({ facts, scene }: RecordFrame): RecordFact[] {
  const { stopped } = facts;
  if (stopped === null) return [];
  const left = stopped.left.map(({ title, subjects }) => {
    const what = subjectsLabel(subjects, scene.spec);
    return what === '' ? title : recordWords.told({ of: title, what });
  });
  const note = [exportWords.left(recordWords.list(left)), ...stopped.proposals.map((p) => p.words)];
  return [fact('stopped', stopped.reason, note.join(' · '))];
}

function factsOf(frame: RecordFrame): RecordFact[] {
  const { facts, openedWallMs, times } = frame;
  const { light, room, follows } = facts;
  const temperature = quantity(room.temperatureC, '°C', 1);
  return [
    fact('chart', facts.chartRef),
    fact('mode', recordWords.mode[facts.mode]),
    fact('opened', times.moment(openedWallMs)),
    fact('closed', closedWords(frame)),
    ...stoppedFacts(frame),
    { id: 'times', label: zoneWords.times, value: zoneFactWords(facts.zone) },
    fact('people', recordWords.list(facts.people.map(personWords))),
    fact('protocol', facts.protocol.title, protocolNote(approvalOf(frame))),
    ...unansweredFacts(facts),
    fact(
      'light',
      recordWords.light({
        label: light.label,
        irradiance: quantity(light.irradianceMwPerCm2, 'mW/cm²'),
      }),
      lightNote(light),
    ),
    fact(
      'room',
      room.lux === null
        ? temperature
        : recordWords.room({ temperature, lux: quantity(room.lux, 'lx') }),
    ),
    ...(follows === null
      ? []
      : [fact('follows', follows.caseId, followsNote(frame, follows.lastExposureUtc))]),
    ...(facts.allergies === null ? [] : [fact('allergies', facts.allergies)]),
    ...(facts.note === null ? [] : [fact('note', facts.note)]),
  ];
}

function unansweredFacts({ protocol }: RecordFacts): RecordFact[] {
  const open = protocol.unanswered.map(({ reason, ...of }) =>
    correctionWords.because({ what: placeWords(of), reason }),
  );
  if (open.length === 0) return [];
  const value = correctionWords.together(open);
  return [{ id: 'unanswered', label: correctionWords.recorded, value }];
}

const personWords = ({ label, role }: PersonFact): string =>
  recordWords.person({ label, role: protocolWords.roles[role] });

const followsNote = ({ times }: RecordFrame, utc: string): string =>
  recordWords.lastExposure(times.moment(wallOf(utc)));

function approvalOf({ facts, times }: RecordFrame) {
  const { revision, hash, approval } = facts.protocol;
  const confirmed = approval && {
    by: approvers(approval),
    on: times.moment(wallOf(approval.onUtc)),
  };
  return { revision, hash, confirmed };
}

/** "over", or "over?" where the limits of this tooth may all have been kept. */
function toothWord({ facts }: RecordFrame, { tooth, unit, state }: ToothProgress): string {
  const own = facts.breaches.filter((b) => [`tooth:${tooth}`, `unit:${unit}`].includes(b.subject));
  const isPerhaps = own.length > 0 && own.every((b) => b.perhaps);
  if (isPerhaps && (state === 'over' || state === 'short')) return recordWords.toothPerhaps[state];
  return recordWords.toothState[state];
}

function teethOf(frame: RecordFrame): ArchTooth[] {
  const { notation } = frame.facts;
  const { state } = frame.log;
  const { teeth } = viewOf(state, state.anchor.stamp);
  return teeth.map((tooth) => ({
    id: tooth.tooth,
    label: toothLabel(tooth.tooth, notation),
    word: toothWord(frame, tooth),
    state: tooth.state === 'active' ? 'waiting' : tooth.state,
    progress: tooth.total === 0 ? 0 : tooth.done / tooth.total,
    active: false,
    ...(tooth.surfaces.some((s) => s.givenMs > 0)
      ? { surfaces: tooth.surfaces.map((s) => ({ id: s.surface, state: s.state })) }
      : {}),
  }));
}

/** Surfaces of each unit of an exposing step, begun or not. */
function litUnits({ facts, scene }: RecordFrame, step: string) {
  const begun = facts.steps.filter((s) => s.step === step);
  const undone = facts.undone.filter((u) => u.step === step);
  const found = [...begun, ...undone].map(({ subject, surfaces }) => ({
    unit: subject,
    label: subjectLabel(subject, scene.spec),
    surfaces,
  }));
  const order = scene.spec.units.map((u) => `unit:${u.id}`);
  return found.toSorted((a, b) => order.indexOf(a.unit) - order.indexOf(b.unit));
}

function surfaceCell(own: readonly SurfaceFact[], surface: Surface): SurfaceCell | null {
  const found = own.find((s) => s.surface === surface);
  return found ? { surface, givenMs: found.givenMs, setMs: found.setMs } : null;
}

function lightTitle({ facts }: RecordFrame, { id, title }: Step): string {
  const own = facts.steps.flatMap((s) => (s.step === id ? s.exposures : []));
  const paced = own.filter((e) => e.isPaced).length;
  if (paced === 0) return title;
  return paced === own.length ? recordWords.pacedTable(title) : recordWords.partlyPacedTable(title);
}

function exposureTables(frame: RecordFrame): ExposureTable[] {
  return frame.scene.protocol.steps.flatMap((step) => {
    if (step.action.kind !== 'expose') return [];
    const units = litUnits(frame, step.id);
    // Light of a choice that the case did not take.
    if (units.length === 0) return [];
    const lit = units.flatMap(({ unit }) => teethUnder([unit], frame.scene.spec));
    const surfaces = SURFACE_ORDER.filter((s) =>
      units.some((u) => u.surfaces.some((own) => own.surface === s)),
    );
    return [
      {
        step: step.id,
        title: lightTitle(frame, step),
        surfaces: surfaces.map((id) => ({ id, label: surfaceOn(id, lit) })),
        rows: units.map(({ unit, label, surfaces: own }) => ({
          unit,
          label,
          cells: surfaces.map((s) => surfaceCell(own, s)),
        })),
      },
    ];
  });
}

/** Units that are alike share a line; the first line tells the order they were planned in. */
function unitsOf({ facts, scene }: RecordFrame): RecordFact[] {
  const label = (id: string): string => subjectLabel(`unit:${id}`, scene.spec);
  const alike = new Map<string, { fact: Omit<RecordFact, 'label'>; labels: string[] }>();
  for (const unit of facts.units) {
    const value = recordWords.unit({
      restoration: restorationWord(unit.restoration),
      material: materialWord(unit.material),
    });
    const told = { id: unit.id, value, ...unitNote(unit) };
    const key = `${value}|${told.note ?? ''}`;
    const group = alike.get(key);
    if (group) group.labels.push(label(unit.id));
    else alike.set(key, { fact: told, labels: [label(unit.id)] });
  }
  const order = recordWords.list(facts.order.map(label));
  return [
    { id: 'order', label: recordWords.order, value: order },
    ...[...alike.values()].map(({ fact: told, labels }) => ({
      ...told,
      label: recordWords.list(labels),
    })),
  ];
}

function unitNote(unit: UnitFact): { note?: string } {
  const thickness = unit.thicknessMm === null ? [] : [quantity(unit.thicknessMm, 'mm', 1)];
  const shade = unit.shade === null ? [] : [recordWords.shade(unit.shade)];
  const note = recordWords.list([...thickness, ...shade]);
  return note === '' ? {} : { note };
}

function mixesOf(frame: RecordFrame): RecordFact[] {
  const { facts, scene } = frame;
  return facts.mixes.flatMap(({ mix, units, beads }) => {
    if (units.length === 0) return [];
    const told = beads.map((b) =>
      recordWords.bead({ found: b.found, at: instantWords(frame, b.at) }),
    );
    return [
      {
        id: mix,
        label: portionTitle(mix),
        value: recordWords.list(units.map((u) => subjectLabel(`unit:${u}`, scene.spec))),
        ...(told.length > 0 ? { note: recordWords.several(told) } : {}),
      },
    ];
  });
}

/** Works out the whole page of a case. */
export function recordModel(source: RecordSource): RecordModel {
  const frame = recordFrame(source);
  const { facts, scene } = frame;
  return {
    record: facts,
    title: facts.title,
    chartRef: facts.chartRef,
    mode: facts.mode,
    isDrill: source.log.state.opened.drill !== undefined,
    isClosed: facts.signOff !== null,
    facts: factsOf(frame),
    teeth: teethOf(frame),
    columns: scene.spec.units.map((u) => ({
      id: u.id,
      label: subjectLabel(`unit:${u.id}`, scene.spec),
    })),
    units: unitsOf(frame),
    mixes: mixesOf(frame),
    materials: recordMaterials(frame),
    shades: recordShades(frame),
    ...recordAside(frame),
    exposures: exposureTables(frame),
    stages: recordStages(frame),
    windows: recordWindows(frame),
    breaches: facts.breaches.map((b, index) => ({
      id: `${index}`,
      words: breachWords(b, scene),
      ...saidIn(frame, breachId(b)),
      at: instantWords(frame, b.at),
      perhaps: b.perhaps,
    })),
    passes: recordPasses(frame),
    waysBack: recordWaysBack(frame),
    corrections: recordCorrections(frame),
    gaps: recordGaps(frame),
    remarks: recordRemarks(frame),
  };
}
