/**
 * Lists: several things at one natural pause, pressed together. A line is on the list once nothing is in
 * its way but lines before it.
 */
import { paceOf } from '../protocol/pace.ts';
import type { Step } from '../protocol/types.ts';
import { impliedBy } from './implied.ts';
import { type Instance, instanceKey, layoutOf } from './layout.ts';
import type { CaseNow, Draft } from './offer-draft.ts';
import type { ListLine, TakenLine, Wants } from './pressing-types.ts';
import { applies, StatusReader } from './status.ts';
import type { CaseInstant, CaseState } from './types.ts';

/** The list that a step is a line of. */
export const listOf = ({ pressed }: Step): string | null =>
  pressed?.kind === 'list' ? pressed.list : null;

/** What a line is answered with before it can be taken. What is known already is no question. */
export function wantsOf(state: CaseState, { action }: Step): Wants {
  if (action.kind === 'choose') return 'option';
  if (action.kind !== 'confirm' || action.evidence === undefined) return null;
  const { evidence } = action;
  switch (evidence.kind) {
    case 'read-back':
      return evidence.of === 'allergies' && !state.opened.spec.allergies ? 'tick' : null;
    case 'material':
      return state.materials[evidence.slot] === undefined ? 'material' : null;
    case 'choice':
    case 'reading':
    case 'note':
      return evidence.kind;
    default:
      return evidence satisfies never;
  }
}

/** Whether nothing is in the way of an instance but what is taken before it. */
function isFreeAfter(scene: CaseNow, instance: Instance, taken: ReadonlySet<string>): boolean {
  const { state, layout, statuses } = scene;
  const status = statuses.of(instance);
  if (status === 'open' || impliedBy(scene, instance) !== null) return true;
  if (status !== 'blocked' || applies(state, layout, instance) !== 'yes') return false;
  const isMet = (key: string): boolean => {
    if (taken.has(key)) return true;
    const other = layout.byKey.get(key);
    if (other === undefined) return true;
    const its = statuses.of(other);
    if (its === 'done' || its === 'skipped') return true;
    return its === 'not-applicable' && other.needs.every((need) => isMet(need.key));
  };
  return statuses.missing(instance).every(({ key, edge }) => edge === 'end' && isMet(key));
}

/** A line with the instances that it names. */
export interface NamedLine {
  readonly line: TakenLine;
  readonly instances: readonly Instance[];
}

/**
 * The lines that a press takes of those that are ticked or answered. What a line before them has opened
 * again, or an unticked line holds back, stays due.
 */
export function freeLines(scene: CaseNow, lines: readonly NamedLine[]): readonly NamedLine[] {
  const taken = new Set<string>();
  const again = new Set<string>();
  return lines.filter(({ line, instances }) => {
    // An option that loops has opened it again.
    if (again.has(line.step)) return false;
    if (!instances.every((instance) => isFreeAfter(scene, instance, taken))) return false;
    const { action } = instances[0]?.step ?? {};
    const chosen =
      action?.kind === 'choose' ? action.options.find((o) => o.id === line.option) : null;
    if (chosen?.redo === undefined) for (const { key } of instances) taken.add(key);
    for (const step of chosen?.redo ?? []) again.add(step);
    return true;
  });
}

/** The same for a screen: what a press of these lines would record at this instant. */
export function takenNow(
  state: CaseState,
  now: CaseInstant,
  lines: readonly TakenLine[],
): readonly TakenLine[] {
  const layout = layoutOf(state);
  const scene = { state, layout, now, statuses: new StatusReader(state, layout) };
  const named = lines.map((line) => ({
    line,
    instances: line.subjects.flatMap(
      (subject) => layout.byKey.get(instanceKey(line.step, subject)) ?? [],
    ),
  }));
  return freeLines(scene, named).map(({ line }) => line);
}

/** Lines of one step: one for a round that is done together, else one for each subject. */
function linesOf(scene: CaseNow, step: Step, taken: Set<string>): (readonly Instance[])[] {
  const rounds = scene.layout.rounds.get(step.id) ?? [];
  const lines = rounds.flatMap((round): (readonly Instance[])[] => {
    const free = round.filter((instance) => isFreeAfter(scene, instance, taken));
    if (!step.together) return free.map((instance) => [instance]);
    const isLeft = round.some(
      (i) => !free.includes(i) && ['blocked', 'running'].includes(scene.statuses.of(i)),
    );
    return free.length === 0 || isLeft ? [] : [free];
  });
  for (const line of lines) for (const { key } of line) taken.add(key);
  return lines;
}

/** The lists that could be pressed now, each as one draft; one line alone is a step like any other. */
export function listDrafts(scene: CaseNow, held: (line: readonly Instance[]) => number): Draft[] {
  const { lists = [], steps } = scene.layout.protocol;
  return lists.flatMap((list) => {
    const taken = new Set<string>();
    const lines = steps
      .filter((step) => listOf(step) === list.id)
      .flatMap((step) => linesOf(scene, step, taken))
      .filter((line) => held(line) <= 0);
    const [first] = lines;
    const lead = first?.[0];
    if (lead === undefined || lines.length < 2) return [];
    const told = lines.map((line): ListLine => {
      const { step } = line[0] ?? lead;
      return {
        step: step.id,
        subjects: line.map(({ subject }) => subject),
        wants: wantsOf(scene.state, step),
      };
    });
    const busyMs = lines.reduce((ms, line) => {
      const { step } = line[0] ?? lead;
      return ms + paceOf(step, line.length).medianMs;
    }, 0);
    const draft: Draft = {
      offer: {
        id: `list ${list.id} ${told.map(({ step, subjects }) => `${step} ${subjects.join(' ')}`).join(', ')}`,
        step: lead.step.id,
        subjects: first?.map(({ subject }) => subject) ?? [],
        kind: 'list',
        list: list.id,
        lines: told,
        dueInMs: 0,
        slackMs: null,
        boundBy: null,
      },
      instances: lines.flat(),
      step: lead.step,
      round: lead.round,
      phase: 'begin',
      busyMs,
    };
    return [draft];
  });
}
