/**
 * Whether a step applies to a subject, and whether it may begin. Pure look-ups on state and layout.
 */
import { unreachable } from '../base/assert.ts';
import type { OnlyIf } from '../protocol/types.ts';
import type { Instance, Layout, Need } from './layout.ts';
import { instanceKey } from './layout.ts';
import type { CaseState, StepRun } from './types.ts';

export type Status = 'not-applicable' | 'blocked' | 'open' | 'running' | 'done' | 'skipped';

type Answer = 'yes' | 'no' | 'unknown';

/** Whether this press took back a step on what belongs to the subject, such as the loading of a unit. */
function hasVoided(
  state: CaseState,
  layout: Layout,
  o: { readonly instance: Instance; readonly voided: string; readonly press: number },
): boolean {
  const per = layout.protocol.steps.find((s) => s.id === o.voided)?.per;
  if (per === undefined) return false;
  const keys = layout.subjects
    .linked(o.instance.subject, per)
    .map((subject) => instanceKey(o.voided, subject));
  return state.voided.some(({ key, press }) => press === o.press && keys.includes(key));
}

function answerOf(state: CaseState, layout: Layout, instance: Instance, cond: OnlyIf): Answer {
  if ('wayBack' in cond) {
    const { voided } = cond;
    const taken = state.waysBack.some(
      (w) =>
        w.wayBack === cond.wayBack &&
        w.subjects.some((s) =>
          layout.subjects.linked(s, instance.step.per).includes(instance.subject),
        ) &&
        (voided === undefined || hasVoided(state, layout, { instance, voided, press: w.press })),
    );
    return taken ? 'yes' : 'no';
  }
  const other = layout.protocol.steps.find((s) => s.id === cond.step);
  if (!other) return 'no';
  const runs = layout.subjects
    .linked(instance.subject, other.per)
    .map((subject) => state.runs[instanceKey(other.id, subject)]);
  if (runs.some((r) => r?.option === cond.option)) return 'yes';
  return runs.every((r) => r?.status === 'done' || r?.status === 'skipped') ? 'no' : 'unknown';
}

/** Whether the conditions of a step let it be done to this subject. One open door is enough. */
export function applies(state: CaseState, layout: Layout, instance: Instance): Answer {
  if (
    instance.step.per === 'mix' &&
    layout.subjects.linked(instance.subject, 'unit').length === 0
  ) {
    return 'no';
  }
  const doors = instance.step.onlyIf;
  if (!doors || doors.length === 0) return 'yes';
  const answers = doors.map((d) => answerOf(state, layout, instance, d));
  if (answers.includes('yes')) return 'yes';
  return answers.includes('unknown') ? 'unknown' : 'no';
}

/** Whether a way back was taken for what this belongs to: only there can something before it be undone again. */
function isTouched({ waysBack }: CaseState, { subjects }: Layout, { subject, step }: Instance) {
  return waysBack.some((taken) =>
    taken.subjects.some((each) => subjects.linked(each, step.per).includes(subject)),
  );
}

/** A memo for one state: statuses are asked for many times while one view is made. */
export class StatusReader {
  /** By the place of the instance in the layout. */
  readonly #memo: (Status | undefined)[];
  readonly #state: CaseState;
  readonly #layout: Layout;

  constructor(state: CaseState, layout: Layout) {
    this.#state = state;
    this.#layout = layout;
    this.#memo = new Array(layout.instances.length).fill(undefined);
  }

  run(instance: Instance): StepRun | undefined {
    return this.#state.runs[instance.key];
  }

  of(instance: Instance): Status {
    const known = this.#memo[instance.index];
    if (known) return known;
    // Waiting in a circle is waiting: an answer asked for while it is being found stays blocked.
    this.#memo[instance.index] = 'blocked';
    const status = this.#compute(instance);
    this.#memo[instance.index] = status;
    return status;
  }

  /** What an instance still waits for. */
  missing(instance: Instance): readonly Need[] {
    const unmet = instance.needs.filter((need) => !this.#met(need));
    return unmet.length > 0 ? unmet : this.#undone(instance);
  }

  /**
   * What a way back opened again before this, on its own subject or for the case, although what stands
   * between is still done: a tooth that is etched again is not dried before its gel is off.
   */
  #undone(instance: Instance): readonly Need[] {
    if (!isTouched(this.#state, this.#layout, instance)) return [];
    const seen = new Set<string>();
    const found: Need[] = [];
    const look = (needs: readonly Need[]): void => {
      for (const need of needs) {
        const other = this.#layout.byKey.get(need.key);
        const isOwn = other?.subject === instance.subject || other?.subject === 'case';
        if (!other || !isOwn || seen.has(need.key)) continue;
        seen.add(need.key);
        if (!this.#met(need) && other.step.optional !== true) found.push(need);
        look(other.needs);
      }
    };
    look(instance.needs);
    return found;
  }

  #compute(instance: Instance): Status {
    const run = this.run(instance);
    if (run) return run.status;
    switch (applies(this.#state, this.#layout, instance)) {
      case 'no':
        return 'not-applicable';
      case 'unknown':
        return 'blocked';
      case 'yes':
        return this.missing(instance).length === 0 ? 'open' : 'blocked';
      default:
        return unreachable(instance as never);
    }
  }

  /** A step that does not apply hands the waiting on to what it waits for itself. */
  #met(need: Need): boolean {
    const other = this.#layout.byKey.get(need.key);
    if (!other) return true;
    const status = this.of(other);
    switch (status) {
      case 'done':
      case 'skipped':
        return true;
      case 'running':
        return need.edge === 'start';
      case 'not-applicable':
        return other.needs.every((n) => this.#met(n));
      case 'open':
      case 'blocked':
        return false;
      default:
        return unreachable(status);
    }
  }
}
