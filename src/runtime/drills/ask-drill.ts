/** The way of a page to what a drill holds and came to: the planning thread, or this thread where there is none. */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { DrillAccount } from '../../drill/account.ts';
import type { DrillCourse } from '../../drill/course.ts';
import { drilledIn } from '../../drill/hands.ts';
import type { Drilled } from '../../engine/drilled-types.ts';
import { type CaseLog, replay } from '../../engine/log.ts';
import type { Recorded } from '../../engine/types.ts';
import { tellReadBack } from '../../words/read-back-words.ts';
import type { CourseFound, DrillAnswer, DrillQuestion } from '../planner/plan-messages.ts';
import type { Planner } from '../planner/planner.ts';

export type DrillThread = Pick<Planner, 'drill'>;

type Found<Kind extends DrillAnswer['found']> = Extract<DrillAnswer, { readonly found: Kind }>;

type Asked<Kind extends DrillAnswer['found']> = Promise<Result<Found<Kind>, Problem>>;

const isFound = <Kind extends DrillAnswer['found']>(
  answer: DrillAnswer,
  kinds: readonly Kind[],
): answer is Found<Kind> => kinds.some((kind) => kind === answer.found);

async function askDrill<Kind extends DrillAnswer['found']>(
  thread: DrillThread | undefined,
  question: DrillQuestion,
  kinds: readonly Kind[],
): Asked<Kind> {
  const fault = (came: string) =>
    err(problem('planning thread', 'what a drill holds', came, 'drill-not-answered'));
  const here = async (): Promise<DrillAnswer> =>
    (await import('./answer-drill.ts')).answerDrill(question);
  try {
    const answer = await (thread?.drill(question) ?? here());
    return isFound(answer, kinds) ? ok(answer) : fault(answer.found);
  } catch (thrown) {
    return fault(thrown instanceof Error ? thrown.message : String(thrown));
  }
}

/** Draws a drill. Errors: `drill-not-answered`. */
export const drawDrill = (
  thread: DrillThread | undefined,
  of: Omit<Extract<DrillQuestion, { readonly ask: 'draw' }>, 'ask'>,
): Asked<'drawn' | 'refused'> => askDrill(thread, { ask: 'draw', ...of }, ['drawn', 'refused']);

const courseWith = (log: CaseLog, found: CourseFound): DrillCourse => ({
  ...found,
  drilled: drilledIn(log.state.opened, tellReadBack),
});

/**
 * What a drill holds; null where this version draws something else from its seed, or it is none. Errors:
 * `drill-not-answered`.
 */
export async function askCourse(
  thread: DrillThread | undefined,
  of: { readonly records: readonly Recorded[]; readonly drill: Drilled },
): Promise<Result<DrillCourse | null, Problem>> {
  const asked = await askDrill(thread, { ask: 'course', ...of }, ['course']);
  if (!asked.ok) return asked;
  const { course } = asked.value;
  return ok(course && courseWith(replay(of.records), course));
}

/**
 * What a drill came to; null where it is not over, or this version draws something else from its seed. Errors:
 * `drill-not-answered`.
 */
export async function askAccount(
  thread: DrillThread | undefined,
  log: CaseLog,
): Promise<Result<DrillAccount | null, Problem>> {
  const asked = await askDrill(thread, { ask: 'account', records: log.records }, ['account']);
  if (!asked.ok) return asked;
  const { account } = asked.value;
  return ok(account && { ...account, course: courseWith(log, account.course) });
}
