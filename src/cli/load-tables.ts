/** Loads the reference tables that figures need from the project's `shared/tables`. */
import { readFile } from 'node:fs/promises';
import type { Problem } from '../base/problem.ts';
import { ok, type Result } from '../base/result.ts';
import { type AnaesthesiaTable, parseAnaesthesia } from '../calc/anaesthesia-rows.ts';
import { type CalcTables, parseCalcTables } from '../calc/tables.ts';
import { type PlanTables, parsePlanTables } from '../plan/plan-tables.ts';

async function readTable(name: string): Promise<unknown> {
  const url = new URL(`../../shared/tables/${name}.json`, import.meta.url);
  return JSON.parse(await readFile(url, 'utf8'));
}

/** The tables, or the first problem in them. Rejects when a file cannot be read. */
export async function loadCalcTables(): Promise<Result<CalcTables, Problem>> {
  const [blueLight, crowns] = await Promise.all([
    readTable('blue-light-hazard'),
    readTable('crown-dimensions'),
  ]);
  const tables = parseCalcTables({ blueLight, crowns });
  const anaesthesia = await loadAnaesthesia();
  if (!tables.ok) return tables;
  return anaesthesia.ok ? ok({ ...tables.value, anaesthesia: anaesthesia.value }) : anaesthesia;
}

/** How long local anaesthetics last. */
async function loadAnaesthesia(): Promise<Result<AnaesthesiaTable, Problem>> {
  return parseAnaesthesia(await readTable('anaesthesia'));
}

/** The tables that a plan is computed with: those that ship with the app. */
export async function loadPlanTables(): Promise<Result<PlanTables, Problem>> {
  const [blueLight, crowns, ceramics] = await Promise.all([
    readTable('blue-light-hazard'),
    readTable('crown-dimensions'),
    readTable('transmittances'),
  ]);
  return parsePlanTables({ blueLight, crowns, ceramics });
}
