/**
 * What was done against the plan that the case was opened with, step by step, for the forms of a
 * record that draw nothing. Worked out anew from the opening entry, as the picture's planned bars are.
 * Times in ms from the opening.
 */
import { openingTimeline } from '../plan/replan.ts';
import type { Timeline } from '../plan/timeline.ts';
import { exportWords } from '../words/export-words.ts';
import type { RecordSource } from './export-source.ts';
import { againstPlanWords, clockWords } from './export-words.ts';
import { recordFrame } from './record-frame.ts';
import { type Compared, recordTimeline } from './record-timeline.ts';
import type { RecordFacts } from './record-types.ts';

export interface AgainstPlan {
  readonly plannedEndMs: number;
  readonly doneEndMs: number;
  readonly steps: readonly Compared[];
}

function planned({ log }: RecordSource): Timeline | null {
  try {
    return openingTimeline(log.state);
  } catch {
    // A record is handed on whether or not a plan can be put beside it.
    return null;
  }
}

/** The comparison of one record; null where no plan could be worked out. */
export function againstPlan(source: RecordSource, facts: RecordFacts): AgainstPlan | null {
  const timeline = planned(source);
  if (timeline === null) return null;
  const picture = recordTimeline({ frame: recordFrame(source), facts, planned: timeline });
  const { doneEndMs, compared } = picture;
  return { plannedEndMs: timeline.endMs, doneEndMs, steps: compared };
}

/** One line for the case, and one for each step. */
export function againstPlanLines(against: AgainstPlan, isSigned: boolean): readonly string[] {
  const [end, done] = [clockWords(against.plannedEndMs), clockWords(against.doneEndMs)];
  return [
    isSigned
      ? exportWords.wholeCase({ planned: end, took: done })
      : exportWords.wholeCaseSoFar({ planned: end, soFar: done }),
    ...against.steps.map(againstPlanWords),
  ];
}
