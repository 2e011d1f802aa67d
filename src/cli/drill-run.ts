/**
 * `rehearse CASE --drill SEED [--toward KIND,KIND …] [--protocol FILE] [--json]`: draws a drill of the case from the
 * seed and, where they are named, rather of these kinds of mishap, as a tablet draws toward those that are due. Plays
 * its ideal run and prints what a perfect answer comes to. The same seed and kinds give the same drill on every
 * machine. Exit code 0; 2 when a file is no such document, the seed is no whole number, or a kind is unknown.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { drillPlan } from '../drill/draw.ts';
import type { DrillPlan, ShownCard } from '../drill/drill-types.ts';
import type { DrillCase } from '../drill/hands.ts';
import { type IdealRun, idealRun } from '../drill/ideal.ts';
import { type CardScore, type DrillScore, scoreDrill } from '../drill/score.ts';
import { makeRunPlan } from '../plan/run-plan.ts';
import { clockText } from '../plan/script-time.ts';
import { canonicalText } from '../protocol/canonical-text.ts';
import type { Mishap } from '../protocol/types.ts';
import { MISHAPS } from '../protocol/vocabulary.ts';
import { hashText } from '../storage/hash-chain.ts';
import { drillCardWords, drillSightTexts } from '../words/drill-sight-words.ts';
import { tellReadBack } from '../words/read-back-words.ts';
import { type ExitCode, type Io, refuse, writeAnswer } from './output.ts';
import { loadDocuments } from './read-documents.ts';
import { parseSeed } from './seed.ts';

interface Request {
  readonly casePath: string;
  readonly seed: number;
  readonly toward: readonly Mishap[];
  readonly protocolPath: string | null;
  readonly asJson: boolean;
}

/** Kinds of mishap, with commas between them. */
function parseKinds(text: string | undefined): Result<readonly Mishap[], Problem> {
  const kinds = (text ?? '').split(',').map((name) => MISHAPS.find((kind) => kind === name));
  return kinds.every((kind) => kind !== undefined)
    ? ok(kinds)
    : err(problem('rehearse --toward', `some of ${MISHAPS.join(',')}`, text));
}

function parseArgs(args: readonly string[]): Result<Request, Problem> {
  const files: string[] = [];
  let protocolPath: string | null = null;
  let seed: number | null = null;
  let toward: readonly Mishap[] = [];
  for (let i = 0; i < args.length; i += 1) {
    const arg = args[i] ?? '';
    if (arg === '--json') continue;
    if (arg === '--drill') {
      const parsed = parseSeed('rehearse --drill', args[++i]);
      if (!parsed.ok) return parsed;
      seed = parsed.value;
    } else if (arg === '--toward') {
      const parsed = parseKinds(args[++i]);
      if (!parsed.ok) return parsed;
      toward = parsed.value;
    } else if (arg === '--protocol') {
      protocolPath = args[++i] ?? null;
      if (protocolPath === null) {
        return err(problem('rehearse --protocol', 'a protocol file', undefined));
      }
    } else if (arg.startsWith('--')) {
      return err(
        problem('rehearse', 'one of --drill, --toward, --protocol, --json', arg, 'unknown-option'),
      );
    } else files.push(arg);
  }
  const [casePath, ...more] = files;
  if (casePath === undefined || more.length > 0 || seed === null) {
    return err(problem('rehearse --drill', 'one case file, and no script', files));
  }
  return ok({ casePath, seed, toward, protocolPath, asJson: args.includes('--json') });
}

async function loadCase(io: Io, request: Request): Promise<Result<DrillCase, Problem>> {
  const loaded = await loadDocuments(io, request);
  if (!loaded.ok) return loaded;
  const { spec, protocol, tables } = loaded.value;
  const protocolHash = hashText(canonicalText(protocol));
  const plan = makeRunPlan(spec, protocol, tables);
  return ok({ spec, protocol, protocolHash, plan, tell: tellReadBack });
}

interface Drilled {
  readonly drilled: DrillCase;
  readonly plan: DrillPlan;
  readonly ideal: IdealRun;
  readonly score: DrillScore;
}

const ofKind = (cards: readonly CardScore[], kind: 'mishap' | 'foil') =>
  cards.filter(({ shown }) => shown.card.kind === kind);
