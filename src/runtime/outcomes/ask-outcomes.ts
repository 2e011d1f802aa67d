/** The page's way to the figures of its outcomes: the planning thread, or this thread where there is none. */
import type { OutcomesAnswer, OutcomesQuestion } from '../planner/plan-messages.ts';
import type { Planner } from '../planner/planner.ts';

/** Asks one question; returns the way to stop. Answers that come after that are not told. */
export function askOutcomes(
  planner: Pick<Planner, 'outcomes'> | undefined,
  question: OutcomesQuestion,
  onAnswer: (answer: OutcomesAnswer) => void,
): () => void {
  const stop = planner?.outcomes(question, onAnswer) ?? null;
  if (stop !== null) return stop;
  let isStopped = false;
  const tell = (answer: OutcomesAnswer): void => {
    if (!isStopped) onAnswer(answer);
  };
  void import('./answer-question.ts')
    .then(({ answerQuestion }) => answerQuestion(question, { tell, isStopped: () => isStopped }))
    .catch((thrown: unknown) => {
      tell({ found: 'failed', line: thrown instanceof Error ? thrown.message : String(thrown) });
    });
  return () => {
    isStopped = true;
  };
}
