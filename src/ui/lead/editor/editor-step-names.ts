/** Names of steps and of their kinds in lists to choose from: two with one title are told apart. */
import type { Step } from '../../../protocol/types.ts';
import { protocolWords } from '../../../words/protocol-words.ts';
import { stepFormWords } from '../../../words/step-form-words.ts';
import { knownRangeClasses } from './editor-findings.ts';

/** "Brush excess (each portion)" where another step has that title; by its place where that is not enough. */
export function stepName(steps: readonly Step[], step: Step): string {
  const { title, per } = step;
  const twins = steps.filter((other) => other.title === title && other.id !== step.id);
  if (twins.length === 0) return title;
  const isScopeEnough = twins.every((twin) => twin.per !== per);
  const place = steps.findIndex(({ id }) => id === step.id) + 1;
  const more = isScopeEnough ? protocolWords.scopes[per] : stepFormWords.place(place);
  return stepFormWords.apart({ title, more });
}

/** The name of the step with this id; the id where there is none. */
export function nameOfStep(steps: readonly Step[], id: string): string {
  const step = steps.find((each) => each.id === id);
  return step === undefined ? id : stepName(steps, step);
}

interface StepChoice {
  readonly value: string;
  readonly label: string;
}

/** Steps as choices; `of` are those that are offered, `steps` all that could be mixed up with them. */
export function stepChoices(
  steps: readonly Step[],
  of: readonly Step[] = steps,
): readonly StepChoice[] {
  return of.map((step) => ({ value: step.id, label: stepName(steps, step) }));
}

/** What a kind of step is called; its code where a file brought one along that is not known here. */
export function stepKindWord(kind: string): string {
  const words: Readonly<Record<string, string>> = stepFormWords.kinds;
  return words[kind] ?? kind;
}

/** The kinds of step: those that ranges are published for, those that the app looks for, and its own. */
export function stepKinds(own: string | undefined): readonly StepChoice[] {
  const known = [...knownRangeClasses(own), ...Object.keys(stepFormWords.kinds)];
  return [...new Set(known)]
    .map((value) => ({ value, label: stepKindWord(value) }))
    .toSorted((a, b) => a.label.localeCompare(b.label, 'en'));
}
