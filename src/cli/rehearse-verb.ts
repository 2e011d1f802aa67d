/**
 * `rehearse CASE SCRIPT [--protocol FILE] [--json]`: carries out a script of timed presses on a case
 * file. The protocol that the case names is looked for in `shared/protocols`. Exit code 0 when every
 * bound was kept, 1 with breaches, 2 when a file is no such document or a row cannot be carried out.
 * `rehearse CASE --drill SEED` plays a drill instead: see `drill-run.ts`.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import type { View } from '../engine/view-types.ts';
import { checkDocument } from '../plan/check-windows.ts';
import { parseScript, type Script } from '../plan/parse-script.ts';
import { type Rehearsal, type RehearsalProblem, rehearse } from '../plan/rehearsal.ts';
import { makeRunPlan } from '../plan/run-plan.ts';
import { clockText } from '../plan/script-time.ts';
import { canonicalText } from '../protocol/canonical-text.ts';
import { hashText } from '../storage/hash-chain.ts';
import { tellReadBack } from '../words/read-back-words.ts';
import { terminalWords } from '../words/terminal-words.ts';
import { type ExitCode, type Io, refuse, writeAnswer } from './output.ts';
import { type CaseDocuments, loadDocuments, readDocument } from './read-documents.ts';
import { breachWords, cueWords, eventWords, offerWords, refusalWords } from './rehearse-words.ts';

interface Request {
  readonly casePath: string;
  readonly scriptPath: string;
  /** Null: the one that the case names, from `shared/protocols`. */
  readonly protocolPath: string | null;
  readonly asJson: boolean;
}

function parseArgs(args: readonly string[]): Result<Request, Problem> {
  const rest = args.filter((arg) => arg !== '--json');
  const flag = rest.indexOf('--protocol');
  const protocolPath = flag < 0 ? null : rest[flag + 1];
  if (protocolPath === undefined) {
    return err(problem('rehearse --protocol', 'a protocol file', undefined));
  }
  const files = flag < 0 ? rest : rest.toSpliced(flag, 2);
  const [casePath, scriptPath, ...more] = files;
  const unknown = files.find((file) => file.startsWith('--'));
  if (unknown !== undefined) return err(problem('rehearse', 'no such option', unknown));
  if (casePath === undefined || scriptPath === undefined || more.length > 0) {
    return err(problem('rehearse', 'a case file and a script', files));
  }
  return ok({ casePath, scriptPath, protocolPath, asJson: args.includes('--json') });
}

interface Documents extends CaseDocuments {
  readonly script: Script;
}

async function loadAll(io: Io, request: Request): Promise<Result<Documents, Problem>> {
  const loaded = await loadDocuments(io, { ...request, check: checkDocument });
  if (!loaded.ok) return loaded;
  const script = await readDocument(io, request.scriptPath, parseScript, 'script');
  return script.ok ? ok({ ...loaded.value, script: script.value }) : script;
}

function perform({
  spec,
  protocol,
  script,
  tables,
}: Documents): Result<Rehearsal, RehearsalProblem> {
  return rehearse({
    spec,
    protocol,
    protocolHash: hashText(canonicalText(protocol)),
    // The plan that the app opens the case with.
    plan: makeRunPlan(spec, protocol, tables),
    script,
    tell: tellReadBack,
    startWallMs: spec.scheduledFor === undefined ? 0 : Date.parse(spec.scheduledFor),
  });
}

