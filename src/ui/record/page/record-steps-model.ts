/**
 * The steps of a record as a table: a line for each step, a column for each unit, in every cell
 * what was done there and when. Steps that belong to no single unit are told in one line of words.
 * Pure.
 */
import { unreachable } from '../../../base/assert.ts';
import { type Instance, type Layout, layoutOf } from '../../../engine/layout.ts';
import { skippedId } from '../../../engine/sign-list.ts';
import type { StepFact } from '../../../export/record-types.ts';
import { pressedBy } from '../../../export/record-who.ts';
import { saidOf } from '../../../export/said-words.ts';
import { doneByWords } from '../../../export/who-words.ts';
import type { SubjectId } from '../../../protocol/subjects.ts';
import type { Step } from '../../../protocol/types.ts';
import { breachShort } from '../../../words/breach-words.ts';
import { formatWordsInterval } from '../../../words/duration.ts';
import { exportWords } from '../../../words/export-words.ts';
import { stepAsks } from '../../../words/protocol-words.ts';
import { recordWords } from '../../../words/record-words.ts';
import { subjectsLabel } from '../../../words/subject-words.ts';
import { instantWords, type RecordFrame } from './record-frame.ts';

type CellState = 'done' | 'broken' | 'perhaps' | 'skipped' | 'running' | 'open' | 'none';

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
  /** How it is known that it was done, where no press was for it alone. */
  readonly how: string;
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

/** Where each step stands in the table, and what the facts say of it. */
interface Grid {
  readonly frame: RecordFrame;
  readonly layout: Layout;
  readonly facts: ReadonlyMap<string, StepFact>;
  /** Steps that apply and have not been begun. */
  readonly undone: ReadonlySet<string>;
}

function gridOf(frame: RecordFrame): Grid {
  const { steps, undone } = frame.facts;
  return {
    frame,
    layout: layoutOf(frame.log.state),
    facts: new Map(steps.map((s) => [s.key, s])),
    undone: new Set(undone.map((u) => u.key)),
  };
}

const isSaid = (words: string | null): words is string => words !== null && words !== '';

function figureOf(fact: StepFact): string {
  switch (fact.action) {
    case 'dwell':
      return fact.elapsed ? formatWordsInterval(fact.elapsed) : '';
    case 'coats':
      return recordWords.coats(fact.counts.length);
    case 'tally':
      return recordWords.passes(fact.counts.length);
    case 'expose':
      return formatWordsInterval({
        loMs: fact.exposures.reduce((sum, e) => sum + e.given.loMs, 0),
        hiMs: fact.exposures.reduce((sum, e) => sum + e.given.hiMs, 0),
      });
    case 'choose':
      return recordWords.several([fact.optionLabel, fact.evidence].filter(isSaid));
    case 'confirm':
    case null:
      return fact.evidence ?? '';
    default:
      return unreachable(fact.action);
  }
}

/** Why it was skipped, and what was said of that at the signature. */
const skipRemark = ({ facts }: RecordFrame, reason: string): string =>
  recordWords.several([reason, saidOf(facts, skippedId(reason))].filter((s) => s !== ''));

function cellOf({ frame, facts, undone }: Grid, { key, step, subject }: Instance): RecordCell {
  const fact = facts.get(key);
  if (!fact) {
    const state = undone.has(key) ? 'open' : 'none';
    return { id: key, state, figure: '', moment: '', remark: '' };
  }
  const broken = frame.facts.breaches.filter(
    (b) => b.what === 'step' && b.of === step.id && b.subject === subject,
  );
  const isSure = broken.some((b) => !b.perhaps);
  const at = fact.end?.at ?? fact.start?.at;
  const isSkipped = fact.status === 'skipped';
  return {
    id: key,
    state: isSure ? 'broken' : broken.length > 0 ? 'perhaps' : fact.status,
    figure: isSkipped ? recordWords.skipped : figureOf(fact),
    moment: at ? instantWords(frame, at) : '',
    remark: isSkipped
      ? skipRemark(frame, fact.reason ?? '')
      : recordWords.several(broken.map(breachShort)),
  };
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
    const { figure } = cell;
    if (name === '' || figure === '') return { ...cell, figure: name || figure };
    return { ...cell, figure: recordWords.told({ of: name, what: figure }) };
  });
}

function howOf({ pressed }: StepFact): string[] {
  switch (pressed?.kind) {
    case undefined:
      return [];
    case 'list':
      return [recordWords.listed(pressed.lines)];
    case 'swept':
      return [recordWords.swept];
    case 'implied':
      return [recordWords.implied(pressed.title)];
    case 'paced':
      return [recordWords.paced];
    default:
      return unreachable(pressed);
  }
}

/** All who pressed a step, and all who did it, each once. */
function whoOf(steps: readonly StepFact[]): string {
  const pressed = [...new Set(steps.flatMap(pressedBy))];
  const done = new Set(steps.flatMap(({ doneBy }) => (doneBy ? [doneByWords(doneBy)] : [])));
  const by = pressed.length === 0 ? [] : [exportWords.pressedBy(recordWords.list(pressed))];
  return [...by, ...done].join('; ');
}

function lineOf(grid: Grid, step: Step): RecordLine {
  const { frame, layout, facts } = grid;
  const instances = layout.byStep.get(step.id) ?? [];
  const cells = instances.map((i) => ({ subject: i.subject, cell: cellOf(grid, i) }));
  const own = instances.flatMap((i) => facts.get(i.key) ?? []);
  const isByUnit = step.per === 'unit' || step.per === 'tooth';
  const columns = frame.scene.spec.units.map((u) => `unit:${u.id}`);
  const byUnit = columns.map((unit) => {
    const linked = layout.subjects.linked(unit, step.per);
    const found = cells.filter((c) => linked.includes(c.subject)).map((c) => c.cell);
    return joined(found, `${step.id}@${unit}`);
  });
  return {
    step: step.id,
    title: step.title,
    asks: stepAsks(step, layout.protocol),
    who: whoOf(own),
    how: recordWords.several([...new Set(own.flatMap(howOf))]),
    cells: isByUnit ? byUnit : null,
    told: isByUnit ? [] : merged(frame, cells).filter((c) => c.state !== 'none'),
  };
}

const WORST: readonly CellState[] = [
  'broken',
  'perhaps',
  'running',
  'open',
  'skipped',
  'done',
  'none',
];

/** The teeth of a bridge share the column of their unit. */
function joined(cells: readonly RecordCell[], id: string): RecordCell {
  const all = (pick: (c: RecordCell) => string): string =>
    recordWords.list([...new Set(cells.map(pick).filter((w) => w !== ''))]);
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
  const grid = gridOf(frame);
  const { protocol } = frame.scene;
  return protocol.stages.flatMap((stage) => {
    const steps = protocol.steps.filter((s) => s.stage === stage.id);
    const lines = steps
      .map((step) => lineOf(grid, step))
      .filter((l) => l.told.length > 0 || (l.cells?.some((c) => c.state !== 'none') ?? false));
    return lines.length === 0 ? [] : [{ id: stage.id, title: stage.title, lines }];
  });
}
