/**
 * The record of a case as one page: who, what, where; every tooth and surface with the exposure
 * given; every step with its time; windows with their margins; what was not kept, what was changed.
 * Everything is worked out from the log, nothing is stored beside it. Pure.
 */
import { exposureNeeds } from '../../engine/exposures.ts';
import type { CaseLog } from '../../engine/log.ts';
import { viewOf } from '../../engine/view.ts';
import type { Surface } from '../../protocol/types.ts';
import { formatQuantity } from '../format/number.ts';
import type { ArchTooth } from '../parts/Arch.tsx';
import { breachWords } from '../words/breach-words.ts';
import { momentWords } from '../words/date-words.ts';
import { materialWord, restorationWord } from '../words/material-words.ts';
import { recordWords } from '../words/record-words.ts';
import { SURFACE_WORDS, subjectLabel, subjectsLabel, toothLabel } from '../words/subject-words.ts';
import {
  type RecordNote,
  recordCorrections,
  recordGaps,
  recordRemarks,
  recordWaysBack,
} from './record-changes-model.ts';
import { instantWords, type RecordFrame, recordFrame } from './record-frame.ts';
import { type RecordStage, recordStages } from './record-steps-model.ts';
import { recordWindows, type WindowLine } from './record-windows-model.ts';

export interface RecordFact {
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

export interface ExposureRow {
  readonly unit: string;
  readonly label: string;
  readonly cells: readonly (SurfaceCell | null)[];
}

export interface ExposureTable {
  readonly step: string;
  readonly title: string;
  readonly surfaces: readonly { readonly id: Surface; readonly label: string }[];
  readonly rows: readonly ExposureRow[];
}

export interface RecordModel {
  readonly title: string;
  readonly chartRef: string;
  readonly mode: 'patient' | 'rehearsal';
  readonly isClosed: boolean;
  readonly facts: readonly RecordFact[];
  readonly teeth: readonly ArchTooth[];
  /** Labels of the units in seating order: the columns of the steps. */
  readonly columns: readonly { readonly id: string; readonly label: string }[];
  readonly units: readonly RecordFact[];
  readonly mixes: readonly RecordFact[];
  readonly exposures: readonly ExposureTable[];
  readonly stages: readonly RecordStage[];
  readonly windows: readonly WindowLine[];
  readonly breaches: readonly {
    readonly id: string;
    readonly words: string;
    readonly at: string;
  }[];
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

function lightNote(light: RecordFrame['scene']['spec']['light']): string {
  const { tipDiameterMm, readOn } = light;
  const tip = formatQuantity({ value: tipDiameterMm, unit: 'mm', digits: 1 });
  return readOn === undefined ? recordWords.tip(tip) : recordWords.tipRead({ tip, on: readOn });
}

function factsOf(frame: RecordFrame): RecordFact[] {
  const { spec, protocol } = frame.scene;
  const { opened, closed } = frame.state;
  const { light, room } = spec;
  const output = { value: light.irradianceMwPerCm2, unit: 'mW/cm²', digits: 0 };
  const temperature = formatQuantity({ value: room.temperatureC, unit: '°C', digits: 1 });
  const roomWords =
    room.lux === undefined
      ? temperature
      : `${temperature}, ${formatQuantity({ value: room.lux, unit: 'lx', digits: 0 })}`;
  const fact = (id: keyof typeof recordWords.facts, value: string, note?: string): RecordFact => ({
    id,
    label: recordWords.facts[id],
    value,
    ...(note === undefined ? {} : { note }),
  });
  return [
    fact('chart', spec.chartRef),
    fact('mode', recordWords.mode[opened.mode]),
    fact('opened', momentWords(frame.openedWallMs)),
    fact(
      'closed',
      closed
        ? recordWords.closedBy({
            at: instantWords(frame, closed.at),
            who: frame.personOf(closed.by),
            role: closed.role,
          })
        : recordWords.notClosed,
    ),
    fact('people', spec.people.map((p) => `${p.label} (${p.role})`).join(', ')),
    fact('protocol', protocol.title, recordWords.protocolNote(approvalOf(frame))),
    fact('light', `${light.label}: ${formatQuantity(output)}`, lightNote(light)),
    fact('room', roomWords),
    ...(spec.allergies === undefined ? [] : [fact('allergies', spec.allergies)]),
    ...(spec.note === undefined ? [] : [fact('note', spec.note)]),
  ];
}

function approvalOf(frame: RecordFrame) {
  const { protocol, protocolHash, approval } = frame.state.opened;
  return {
    revision: protocol.revision,
    hash: protocolHash,
    confirmed: approval ? { by: approval.by, on: momentWords(approval.onWallMs) } : null,
  };
}

function teethOf(frame: RecordFrame): ArchTooth[] {
  const { notation } = frame.scene.spec;
  const { teeth } = viewOf(frame.state, frame.state.anchor.stamp);
  return teeth.map((tooth) => ({
    id: tooth.tooth,
    label: toothLabel(tooth.tooth, notation),
    word: recordWords.toothState[tooth.state],
    state: tooth.state === 'active' ? 'waiting' : tooth.state,
    progress: tooth.total === 0 ? 0 : tooth.done / tooth.total,
    active: false,
    ...(tooth.surfaces.some((s) => s.givenMs > 0)
      ? { surfaces: tooth.surfaces.map((s) => ({ id: s.surface, state: s.state })) }
      : {}),
  }));
}

function exposureTables(frame: RecordFrame): ExposureTable[] {
  const { layout, state, scene } = frame;
  return scene.protocol.steps.flatMap((step) => {
    if (step.action.kind !== 'expose') return [];
    const rows = (layout.byStep.get(step.id) ?? []).map((instance) => ({
      unit: instance.subject,
      label: subjectLabel(instance.subject, scene.spec),
      needs: exposureNeeds(layout, instance, state.runs[instance.key]),
    }));
    const surfaces = SURFACE_ORDER.filter((s) =>
      rows.some((r) => r.needs.some((n) => n.surface === s)),
    );
    const cell = (needs: (typeof rows)[number]['needs'], surface: Surface): SurfaceCell | null => {
      const own = needs.filter((n) => n.surface === surface);
      if (own.length === 0) return null;
      const givenMs = own.reduce((sum, n) => sum + n.givenLoMs, 0);
      return { surface, givenMs, setMs: own.reduce((sum, n) => sum + n.setMs, 0) };
    };
    return [
      {
        step: step.id,
        title: step.title,
        surfaces: surfaces.map((id) => ({ id, label: SURFACE_WORDS[id] })),
        rows: rows.map(({ unit, label, needs }) => ({
          unit,
          label,
          cells: surfaces.map((s) => cell(needs, s)),
        })),
      },
    ];
  });
}

/** Units that are alike share a line; the first line tells the order they were planned in. */
function unitsOf(frame: RecordFrame): RecordFact[] {
  const { spec } = frame.scene;
  const label = (id: string): string => subjectLabel(`unit:${id}`, spec);
  const alike = new Map<string, { fact: Omit<RecordFact, 'label'>; labels: string[] }>();
  for (const unit of spec.units) {
    const value = `${restorationWord(unit.restoration)}, ${materialWord(unit.material).toLowerCase()}`;
    const fact = { id: unit.id, value, ...unitNote(unit) };
    const key = `${value}|${fact.note ?? ''}`;
    const group = alike.get(key);
    if (group) group.labels.push(label(unit.id));
    else alike.set(key, { fact, labels: [label(unit.id)] });
  }
  const order = frame.state.plan.order.map(label).join(', ');
  return [
    { id: 'order', label: recordWords.order, value: order },
    ...[...alike.values()].map(({ fact, labels }) => ({ ...fact, label: labels.join(', ') })),
  ];
}

function unitNote(unit: RecordFrame['scene']['spec']['units'][number]): { note?: string } {
  const thickness =
    unit.thicknessMm === undefined
      ? []
      : [formatQuantity({ value: unit.thicknessMm, unit: 'mm', digits: 1 })];
  const shade = unit.shade === undefined ? [] : [recordWords.shade(unit.shade)];
  const note = [...thickness, ...shade].join(', ');
  return note === '' ? {} : { note };
}

function mixesOf(frame: RecordFrame): RecordFact[] {
  const { spec } = frame.scene;
  return frame.state.plan.mixes.flatMap((units, index) => {
    if (units.length === 0) return [];
    const subject = `mix:${index + 1}`;
    const beads = (frame.state.beads[subject] ?? []).map((b) =>
      recordWords.bead({ found: b.found, at: instantWords(frame, b.at) }),
    );
    const subjects = units.map((u) => `unit:${u}`);
    const value = units.map((u) => subjectLabel(`unit:${u}`, spec)).join(', ');
    return [
      {
        id: subject,
        label: recordWords.mix(index + 1),
        value: value === '' ? subjectsLabel(subjects, spec) : value,
        ...(beads.length > 0 ? { note: beads.join('; ') } : {}),
      },
    ];
  });
}

/** Works out the whole record of a case from its log. */
export function recordModel(log: CaseLog): RecordModel {
  const frame = recordFrame(log);
  const { state, scene } = frame;
  return {
    title: scene.spec.title,
    chartRef: scene.spec.chartRef,
    mode: state.opened.mode,
    isClosed: state.closed !== null,
    facts: factsOf(frame),
    teeth: teethOf(frame),
    columns: scene.spec.units.map((u) => ({
      id: u.id,
      label: subjectLabel(`unit:${u.id}`, scene.spec),
    })),
    units: unitsOf(frame),
    mixes: mixesOf(frame),
    exposures: exposureTables(frame),
    stages: recordStages(frame),
    windows: recordWindows(frame),
    breaches: state.breaches.map((b, index) => ({
      id: `${index}`,
      words: breachWords(b, scene),
      at: instantWords(frame, b.at),
    })),
    waysBack: recordWaysBack(frame),
    corrections: recordCorrections(frame),
    gaps: recordGaps(frame),
    remarks: recordRemarks(frame),
  };
}
