/** Questions of the outcomes in the planning thread: parts come in order, a review can be stopped, nothing is told after that. */
import { expect, test } from 'vitest';
import { answerQuestion } from '../../src/runtime/outcomes/answer-question.ts';
import { askOutcomes } from '../../src/runtime/outcomes/ask-outcomes.ts';
import type {
  OutcomesAnswer,
  PlanAnswer,
  PlanRequest,
} from '../../src/runtime/planner/plan-messages.ts';
import { createPlanner, type PlanWorkerLike } from '../../src/runtime/planner/planner.ts';
import { inputOf, type SmallUnit } from './small-clinic.ts';

const CLINIC = Array.from({ length: 60 }, (_, at): SmallUnit[] => {
  const patient = `patient ${at}`;
  const isLost = at < 14;
  return [
    { patient, day: isLost ? 200 + at : 3900, end: isLost ? 'event' : 'none', limit: 'broken' },
    { patient, day: 3900, end: 'none', limit: 'kept' },
  ];
}).flat();
const REVIEW = { ask: 'review', input: inputOf(CLINIC), seed: 1 } as const;

test('a review tells each part, and then what it found', async () => {
  const told: OutcomesAnswer[] = [];
  await answerQuestion(REVIEW, { tell: (answer) => told.push(answer), isStopped: () => false });
  const parts = told.filter(({ found }) => found === 'part');
  expect(parts).toHaveLength(40);
  expect(parts.at(-1)).toEqual({ found: 'part', done: 40, of: 40 });
  expect(told.at(-1)).toMatchObject({
    found: 'compared',
    compared: [{ lives: 120, patients: 60 }],
  });
});

test('a review that is stopped tells nothing of what it would have found', async () => {
  const told: OutcomesAnswer[] = [];
  const isStopped = (): boolean => told.length >= 3;
  await answerQuestion(REVIEW, { tell: (answer) => told.push(answer), isStopped });
  expect(told.map(({ found }) => found)).toEqual(['part', 'part', 'part']);
});

test('the thread is told to stop, and what it still says is not handed on', () => {
  const sent: PlanRequest[] = [];
  let say: (answer: PlanAnswer) => void = () => undefined;
  const thread: PlanWorkerLike = {
    postMessage: (request) => sent.push(request),
    addEventListener: (_, listener) => {
      say = (data) => listener({ data });
    },
    terminate: () => undefined,
  };
  const planner = createPlanner({ spawn: () => thread, tables: null });
  const heard: OutcomesAnswer[] = [];
  const stop = askOutcomes(planner, REVIEW, (answer) => heard.push(answer));
  say({ type: 'outcomes', job: 1, answer: { found: 'part', done: 1, of: 40 } });
  stop();
  say({ type: 'outcomes', job: 1, answer: { found: 'part', done: 2, of: 40 } });
  expect(heard).toEqual([{ found: 'part', done: 1, of: 40 }]);
  expect(sent.map(({ type, job }) => [type, job])).toEqual([
    ['outcomes', 1],
    ['stop', 1],
  ]);
});
