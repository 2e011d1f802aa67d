/**
 * Collects the tasks of a case while they are being made, with the moments at which each step on
 * each subject begins and ends.
 */
import { present } from '../base/assert.ts';
import type { Instance, Layout } from '../engine/layout.ts';
import type { CaseState, InstanceKey } from '../engine/types.ts';
import { paceOf } from '../protocol/pace.ts';
import { type Activity, type Link, sigmaOf, type TaskMoment, type When } from './activity.ts';

/** A person's own pace at a step, learned from records; replaces the protocol's. */
export interface OwnPace {
  readonly medianMs: number;
  readonly p90Ms: number;
}

interface DraftContext {
  readonly state: CaseState;
  readonly layout: Layout;
  readonly nowMs: number;
  readonly paces: Readonly<Record<string, OwnPace>>;
}

/** One step on one subject that is still to be done or to be finished. */
export interface Made {
  /** The first task, which waits for what the step waits for; null when it has begun. */
  readonly entry: number | null;
  /** The last task; null when nothing is left but to be ended by the next step. */
  readonly last: number | null;
  readonly start: When;
  readonly end: When;
  /** `next`: the step whose clock begins with the end of this one ends it by being begun. */
  readonly endedBy: 'self' | 'next';
  /** From here on the step may be ended, this much later: what a rinse waits for. */
  readonly ready: { readonly from: When; readonly minMs: number };
}

export class ActivityDraft {
  readonly tasks: Activity[] = [];
  readonly made = new Map<InstanceKey, Made>();
  readonly context: DraftContext;
  readonly #links = new Map<string, Link>();

  constructor(context: DraftContext) {
    this.context = context;
  }

  /** The pace of one press for these instances of one step; a person's own stands for the whole. */
  pace(group: readonly Instance[]): OwnPace & { readonly sigma: number } {
    const { step } = present(group[0], 'instance');
    const pace = this.context.paces[step.id] ?? paceOf(step, group.length);
    return { ...pace, sigma: sigmaOf(pace) };
  }

  /** Adds a task for instances of one step and answers its index. */
  add(
    instances: readonly Instance[],
    task: Pick<Activity, 'part' | 'fixedMs' | 'handsMs' | 'fixed'> &
      Partial<Pick<Activity, 'by' | 'usesLight' | 'surface' | 'position'>>,
  ): number {
    const index = this.tasks.length;
    const first = instances[0];
    if (first === undefined) return index;
    const { step, round } = first;
    const by = task.part === 'wait' ? null : step.by;
    const usesLight = task.part !== 'wait' && (step.usesLight === true || task.part === 'light');
    this.tasks.push({
      id: `${step.id}/${index}`,
      step: step.id,
      subjects: instances.map((i) => i.subject),
      round,
      by,
      usesLight,
      sigma: this.pace(instances).sigma,
      ...task,
    });
    return index;
  }

  /** All links, each pair of moments once. */
  get links(): readonly Link[] {
    return [...this.#links.values()];
  }

  /** `to` comes at least `minMs` after `from`; of several such links the longest stands. */
  link(from: When, to: TaskMoment, minMs = 0): void {
    if ('task' in from && from.task === to.task) return;
    const origin = 'task' in from ? `${from.task}${from.edge}` : `at ${from.atMs}`;
    const key = `${origin}>${to.task}${to.edge}`;
    const known = this.#links.get(key);
    if (known === undefined || known.minMs < minMs) this.#links.set(key, { from, to, minMs });
  }

  /** `after` starts no earlier than `before` ends. */
  chain(before: number, after: number): void {
    this.link({ task: before, edge: 'end' }, { task: after, edge: 'start' });
  }
}