function jsonOf({ spec, protocol, script }: Documents, done: Rehearsal) {
  const { log, view, cues, presses, pressesByStage, endedAtMs } = done;
  return {
    case: spec.id,
    protocol: { id: protocol.id, revision: protocol.revision },
    script: script.title,
    finished: view.finished,
    endedAtMs,
    presses,
    pressesByStage,
    events: log.records.map(({ seq, press, stamp, by, event }) => ({
      seq,
      press,
      stamp,
      by,
      // The documents are on the reader's own disk.
      event: event.type === 'case-opened' ? { type: event.type, mode: event.mode } : event,
    })),
    breaches: log.state.breaches.map((breach) => ({ ...breach, words: breachWords(breach) })),
    waysBack: log.state.waysBack,
    voided: log.state.voided.map(({ key, press, reason }) => ({ key, press, reason })),
    gaps: log.state.gaps,
    cues: cues.map(({ cue, dueAtMs, hasSounded }) => {
      const { kind, of, subjects, priority } = cue;
      return { kind, of, subjects, priority, dueAtMs, hasSounded };
    }),
    progress: { done: view.done, total: view.total, teeth: view.teeth },
    clocks: view.clocks,
    agenda: view.offers,
  };
}

const section = (title: string, lines: readonly string[]): string =>
  [title, ...lines.map((line) => `  ${line}`)].join('\n');

const counted = (title: (count: number) => string, lines: readonly string[]): string =>
  section(title(lines.length), lines);

const atText = (ms: number): string => clockText(ms).padStart(8);

function toothLine({ tooth, done, total, state, surfaces }: View['teeth'][number]): string {
  const light = surfaces.map((s) =>
    terminalWords.toothLight({
      surface: s.surface,
      given: String(s.givenMs / 1000),
      set: String(s.setMs / 1000),
    }),
  );
  return terminalWords.tooth({ tooth, done, total, state, light });
}

function textOf({ spec, protocol }: Documents, done: Rehearsal): string {
  const { log, view, cues, presses, pressesByStage, endedAtMs } = done;
  const startMs = log.records[0]?.stamp.wallMs ?? 0;
  const stages = Object.entries(pressesByStage).map(([stage, count]) =>
    terminalWords.stagePresses({ stage, count }),
  );
  const told = cues.map(({ cue, dueAtMs, hasSounded }) => {
    const words = cueWords(cue);
    return `${atText(dueAtMs)}  ${hasSounded ? words : terminalWords.toCome(words)}`;
  });
  const head = {
    caseId: spec.id,
    protocol: protocol.id,
    revision: protocol.revision,
    at: clockText(endedAtMs),
  };
  return [
    view.finished ? terminalWords.finishedHead(head) : terminalWords.unfinishedHead(head),
    terminalWords.presses({ count: presses, stages }),
    counted(
      terminalWords.eventsHead,
      log.records.map((r) => `${atText(r.stamp.wallMs - startMs)}  ${eventWords(r.event)}`),
    ),
    counted(terminalWords.cuesHead, told),
    section(
      terminalWords.progressHead({ done: view.done, total: view.total, teeth: view.teeth.length }),
      view.teeth.map(toothLine),
    ),
    counted(terminalWords.agendaHead, view.offers.map(offerWords)),
    counted(
      terminalWords.notKeptHead,
      log.state.breaches.map((b) => `${atText(b.at.loMs)}  ${breachWords(b)}`),
    ),
    '',
  ].join('\n');
}

/** The problem with the words of the refusal, where it is one. */
const inWords = (fault: RehearsalProblem): Problem =>
  fault.refusal ? { ...fault, came: refusalWords(fault.refusal) } : fault;

/** Rehearses one case. See the head of this file for the exit codes. */
export async function run(args: readonly string[], io: Io): Promise<ExitCode> {
  if (args.includes('--drill')) return (await import('./drill-run.ts')).runDrill(args, io);
  const request = parseArgs(args);
  if (!request.ok) return refuse(io, request.error);
  const documents = await loadAll(io, request.value);
  if (!documents.ok) return refuse(io, documents.error);
  const done = perform(documents.value);
  if (!done.ok) return refuse(io, inWords(done.error));
  if (request.value.asJson) writeAnswer(io, jsonOf(documents.value, done.value), { asJson: true });
  else io.stdout(textOf(documents.value, done.value));
  return done.value.log.state.breaches.length === 0 ? 0 : 1;
}
