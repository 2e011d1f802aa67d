/**
 * `plan CASE [--protocol FILE] [--seed N] [--why] [--json]`: plans the appointment of a case file:
 * rounds, mixes, exposures, chair time, the room and risk of every window, and other ways to do it;
 * with `--why` also how every number came about. Without a protocol file, the one the case names is
 * taken from the project's own. Exit code 0 when every window can be kept and no fault speaks against
 * the case, 1 else, 2 when a file is bad.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type Alternative, compareAlternatives } from '../plan/alternatives.ts';
import { anaesthesiaTable } from '../plan/anaesthesia-table.ts';
import { type FullPlan, makePlan } from '../plan/make-plan.ts';
import { plannedNumbness } from '../plan/planned-numbness.ts';
import { restMoments } from '../plan/rest-moments.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import { bareId } from '../protocol/subjects.ts';
import type { Protocol } from '../protocol/types.ts';
import { besidePlanLines } from '../words/beside-plan-words.ts';
import { besideWords } from '../words/beside-words.ts';
import { terminalPlanWords as words } from '../words/terminal-words.ts';
import { type ExitCode, type Io, refuse, writeAnswer } from './output.ts';
import {
  alternativeLines,
  carefulLines,
  explanationLine,
  exposureLines,
  lengthWords,
  percentWords,
  runsWords,
  visitLines,
  windowLines,
} from './plan-words.ts';
import { loadDocuments } from './read-documents.ts';
import { parseSeed } from './seed.ts';
import { findingLine } from './words.ts';

interface Request {
  readonly caseFile: string;
  readonly protocolFile: string | null;
  readonly seed: number;
  readonly asJson: boolean;
  /** In text: how every number came about. */
  readonly isWhy: boolean;
}

function parseArgs(args: readonly string[]): Result<Request, Problem> {
  const files: string[] = [];
  let protocolFile: string | null = null;
  let seed = 1;
  let asJson = false;
  let isWhy = false;
  for (let i = 0; i < args.length; i += 1) {
    const arg = args[i] ?? '';
    if (arg === '--json') asJson = true;
    else if (arg === '--why') isWhy = true;
    else if (arg === '--seed') {
      const parsed = parseSeed('plan.--seed', args[++i]);
      if (!parsed.ok) return parsed;
      seed = parsed.value;
    } else if (arg === '--protocol') {
      protocolFile = args[++i] ?? null;
      if (protocolFile === null) return err(problem('plan.--protocol', 'a file', undefined));
    } else if (arg.startsWith('--')) {
      return err(
        problem('plan', 'one of --protocol, --seed, --why, --json', arg, 'unknown-option'),
      );
    } else files.push(arg);
  }
  const [caseFile, ...more] = files;
  if (caseFile === undefined || more.length > 0) {
    return err(problem('plan', 'one case file, or - for standard input', files[1]));
  }
  return ok({ caseFile, protocolFile, seed, asJson, isWhy });
}

interface Planned {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
  readonly full: FullPlan;
  readonly alternatives: readonly Alternative[];
}

async function planCase(request: Request, io: Io): Promise<Result<Planned, Problem>> {
  const { caseFile: casePath, protocolFile: protocolPath, seed } = request;
  const loaded = await loadDocuments(io, { casePath, protocolPath });
  if (!loaded.ok) return loaded;
  const { spec, protocol } = loaded.value;
  const input = { ...loaded.value, risk: { seed } };
  const full = makePlan(input);
  return ok({ spec, protocol, full, alternatives: compareAlternatives(input, full) });
}

const indent = (list: readonly string[]): string[] => list.map((line) => `  ${line}`);

/** A head with its lines; nothing where there are none. */
const part = (head: string, list: readonly string[]): string[] =>
  list.length === 0 ? [] : [head, ...indent(list)];

/** Groups of plain ids, or of subjects. */
const together = (groups: readonly (readonly string[])[]): string =>
  groups
    .map((group) => group.map((id) => (id.includes(':') ? bareId(id) : id)).join(' '))
    .join(' | ');

function chairLines({ full }: Planned): string[] {
  const { chair, pAnyBroken, options } = full.risk;
  return [
    words.chairTime({
      middle: lengthWords(chair.p50Ms),
      slow: lengthWords(chair.p90Ms),
      usual: lengthWords(full.timeline.chairMs),
    }),
    words.anyRisk(runsWords(pAnyBroken, options.samples)),
  ];
}

/** How the numbers came about; without `--why` only those that a ceiling of light holds. */
function whyLines({ explanations }: FullPlan, o: { readonly isWhy: boolean }): string[] {
  if (o.isWhy) return part(words.explainedHead, explanations.map(explanationLine));
  const held = explanations.filter(({ limit }) => limit !== undefined);
  return [...part(words.heldHead, held.map(explanationLine)), words.whyHint];
}

function lines(planned: Planned, o: { readonly isWhy: boolean }): string[] {
  const { spec, protocol, full, alternatives } = planned;
  const rounds = Object.entries(full.plan.rounds).flatMap(([id, list]) => {
    if (list.length === 0) return [];
    const title = protocol.steps.find((s) => s.id === id)?.title ?? id;
    return `"${title}": ${together(list)}`;
  });
  const { mixes } = full.plan;
  const share = percentWords(full.careful.riskMax);
  return [
    words.head({ caseId: spec.id, protocol: protocol.id, revision: protocol.revision }),
    ...part(words.findingsHead, full.findings.map(findingLine)),
    ...chairLines(planned),
    ...part(words.visitsHead(spec.units.length), visitLines()),
    ...part(words.mixesHead, mixes.length === 0 ? [] : [together(mixes)]),
    ...part(words.roundsHead, rounds),
    ...part(words.carefulHead(share), carefulLines(full, protocol)),
    ...part(`${besideWords.planned.title}:`, besidePlanLines(full.timeline, { spec, protocol })),
    ...part(words.lightHead, exposureLines(full, protocol, spec)),
    ...part(words.windowsHead, windowLines(full, protocol)),
    ...part(words.waysHead, alternativeLines(alternatives, protocol, full.risk.options.samples)),
    ...whyLines(full, o),
  ];
}

/** Plans one case. See the head of this file for the exit codes. */
export async function run(args: readonly string[], io: Io): Promise<ExitCode> {
  const request = parseArgs(args);
  if (!request.ok) return refuse(io, request.error);
  const planned = await planCase(request.value, io);
  if (!planned.ok) return refuse(io, planned.error);
  const { spec, protocol, full, alternatives } = planned.value;
  if (request.value.asJson) {
    const said = alternativeLines(alternatives, protocol, full.risk.options.samples);
    const told = alternatives.map((each, i) => ({ ...each, words: said[i] ?? '' }));
    const { timeline } = full;
    const beside = {
      anaesthesia: plannedNumbness({ spec, protocol, timeline, table: anaesthesiaTable() }),
      rests: restMoments(timeline, protocol),
    };
    const of = { case: spec.id, protocol: protocol.id };
    const answer = { ...of, ...full, alternatives: told, ...beside };
    writeAnswer(io, answer, { asJson: true });
  } else {
    const { isWhy } = request.value;
    io.stdout(`${lines(planned.value, { isWhy }).join('\n')}\n`);
  }
  const isFaulty = full.findings.some(({ level }) => level === 'error');
  return full.timeline.bands.every((b) => b.canBeKept) && !isFaulty ? 0 : 1;
}
