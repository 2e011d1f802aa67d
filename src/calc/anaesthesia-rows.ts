/**
 * The table of local anaesthetics as it is read: agents with their vasoconstrictor, techniques, and what
 * is published of the two together. Times in minutes and hours; a source stands in every row.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, type Result } from '../base/result.ts';
import {
  readAt,
  readChoice,
  readList,
  readNumber,
  readObject,
  readOptional,
  readOr,
  readText,
} from './reading.ts';

const readStanding = readChoice(['found', 'from memory', 'derived', 'common practice']);
const readMinutes = readOptional(readNumber({ above: 0, max: 600 }));
const readHours = readOptional(readNumber({ above: 0, max: 24 }));

const readTable = readObject({
  title: readText(600),
  agents: readList(
    readObject({
      id: readText(40),
      name: readText(60),
      /** Empty for an agent without one. */
      vasoconstrictor: readOr(readText(60), ''),
      softTissueHoursMin: readHours,
      softTissueHoursMax: readHours,
      source: readText(600),
      standing: readStanding,
      note: readOr(readText(300), ''),
    }),
    { min: 1, max: 40 },
  ),
  techniques: readList(readText(40), { min: 1, max: 20 }),
  rows: readList(
    readObject({
      agent: readText(40),
      technique: readText(40),
      onsetMinutes: readMinutes,
      /** None where the effect falls from the beginning. */
      pulpalMinutes: readMinutes,
      /** When a repeated injection was shown to help, where the effect falls. */
      repeatMinutes: readMinutes,
      source: readText(600),
      standing: readStanding,
      note: readOr(readText(300), ''),
    }),
    { min: 1, max: 200 },
  ),
});

const read = (json: unknown) => readAt(readTable, 'tables.anaesthesia', json);

/** The table as it is read: agents, techniques and what is published of the two together. */
export type AnaesthesiaTable = Extract<ReturnType<typeof read>, { readonly ok: true }>['value'];

/** Reads the table from parsed JSON; a row may name only agents and techniques that it lists. */
export function parseAnaesthesia(json: unknown): Result<AnaesthesiaTable, Problem> {
  const table = read(json);
  if (!table.ok) return table;
  const { agents, techniques, rows } = table.value;
  const stray = rows.find(
    ({ agent, technique }) =>
      !agents.some(({ id }) => id === agent) || !techniques.includes(technique),
  );
  if (stray === undefined) return table;
  const words = 'an agent and a technique of the lists above';
  return err(problem('tables.anaesthesia.rows', words, `${stray.agent} ${stray.technique}`));
}
