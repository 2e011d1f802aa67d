/**
 * Why a task of a plan begins when it does, and not earlier: the one wait that decided. Times in ms
 * on the case axis.
 */
import type { SubjectId } from '../protocol/subjects.ts';
import { type Execution, type ForwardPass, TASK_EDGES, type Wait } from './execution.ts';

/**
 * `after`: something else comes first. `acts`: something has to act for so long. `busy`: the person
 * or the light is needed elsewhere until then. `pause`: earlier it could be, but a limit would suffer.
 * `opening`: nothing holds it.
 */
export interface Because {
  readonly kind: 'opening' | 'after' | 'acts' | 'busy' | 'pause';
  /** What is waited for; null at the opening. */
  readonly step: string | null;
  readonly subjects: readonly SubjectId[];
  /** How long after it, where something acts. */
  readonly plusMs: number;
}

const OPENING: Because = { kind: 'opening', step: null, subjects: [], plusMs: 0 };

/** Waits that come to the same moment apart from rounding decide together. */
const SAME_MS = 1;

function kindOf({ isPause, isBusy, plusMs }: Wait): Because['kind'] {
  if (isPause) return 'pause';
  if (isBusy) return 'busy';
  return plusMs > 0 ? 'acts' : 'after';
}

/** Of several that decide together, what belongs to the work is told before who is busy. */
const RANK = ['acts', 'after', 'pause', 'busy', 'opening'] as const;

/** `pass` has been run. */
export function becauseOf(execution: Execution, pass: ForwardPass, task: number): Because {
  const { activities, waits } = execution;
  const startMs = pass.startMs[task] ?? 0;
  const edge = ({ fromEdge }: Wait) => TASK_EDGES.indexOf(fromEdge);
  const own = (wait: Wait): number =>
    pass.momentMs(task, TASK_EDGES.indexOf(wait.toEdge)) - startMs;
  const deciding = (waits[task] ?? []).filter(
    (w) => w.from >= 0 && pass.momentMs(w.from, edge(w)) + w.plusMs - own(w) > startMs - SAME_MS,
  );
  const [first] = deciding.toSorted((a, b) => RANK.indexOf(kindOf(a)) - RANK.indexOf(kindOf(b)));
  const before = first && activities.tasks[first.from];
  if (first === undefined || before === undefined) return OPENING;
  const { step, subjects } = before;
  return { kind: kindOf(first), step, subjects, plusMs: first.plusMs };
}
