/**
 * What was counted into the mouth, against what was counted out of it: cords, pieces of dam. A step
 * that counts out names the step that counted in; both numbers are read from what was typed there.
 * Pure; places on the case axis.
 */

import type { SubjectId } from '../protocol/subjects.ts';
import type { Step } from '../protocol/types.ts';
import { type Layout, layoutOf } from './layout.ts';
import type { CaseInstant, CaseState } from './types.ts';

export interface Count {
  /** The step that counts out. */
  readonly step: Step;
  /** What is counted, as the protocol calls it. */
  readonly label: string;
  /** The same at the step that counts in. */
  readonly inLabel: string;
  readonly subject: SubjectId;
  /** None while it was not counted, or nothing was typed. */
  readonly in: number | null;
  readonly out: number | null;
  /** When the first of them went in. */
  readonly since: CaseInstant;
  /** Counting out was pressed. */
  readonly isOut: boolean;
  readonly isEven: boolean;
}

/** The number at the head of what was typed; the words after it are for people. */
function numberIn(evidence: string | null): number | null {
  const found = /^\s*(\d+(?:[.,]\d+)?)/.exec(evidence ?? '')?.[1];
  return found === undefined ? null : Number(found.replace(',', '.'));
}

const sum = (parts: readonly (number | null)[]): number | null =>
  parts.reduce<number | null>((a, b) => (a === null || b === null ? null : a + b), 0);

function countIn(state: CaseState, layout: Layout, step: Step): Count[] {
  const reading = step.action.kind === 'confirm' ? step.action.evidence : undefined;
  if (reading?.kind !== 'reading' || reading.equals === undefined) return [];
  const { label, equals: inStep } = reading;
  const into = layout.instances.filter((i) => i.step.id === inStep);
  const out = layout.instances.filter((i) => i.step.id === step.id);
  const inAction = into[0]?.step.action;
  const asked = inAction?.kind === 'confirm' ? inAction.evidence : undefined;
  const inLabel = asked?.kind === 'reading' ? asked.label : label;
  return out.flatMap(({ subject, key }): Count[] => {
    // Counted for a tooth it comes out of that tooth; counted out once it is all that went in.
    const mine = into.filter((i) => i.subject === subject || subject === 'case');
    const went = mine.flatMap((i) => {
      const run = state.runs[i.key];
      return run?.status === 'done' && run.endedAt ? [{ run, at: run.endedAt }] : [];
    });
    const first = went.toSorted((a, b) => a.at.loMs - b.at.loMs)[0];
    if (first === undefined) return [];
    const run = state.runs[key];
    const counted = {
      in: sum(went.map((each) => numberIn(each.run.evidence))),
      out: run?.status === 'done' ? numberIn(run.evidence) : null,
    };
    const isOut = run?.status === 'done' || run?.status === 'skipped';
    const isEven = counted.in !== null && counted.in === counted.out;
    return [{ step, label, inLabel, subject, ...counted, since: first.at, isOut, isEven }];
  });
}

/** Everything that went in, in the order of the protocol. */
export function countsOf(state: CaseState): readonly Count[] {
  const layout = layoutOf(state);
  return layout.protocol.steps.flatMap((step) => countIn(state, layout, step));
}
