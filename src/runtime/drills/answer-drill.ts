/** Answers what the page asks of a drill: in the planning thread, or in the page where there is none. */
import { accountOf } from '../../drill/account.ts';
import { courseOf, type DrillCourse } from '../../drill/course.ts';
import { drillPlan } from '../../drill/draw.ts';
import { drilledIn } from '../../drill/hands.ts';
import { idealCourse } from '../../drill/spans.ts';
import { decideOpening } from '../../engine/decide.ts';
import { replay } from '../../engine/log.ts';
import { makeRunPlan } from '../../plan/run-plan.ts';
import { tellReadBack } from '../../words/read-back-words.ts';
import type {
  AccountFound,
  CourseFound,
  DrillAnswer,
  DrillQuestion,
} from '../planner/plan-messages.ts';

type Ask<Kind extends DrillQuestion['ask']> = Extract<DrillQuestion, { readonly ask: Kind }>;

function draw({ tables, seed, toward, ...document }: Ask<'draw'>): DrillAnswer {
  const { spec, protocol, protocolHash } = document;
  const plan = makeRunPlan(spec, protocol, tables);
  const about = { spec, protocol, protocolHash, plan };
  const decided = decideOpening({ ...about, mode: 'rehearsal', approval: null });
  if (!decided.ok) return { found: 'refused', refusal: decided.error };
  const drilled = { ...about, tell: tellReadBack };
  const drawn = drillPlan({ ...drilled, seed, toward });
  const records = idealCourse(drilled).presses[drawn.pressesBefore - 1]?.log.records ?? [];
  return { found: 'drawn', plan, drawn, records };
}

const withoutCase = ({ drill, plan, drawn }: DrillCourse): CourseFound => ({ drill, plan, drawn });

function courseIn({ records, drill }: Ask<'course'>): CourseFound | null {
  const log = replay(records);
  const course = courseOf({ drill, drilled: drilledIn(log.state.opened, tellReadBack), log });
  return course && withoutCase(course);
}

function accountIn({ records }: Ask<'account'>): AccountFound | null {
  const log = replay(records);
  const { opened } = log.state;
  const { drill } = opened;
  if (drill === undefined) return null;
  const account = accountOf({ drill, drilled: drilledIn(opened, tellReadBack), log });
  return account && { ...account, course: withoutCase(account.course) };
}

/** @throws Error where the hands cannot play the case. */
export function answerDrill(question: DrillQuestion): DrillAnswer {
  switch (question.ask) {
    case 'draw':
      return draw(question);
    case 'course':
      return { found: 'course', course: courseIn(question) };
    case 'account':
      return { found: 'account', account: accountIn(question) };
  }
}
