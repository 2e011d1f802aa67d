/**
 * How long a local anaesthetic may be counted on: from the table of published means, when the pulp is
 * likely to wake and when the lip is. In: an agent and a technique of `shared/tables/anaesthesia.json`
 * (with its sources), times there in minutes and hours. Out: milliseconds. A caution, never a dose, and
 * no maximum of one: a numb lip does not prove a numb pulp.
 */
import { problem } from '../base/problem.ts';
import { err, ok } from '../base/result.ts';
import type { AnaesthesiaTable } from './anaesthesia-rows.ts';
import { type Calc, defineCalc } from './calc.ts';
import { readObject, readText } from './reading.ts';

/** Share of the pulpal time after which people are warned. A design choice of this project, no source. */
const PULPAL_SHARE = 0.8;

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;

export interface Given {
  readonly agent: string;
  readonly technique: string;
}

/** What is published; null where nothing is. Times in ms from the injection. */
export interface Numbness {
  readonly onsetMs: number | null;
  readonly pulpalMs: number | null;
  /** People are warned from here on while something may still hurt. */
  readonly warnAtMs: number | null;
  readonly softTissueMs: { readonly loMs: number | null; readonly hiMs: number } | null;
  readonly source: string;
  readonly note: string;
}

const scaled = (value: number | null, unitMs: number): number | null =>
  value === null ? null : Math.round(value * unitMs);

/** What the table says of one agent by one technique; null for an agent that it does not know. */
export function numbnessOf(table: AnaesthesiaTable, given: Given): Numbness | null {
  const agent = table.agents.find(({ id }) => id === given.agent);
  if (agent === undefined) return null;
  const row = table.rows.find((r) => r.agent === given.agent && r.technique === given.technique);
  const pulpalMs = scaled(row?.pulpalMinutes ?? null, MINUTE_MS);
  const repeatMs = scaled(row?.repeatMinutes ?? null, MINUTE_MS);
  const hiMs = scaled(agent.softTissueHoursMax, HOUR_MS);
  return {
    onsetMs: scaled(row?.onsetMinutes ?? null, MINUTE_MS),
    pulpalMs,
    warnAtMs: pulpalMs === null ? repeatMs : Math.round(pulpalMs * PULPAL_SHARE),
    softTissueMs: hiMs === null ? null : { loMs: scaled(agent.softTissueHoursMin, HOUR_MS), hiMs },
    source: row?.source ?? '',
    note: row?.note ?? '',
  };
}

/** `anaesthesia`: when the pulp and the lip are likely to wake. */
export const anaesthesiaCalc: Calc = defineCalc(
  {
    name: 'anaesthesia',
    about: 'how long an agent is published to numb pulp and lip, and when to be warned; no dose',
    source:
      'shared/tables/anaesthesia.json, a source for each row; warned at 0.8 of the pulpal time',
  },
  readObject({ agent: readText(40), technique: readText(40) }),
  (given, { anaesthesia }) => {
    const found = anaesthesia === undefined ? null : numbnessOf(anaesthesia, given);
    if (anaesthesia !== undefined && found !== null) {
      if (anaesthesia.techniques.includes(given.technique)) {
        const { source, ...rest } = found;
        return ok({ ...rest, published: source });
      }
      const techniques = anaesthesia.techniques.join(', ');
      return err(problem('calc.anaesthesia.technique', `one of ${techniques}`, given.technique));
    }
    const ids = (anaesthesia?.agents ?? []).map(({ id }) => id).join(', ');
    return err(problem('calc.anaesthesia.agent', `one of ${ids}`, given.agent));
  },
);