const count = (cards: readonly CardScore[], is: (card: CardScore) => boolean) => ({
  right: cards.filter(is).length,
  of: cards.length,
});

function jsonOf({ drilled, plan, ideal, score }: Drilled) {
  const shownAt = ({ card, shownAtMs }: ShownCard) => ({
    ...card,
    shownAtMs,
    words: drillCardWords(card, drilled.spec),
  });
  return {
    case: drilled.spec.id,
    protocol: { id: drilled.protocol.id, revision: drilled.protocol.revision },
    seed: plan.seed,
    toward: plan.toward,
    beginsAtMs: ideal.beganAtMs,
    endsAtMs: ideal.endedAtMs,
    cards: ideal.shown.map(shownAt),
    score: {
      cards: score.cards.map(({ shown, ...rest }) => ({ card: shown.card.id, ...rest })),
      leftOut: score.leftOut,
      breachesBeyond: score.breaches.length,
      breachesOfIdeal: ideal.log.state.breaches.length,
      wasted: score.wasted,
      presses: ideal.presses,
    },
  };
}

const at = (ms: number): string => clockText(ms).padStart(8);

function cardLines({ drilled, score, ideal }: Drilled): readonly string[] {
  const { terminal } = drillSightTexts;
  const lines = score.cards.flatMap(({ shown, firstRightMs, roomMs }) => {
    const { card, shownAtMs } = shown;
    const words = drillCardWords(card, drilled.spec);
    const line = terminal.card({ at: at(shownAtMs), kind: terminal.kinds[card.kind], words });
    if (card.kind !== 'mishap' || firstRightMs === null) return [line];
    const taken = ideal.log.state.waysBack.find(({ mishap }) => mishap === card.mishap);
    const told = terminal.taken({
      wayBack: taken?.wayBack ?? card.wayBack,
      subjects: card.subjects.join(' '),
      after: clockText(firstRightMs),
    });
    return [line, told, ...(roomMs === null ? [] : [terminal.room(clockText(roomMs))])];
  });
  const never = ideal.shown.flatMap(({ card, shownAtMs }) => {
    if (shownAtMs !== null) return [];
    const words = drillCardWords(card, drilled.spec);
    return [terminal.neverCame({ kind: terminal.kinds[card.kind], words })];
  });
  const all = [...lines, ...never];
  return all.length === 0 ? [terminal.none] : all;
}

function textOf(done: Drilled): string {
  const { drilled, plan, ideal, score } = done;
  const { terminal } = drillSightTexts;
  const mishaps = ofKind(score.cards, 'mishap');
  const { takenBack, wrongSubject, wrongWay } = score.wasted;
  return [
    terminal.head({ caseId: drilled.spec.id, seed: plan.seed, count: plan.cards.length }),
    terminal.stretch({ from: clockText(ideal.beganAtMs), until: clockText(ideal.endedAtMs) }),
    ...cardLines(done).map((line) => `  ${line}`),
    terminal.scoreHead,
    ...[
      terminal.score.rightFirst(count(mishaps, (c) => c.isRightFirst)),
      terminal.score.inTime(count(mishaps, (c) => c.isInTime)),
      terminal.score.leftAlone(count(ofKind(score.cards, 'foil'), (c) => c.isRightFirst)),
      terminal.score.breaches(score.breaches.length),
      terminal.score.own(ideal.log.state.breaches.length),
      terminal.score.wasted(takenBack + wrongSubject + wrongWay),
      terminal.score.presses(ideal.presses),
    ].map((line) => `  ${line}`),
    '',
  ].join('\n');
}

/** Plays the ideal run of one drill. See the head of this file for the exit codes. */
export async function runDrill(args: readonly string[], io: Io): Promise<ExitCode> {
  const request = parseArgs(args);
  if (!request.ok) return refuse(io, request.error);
  const loaded = await loadCase(io, request.value);
  if (!loaded.ok) return refuse(io, loaded.error);
  const drilled = loaded.value;
  const { seed, toward } = request.value;
  const plan = drillPlan({ ...drilled, seed, toward });
  const ideal = idealRun(drilled, plan);
  const score = scoreDrill({ plan, log: ideal.log, ideal, nowMs: ideal.endedAtMs });
  const done = { drilled, plan, ideal, score };
  if (request.value.asJson) writeAnswer(io, jsonOf(done), { asJson: true });
  else io.stdout(textOf(done));
  return 0;
}
