/** Answers what the page of outcomes asks: in the planning thread, or in the page where there is none. */
import { outcomesModel } from '../../outcomes/model/outcomes-model.ts';
import { reviewWork } from '../../outcomes/model/review.ts';
import type { OutcomesAnswer, OutcomesQuestion } from '../planner/plan-messages.ts';

interface Asked {
  readonly tell: (answer: OutcomesAnswer) => void;
  readonly isStopped: () => boolean;
}

/** Between two portions others are heard: a running case, and whoever stops this. */
const breathe = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

export async function answerQuestion(question: OutcomesQuestion, asked: Asked): Promise<void> {
  const { input } = question;
  if (question.ask === 'model') {
    asked.tell({ found: 'model', model: outcomesModel(input) });
    return;
  }
  const work = reviewWork(input, question.seed);
  for (let n = 0; n < work.portions; n += 1) {
    work.portion(n);
    asked.tell({ found: 'part', done: n + 1, of: work.portions });
    await breathe();
    if (asked.isStopped()) return;
  }
  asked.tell({ found: 'compared', compared: work.compared() });
}
