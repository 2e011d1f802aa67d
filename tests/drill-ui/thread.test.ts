/** The thread of the app draws a drill as the terminal does, from the same seed and kinds; and what its page does where it breaks. */
import { readFile } from 'node:fs/promises';
import { afterAll, expect, test, vi } from 'vitest';
import blueLight from '../../shared/tables/blue-light-hazard.json' with { type: 'json' };
import crowns from '../../shared/tables/crown-dimensions.json' with { type: 'json' };
import ceramics from '../../shared/tables/transmittances.json' with { type: 'json' };
import { main } from '../../src/cli/main.ts';
import { parsePlanTables } from '../../src/plan/plan-tables.ts';
import type {
  OutcomesAnswer,
  PlanAnswer,
  PlanRequest,
} from '../../src/runtime/planner/plan-messages.ts';
import { createPlanner, type Planning } from '../../src/runtime/planner/planner.ts';
import { drillCaseOf } from '../drill/drill-case.ts';
import { inputOf } from '../outcomes-ui/small-clinic.ts';
import { planningThread } from '../tools/planning-thread.ts';
import { FIRST_KINDS } from './drawn.ts';

const thread = await planningThread();
afterAll(() => vi.unstubAllGlobals());

const { spec, protocol, protocolHash } = drillCaseOf('two-veneers');
const SEED = 12;

async function printed(...options: readonly string[]) {
  let out = '';
  const file = `demo-data/cases/${spec.id}.json`;
  await main(['rehearse', file, '--drill', `${SEED}`, ...options, '--json'], {
    readFile: (path) => readFile(path, 'utf8'),
    stdout: (text) => {
      out += text;
    },
    stderr: () => undefined,
  });
  return JSON.parse(out);
}

test.each([[[]], [FIRST_KINDS]])('drawn toward %j as in the terminal', async (toward) => {
  const tables = parsePlanTables({ blueLight, crowns, ceramics });
  if (!tables.ok) throw new Error(tables.error.place);
  const planner = createPlanner({ spawn: thread, tables: tables.value });
  const document = { spec, protocol, protocolHash, tables: tables.value };
  const answer = await planner.drill({ ask: 'draw', ...document, seed: SEED, toward });
  if (answer?.found !== 'drawn') throw new Error(answer?.found);
  const told = await printed(...(toward.length === 0 ? [] : ['--toward', toward.join(',')]));
  const { drawn } = answer;
  const inTerminal = new Map<string, object>(told.cards.map((c: { id: string }) => [c.id, c]));
  expect(drawn.cards.length).toBe(told.cards.length);
  for (const card of drawn.cards) expect(inTerminal.get(card.id)).toMatchObject(card);
  const { seed, toward: kinds, beginsAtMs } = told;
  expect({ seed, kinds, beginsAtMs }).toEqual({
    seed: SEED,
    kinds: toward,
    beginsAtMs: drawn.beginsAtMs,
  });
});

/** Threads that a test answers for, and breaks. */
function threads() {
  const made: {
    readonly sent: PlanRequest[];
    readonly say: (answer: PlanAnswer) => void;
    readonly break: (line: string) => void;
    isOver: boolean;
  }[] = [];
  const spawn = (onBroken: (line: string) => void) => {
    let hear: (event: { readonly data: PlanAnswer }) => void = () => undefined;
    const own = {
      sent: [] as PlanRequest[],
      say: (data: PlanAnswer) => hear({ data }),
      break: onBroken,
      isOver: false,
    };
    made.push(own);
    return {
      postMessage: (request: PlanRequest) => own.sent.push(request),
      addEventListener: (_: string, listener: typeof hear) => {
        hear = listener;
      },
      terminate: () => {
        own.isOver = true;
      },
    };
  };
  return { made, planner: createPlanner({ spawn, tables: null }) };
}

const ACCOUNT = { ask: 'account', records: [] } as const;

test('a thread that breaks tells everybody who waits, and the next question starts another', async () => {
  const { made, planner } = threads();
  const heard: (OutcomesAnswer | Planning)[] = [];
  planner.plan({ spec, protocol }, (planning) => heard.push(planning));
  planner.outcomes({ ask: 'model', input: inputOf([]) }, (answer) => heard.push(answer));
  const first = planner.drill(ACCOUNT);
  made[0]?.break('not loaded');
  await expect(first).rejects.toThrow('not loaded');
  expect(heard).toMatchObject([{ failed: 'not loaded' }, { found: 'failed', line: 'not loaded' }]);
  expect(made[0]?.isOver).toBe(true);
  const second = planner.drill(ACCOUNT);
  expect(made.map(({ sent }) => sent.map(({ type }) => type))).toEqual([
    ['plan', 'outcomes', 'drill'],
    ['drill'],
  ]);
  made[1]?.say({ type: 'drill', job: 4, answer: { found: 'account', account: null } });
  expect(await second).toEqual({ found: 'account', account: null });
});

test('a thread that could not answer is not asked again: it would remember what did not come', async () => {
  const { made, planner } = threads();
  const first = planner.drill(ACCOUNT);
  const other = planner.drill(ACCOUNT);
  made[0]?.say({ type: 'failed', job: 1, line: 'not loaded' });
  await expect(first).rejects.toThrow('not loaded');
  expect(made.map(({ isOver, sent }) => [isOver, sent.length])).toEqual([
    [true, 2],
    [false, 1],
  ]);
  made[1]?.say({ type: 'drill', job: 2, answer: { found: 'account', account: null } });
  expect(await other).toEqual({ found: 'account', account: null });
});

test('who cancels a plan ends the thread; what others wait for is asked of the next one', async () => {
  const { made, planner } = threads();
  const cancel = planner.plan({ spec, protocol }, () => undefined);
  const waiting = planner.drill(ACCOUNT);
  const answered = planner.drill(ACCOUNT);
  made[0]?.say({ type: 'drill', job: 3, answer: { found: 'course', course: null } });
  expect(await answered).toEqual({ found: 'course', course: null });
  cancel();
  cancel();
  expect(made.map(({ isOver }) => isOver)).toEqual([true, false]);
  expect(made[1]?.sent).toEqual([{ type: 'drill', job: 2, question: ACCOUNT }]);
  made[1]?.say({ type: 'drill', job: 2, answer: { found: 'account', account: null } });
  expect(await waiting).toEqual({ found: 'account', account: null });
});
