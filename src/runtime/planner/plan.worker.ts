/**
 * Plans in a thread of its own, so that the screen never waits for a computation. The alternatives
 * are sent one by one as they are found.
 */
import { alternativeChoices, judgeAlternative } from '../../plan/alternatives.ts';
import { planEffect } from '../../plan/effect.ts';
import { makePlan } from '../../plan/make-plan.ts';
import { openingEnd, openingKey, openingTimeline, replan } from '../../plan/replan.ts';
import type { PlanAnswer, PlanRequest } from './plan-messages.ts';

declare const self: DedicatedWorkerGlobalScope;

const say = (answer: PlanAnswer): void => self.postMessage(answer);

/** The end of the plan that the case was opened with; the same for the whole case. */
let opening: { readonly caseKey: string; readonly end: ReturnType<typeof openingEnd> } | null =
  null;

function planFully(request: Extract<PlanRequest, { type: 'plan' }>): void {
  const { job, spec, protocol, tables } = request;
  const input = { spec, protocol, tables };
  const plan = makePlan(input);
  const choices = alternativeChoices(input, plan.plan);
  say({ type: 'planned', job, plan, alternatives: choices.length });
  choices.forEach((choice, i) => {
    const alternative = judgeAlternative(input, choice, plan);
    say({ type: 'alternative', job, alternative, done: i + 1, of: choices.length });
  });
}

function replanNow(request: Extract<PlanRequest, { type: 'replan' }>): void {
  const { job, state, nowMs } = request;
  const caseKey = openingKey(state);
  if (opening?.caseKey !== caseKey) opening = { caseKey, end: openingEnd(state) };
  const { endMs: openingEndMs, spreadMs: openingSpreadMs } = opening.end;
  const found = replan({ state, nowMs, openingEndMs, openingSpreadMs });
  say({ type: 'replanned', job, replan: found });
}

/** Jobs that nobody waits for any more. */
const stopped = new Set<number>();

/** Its code is loaded when the first question comes, as that of the outcomes: a case in the chair never needs it. */
async function answerDrill({ job, question }: Extract<PlanRequest, { type: 'drill' }>) {
  try {
    const { answerDrill } = await import('../drills/answer-drill.ts');
    say({ type: 'drill', job, answer: answerDrill(question) });
  } catch (error) {
    say({ type: 'failed', job, line: error instanceof Error ? error.message : String(error) });
  }
}

async function answerOutcomes(request: Extract<PlanRequest, { type: 'outcomes' }>): Promise<void> {
  const { job, question } = request;
  try {
    const { answerQuestion } = await import('../outcomes/answer-question.ts');
    await answerQuestion(question, {
      tell: (answer) => say({ type: 'outcomes', job, answer }),
      isStopped: () => stopped.has(job),
    });
  } catch (error) {
    const line = error instanceof Error ? error.message : String(error);
    say({ type: 'outcomes', job, answer: { found: 'failed', line } });
  }
  stopped.delete(job);
}

self.addEventListener('message', (event: MessageEvent<PlanRequest>) => {
  const request = event.data;
  try {
    if (request.type === 'outcomes') void answerOutcomes(request);
    else if (request.type === 'drill') void answerDrill(request);
    else if (request.type === 'stop') stopped.add(request.job);
    else if (request.type === 'plan') planFully(request);
    else if (request.type === 'replan') replanNow(request);
    else if (request.type === 'opening') {
      const { job, state } = request;
      say({ type: 'opening', job, timeline: openingTimeline(state) });
    } else say({ type: 'compared', job: request.job, effect: planEffect(request.input) });
  } catch (error) {
    const line = error instanceof Error ? error.message : String(error);
    say({ type: 'failed', job: request.job, line });
  }
});
