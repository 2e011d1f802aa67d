/**
 * The steps of a record as a table: a line for each step, a column for each unit, in every cell
 * what was done there and when. Steps that belong to no single unit are told in one line of words.
 * Pure.
 */
import { elapsed } from '../../engine/axis.ts';
import type { Instance } from '../../engine/layout.ts';
import { StatusReader } from '../../engine/status.ts';
import type { Breach, StepRun, SubjectId } from '../../engine/types.ts';
import type { Step } from '../../protocol/types.ts';
import { formatWordsInterval } from '../format/duration.ts';
import { breachShort } from '../words/breach-words.ts';
import { recordWords } from '../words/record-words.ts';
import { subjectsLabel } from '../words/subject-words.ts';
import { stepAsks } from './protocol-model.ts';
import { instantWords, type RecordFrame } from './record-frame.ts';

export type CellState = 'done' | 'broken' | 'skipped' | 'running' | 'open' | 'none';

export interface RecordCell {
  readonly id: string;
  readonly state: CellState;
  /** "20 s", "5 coats"; empty when only the moment tells. */
  readonly figure: string;
  /** "09:14:03". */
  readonly moment: string;
  /** "6 s over", or the reason of a skip. */
  readonly remark: string;
}

export interface RecordLine {
  readonly step: string;
  readonly title: string;
  readonly asks: string;
  readonly who: string;
  /** A cell for each unit, or null when the step is not done to units or teeth. */
  readonly cells: readonly RecordCell[] | null;
  /** For the others: "12/11: 10:20:11". */
  readonly told: readonly RecordCell[];
}

export interface RecordStage {
  readonly id: string;
  readonly title: string;
  readonly lines: readonly RecordLine[];
}

function figureOf(step: Step, run: StepRun): string {
  const { action } = step;
  if (action.kind === 'dwell' && run.startedAt && run.endedAt) {
    return formatWordsInterval(elapsed(run.startedAt, run.endedAt));
  }
  if (action.kind === 'coats') return recordWords.coats(run.counts.length);
  if (action.kind === 'tally') return recordWords.passes(run.counts.length);
  if (action.kind === 'expose') {
    const loMs = run.exposures.reduce((sum, e) => sum + e.given.loMs, 0);
    const hiMs = run.exposures.reduce((sum, e) => sum + e.given.hiMs, 0);
    return formatWordsInterval({ loMs, hiMs });
  }
  if (action.kind === 'choose') {
    return action.options.find((o) => o.id === run.option)?.label ?? '';
  }
  return run.evidence ?? '';
}

function remarkOf(run: StepRun, broken: readonly Breach[]): string {
  if (run.status === 'skipped') return run.reason ?? '';
  return broken.map(breachShort).join('; ');
}

function cellOf(frame: RecordFrame, statuses: StatusReader, instance: Instance): RecordCell {
  const run = statuses.run(instance);
  const id = instance.key;
  if (!run) {
    const state = statuses.of(instance) === 'not-applicable' ? 'none' : 'open';
    return { id, state, figure: '', moment: '', remark: '' };
  }
  const broken = frame.state.breaches.filter(
    (b) => b.what === 'step' && b.of === instance.step.id && b.subject === instance.subject,
  );
  const at = run.endedAt ?? run.startedAt;
  const state = broken.length > 0 ? 'broken' : run.status;
  return {
    id,
    state,
    figure: run.status === 'skipped' ? recordWords.skipped : figureOf(instance.step, run),
    moment: at ? instantWords(frame, at) : '',
    remark: remarkOf(run, broken),
  };
}

function whoDid(frame: RecordFrame, runs: readonly (StepRun | undefined)[]): string {
  const ids = new Set(runs.flatMap((r) => (r?.by ? [r.by] : [])));
  return [...ids].map(frame.personOf).join(', ');
}

/** Cells that tell the same are one: "8 contacts". */
function merged(
  frame: RecordFrame,
  cells: readonly { readonly cell: RecordCell; readonly subject: SubjectId }[],
): RecordCell[] {
  const groups = new Map<string, { cell: RecordCell; subjects: SubjectId[] }>();
  for (const { cell, subject } of cells) {
    const key = [cell.state, cell.figure, cell.moment, cell.remark].join('|');
    const group = groups.get(key);
    if (group) group.subjects.push(subject);
    else groups.set(key, { cell, subjects: [subject] });
  }
  return [...groups.values()].map(({ cell, subjects }) => {
    const name = subjectsLabel(subjects, frame.scene.spec);
    const figure = [name, cell.figure].filter((w) => w !== '').join(': ');
    return { ...cell, figure };
  });
}

function lineOf(frame: RecordFrame, statuses: StatusReader, step: Step): RecordLine {
  const instances = frame.layout.byStep.get(step.id) ?? [];
  const cells = instances.map((i) => ({
    subject: i.subject,
    cell: cellOf(frame, statuses, i),
  }));
  const isByUnit = step.per === 'unit' || step.per === 'tooth';
  const columns = frame.state.opened.spec.units.map((u) => `unit:${u.id}`);
  const byUnit = columns.map((unit) => {
    const own = frame.layout.subjects.linked(unit, step.per);
    const found = cells.filter((c) => own.includes(c.subject)).map((c) => c.cell);
    return joined(found, `${step.id}@${unit}`);
  });
  return {
    step: step.id,
    title: step.title,
    asks: stepAsks(step),
    who: whoDid(
      frame,
      instances.map((i) => statuses.run(i)),
    ),
    cells: isByUnit ? byUnit : null,
    told: isByUnit ? [] : merged(frame, cells).filter((c) => c.state !== 'none'),
  };
}

const WORST: readonly CellState[] = ['broken', 'running', 'open', 'skipped', 'done', 'none'];

/** The teeth of a bridge share the column of their unit. */
function joined(cells: readonly RecordCell[], id: string): RecordCell {
  const all = (pick: (c: RecordCell) => string): string =>
    [...new Set(cells.map(pick).filter((w) => w !== ''))].join(', ');
  return {
    id,
    state: WORST.find((s) => cells.some((c) => c.state === s)) ?? 'none',
    figure: all((c) => c.figure),
    moment: all((c) => c.moment),
    remark: all((c) => c.remark),
  };
}

/** Every stage with the steps that apply to this case. */
export function recordStages(frame: RecordFrame): RecordStage[] {
  const statuses = new StatusReader(frame.state, frame.layout);
  const { protocol } = frame.scene;
  return protocol.stages.flatMap((stage) => {
    const steps = protocol.steps.filter((s) => s.stage === stage.id);
    const lines = steps
      .map((step) => lineOf(frame, statuses, step))
      .filter((l) => l.told.length > 0 || (l.cells?.some((c) => c.state !== 'none') ?? false));
    return lines.length === 0 ? [] : [{ id: stage.id, title: stage.title, lines }];
  });
}
