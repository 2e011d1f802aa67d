/**
 * `calc <name> <one JSON object or "-" for standard input> [--json]`: one figure, so that anyone can
 * audit what the application computes.
 */
import { TEXT_LENGTH_MAX } from '../base/caps.ts';
import { isRecord } from '../base/json.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { ambientLightCalc } from '../calc/ambient-light.ts';
import { anaesthesiaCalc } from '../calc/anaesthesia.ts';
import { blueLightCalc } from '../calc/blue-light.ts';
import { blueLightDayCalc } from '../calc/blue-light-day.ts';
import type { Calc } from '../calc/calc.ts';
import { crownCalc } from '../calc/crown-size.ts';
import { heatCalc } from '../calc/heat.ts';
import { contrastCalc, legibilityCalc, targetSizeCalc } from '../calc/legibility.ts';
import { baselineCalc, falloffCalc, outputCautionCalc } from '../calc/light-cautions.ts';
import { doseCalc, exitanceCalc, exposureCalc, transmittanceCalc } from '../calc/light-dose.ts';
import { mixesCalc } from '../calc/mixes.ts';
import { roundsCalc } from '../calc/rounds.ts';
import { soundCalc } from '../calc/sound.ts';
import { spotsCalc } from '../calc/spots.ts';
import { crownSpotsCalc } from '../calc/spots-crown.ts';
import { warmupCalc, workingTimeCalc } from '../calc/temperature.ts';
import { toothCalc } from '../calc/tooth.ts';
import { udiCalc } from '../calc/udi/udi.ts';
import { readJsonText } from '../protocol/json-text.ts';
import { loadCalcTables } from './load-tables.ts';
import { type ExitCode, type Io, refuse, writeAnswer } from './output.ts';
import { readText } from './read-text.ts';
import { temporalCalc } from './temporal-calc.ts';

const CALCS: readonly Calc[] = [
  toothCalc,
  crownCalc,
  doseCalc,
  exposureCalc,
  transmittanceCalc,
  exitanceCalc,
  falloffCalc,
  baselineCalc,
  outputCautionCalc,
  spotsCalc,
  crownSpotsCalc,
  warmupCalc,
  workingTimeCalc,
  anaesthesiaCalc,
  ambientLightCalc,
  roundsCalc,
  mixesCalc,
  heatCalc,
  blueLightCalc,
  blueLightDayCalc,
  legibilityCalc,
  contrastCalc,
  targetSizeCalc,
  temporalCalc,
  soundCalc,
  udiCalc,
];

interface Request {
  readonly calc: Calc;
  /** The JSON text, or "-". */
  readonly source: string;
  readonly asJson: boolean;
}

function parseArgs(args: readonly string[]): Result<Request, Problem> {
  const asJson = args.includes('--json');
  const [name, source, ...more] = args.filter((arg) => arg !== '--json');
  const calc = CALCS.find((each) => each.name === name);
  if (calc === undefined) {
    const names = CALCS.map((each) => each.name).join(', ');
    return err(problem('calc', `one of ${names}`, name, 'unknown-calc'));
  }
  if (source === undefined || more.length > 0) {
    const came = source === undefined ? 'nothing' : `${more.length + 1} arguments`;
    const expected = 'one JSON object, or - for standard input';
    return err({ code: 'bad-arguments', place: `calc.${calc.name}`, expected, came });
  }
  return ok({ calc, source, asJson });
}

/** Labels that were scanned hold control characters, so those are let pass here. */
function parseJson(place: string, text: string): Result<unknown, Problem> {
  const how = { name: place, lengthMax: TEXT_LENGTH_MAX, keepsUnseen: true };
  const read = readJsonText(text, how);
  if (read.ok) return ok(read.value.value);
  const { problem: fault } = read.error;
  return err(
    fault.code === 'not-json' ? problem(place, 'one JSON object', text, fault.code) : fault,
  );
}

async function readInput({ calc, source }: Request, io: Io): Promise<Result<unknown, Problem>> {
  const text = source === '-' ? await readText(source, io) : ok(source);
  return text.ok ? parseJson(`calc.${calc.name}`, text.value) : text;
}

/** Two-digit years on labels need to know the present one; only the command line may ask a clock. */
function withYear(calc: Calc, input: unknown): unknown {
  return calc === udiCalc && isRecord(input) && !Object.hasOwn(input, 'presentYear')
    ? { ...input, presentYear: new Date().getUTCFullYear() }
    : input;
}

function list(io: Io): 0 {
  const lines = CALCS.map(({ name, about }) => `  ${name.padEnd(16)}${about}`);
  io.stdout(['calc <name> <one JSON object, or -> [--json]', ...lines, ''].join('\n'));
  return 0;
}

/** Computes one figure. Exit code 0 with an answer, 2 with one line on standard error. */
export async function run(args: readonly string[], io: Io): Promise<ExitCode> {
  if (args[0] === '--help' || args[0] === '-h') return list(io);
  const request = parseArgs(args);
  if (!request.ok) return refuse(io, request.error);
  const input = await readInput(request.value, io);
  if (!input.ok) return refuse(io, input.error);
  const tables = await loadCalcTables();
  if (!tables.ok) return refuse(io, tables.error);
  const { calc, asJson } = request.value;
  const answer = calc.compute(withYear(calc, input.value), tables.value);
  if (!answer.ok) return refuse(io, answer.error);
  writeAnswer(io, answer.value, { asJson });
  return 0;
}
