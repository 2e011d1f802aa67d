/** The terminal and the app plan one case alike: same tables, same file, same plan, every demo case. */
import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, describe, expect, test, vi } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { type PlanTables, parsePlanTables } from '../../src/plan/plan-tables.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { createPlanner, type Planning } from '../../src/runtime/planner/planner.ts';
import type { Session } from '../../src/runtime/session.ts';
import { quietSession } from '../runtime/quiet-session.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { planningThread } from '../tools/planning-thread.ts';

const rootUrl = (path: string): URL => new URL(`../../${path}`, import.meta.url);
const textOf = (path: string): string => readFileSync(rootUrl(path), 'utf8');
const jsonOf = (path: string): unknown => JSON.parse(textOf(path));
const namesIn = (folder: string): readonly string[] =>
  readdirSync(rootUrl(folder)).filter((name) => name.endsWith('.json'));

/** The tables that the page itself names: `import ceramicsUrl from '../shared/tables/….json?packed'`. */
function tablesOfThePage(): PlanTables {
  const found = textOf('src/main.tsx').matchAll(/import (\w+)Url from '\.\.\/(shared\/[^'?]+)\?/g);
  const json = Object.fromEntries([...found].map(([, name, path = '']) => [name, jsonOf(path)]));
  const { blueLight, crowns, ceramics } = json;
  const tables = parsePlanTables({ blueLight, crowns, ceramics });
  if (!tables.ok) throw new Error(tables.error.place);
  return tables.value;
}

const TABLES = tablesOfThePage();
const PROTOCOLS = namesIn('shared/protocols').map((name) => jsonOf(`shared/protocols/${name}`));
const CASES = namesIn('demo-data/cases');

function specOf(file: string): CaseFile {
  const parsed = parseCase(jsonOf(`demo-data/cases/${file}`));
  if (!parsed.ok) throw new Error(parsed.error[0]?.place);
  return parsed.value;
}

function protocolOf(spec: CaseFile): Protocol {
  for (const value of PROTOCOLS) {
    const parsed = parseProtocol(value);
    if (parsed.ok && parsed.value.id === spec.protocol) return parsed.value;
  }
  throw new Error(spec.protocol);
}

async function printed(file: string) {
  let out = '';
  await main(['plan', `demo-data/cases/${file}`, '--json'], {
    readFile: async (path) => textOf(path),
    stdout: (text) => {
      out += text;
    },
    stderr: () => undefined,
  });
  return JSON.parse(out);
}

const answers = new Map<string, ReturnType<typeof printed>>();

function fromTheTerminal(file: string): ReturnType<typeof printed> {
  const answer = answers.get(file) ?? printed(file);
  answers.set(file, answer);
  return answer;
}

const thread = await planningThread();
afterAll(() => vi.unstubAllGlobals());

/** The app without its screens, on a journal in memory, with what the page ships. */
async function startedSession(): Promise<Session> {
  const session = quietSession({
    journal: createMemoryJournal(),
    protocols: PROTOCOLS,
    cases: CASES.map((file) => jsonOf(`demo-data/cases/${file}`)),
    tables: TABLES,
  });
  await session.start();
  return session;
}

describe.each(CASES)('%s', (file) => {
  const spec = specOf(file);

  test('the planning thread of the app finds what `plan` prints', async () => {
    const planner = createPlanner({ spawn: thread, tables: TABLES });
    let last: Planning | null = null;
    planner.plan({ spec, protocol: protocolOf(spec) }, (planning) => {
      last = planning;
    });
    const { plan, timeline, risk, heat, explanations } = await fromTheTerminal(file);
    expect(JSON.parse(JSON.stringify(last))).toMatchObject({
      failed: null,
      plan: { plan, timeline, risk, heat, explanations },
    });
  }, 60_000);

  test('a case that the app opens runs on that plan', async () => {
    const session = await startedSession();
    const opened = await session.openCase({ spec, mode: 'rehearsal', speed: 1 });
    expect(opened.ok).toBe(true);
    const running = session.store.getState().running?.log.state.opened.plan;
    session.leaveCase();
    expect(running).toEqual((await fromTheTerminal(file)).plan);
  }, 60_000);
});
