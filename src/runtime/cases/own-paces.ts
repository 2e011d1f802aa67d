/**
 * Paces that people's own records give a case before it is planned: of each step, the times of those
 * who will do it. Patient cases only: a rehearsal runs faster than hands do. Times in ms.
 */
import { isSameJson } from '../../base/json.ts';
import type { CaseLog } from '../../engine/log.ts';
import { OWN_PACE_COUNT_MIN, OWN_SPREAD_COUNT_MIN } from '../../plan/own-paces.ts';
import type { CaseFile, RecordedPace } from '../../protocol/case-types.ts';
import type { Protocol, Role, Step } from '../../protocol/types.ts';
import type { CaseSummary } from '../../storage/journal-types.ts';
import { paceMs, type Sample, samplesOf, spreadOf } from '../lead/lead-own-times.ts';
import { type ChangeOver, changeOversOf } from '../lead/own-changes.ts';
import type { Session } from '../session.ts';

/** Older cases say less about today's pace, and each has to be read. A design choice, no source. */
const CASES_MAX = 40;

/** Labels of those who do a step of this role; ids differ from case file to case file. */
function labelsOf(spec: CaseFile, by: Role | 'either'): readonly string[] {
  return spec.people.filter((p) => by === 'either' || p.role === by).map((p) => p.label);
}

/** Who did it: the only one of that role, whoever pressed; else the one who pressed. */
function doerOf(spec: CaseFile, step: Step, pressed: string): string {
  const [only, ...others] = step.by === 'either' ? [] : labelsOf(spec, step.by);
  return only !== undefined && others.length === 0 ? only : pressed;
}

function paceOf(step: Step, samples: readonly number[]): RecordedPace | null {
  const own = samples.length < OWN_PACE_COUNT_MIN ? null : spreadOf(samples);
  if (own === null) return null;
  const { count, medianMs } = own;
  const { medianMs: planned, p90Ms: slow } = step.pace;
  const p90Ms =
    count >= OWN_SPREAD_COUNT_MIN
      ? own.p90Ms
      : Math.round(medianMs * Math.max(1, slow.value / planned.value));
  return { step: step.id, medianMs, p90Ms, count };
}

/** What one record says about paces, whatever case is asked about. */
interface RecordedCase {
  readonly protocol: string;
  readonly spec: CaseFile;
  readonly samples: readonly Sample[];
  readonly changes: readonly ChangeOver[];
}

export function recordedCase(log: CaseLog): RecordedCase {
  const { protocol, spec } = log.state.opened;
  return { protocol: protocol.id, spec, samples: samplesOf(log), changes: changeOversOf(log) };
}

/** What the records of one protocol say of something, each with the case that it is of. */
const ofProtocol = <Item>(
  { id }: Protocol,
  cases: readonly RecordedCase[],
  say: (each: RecordedCase) => readonly Item[],
) =>
  cases
    .filter(({ protocol }) => protocol === id)
    .flatMap((each) => say(each).map((item) => ({ item, of: each.spec })));

/** Own paces of the people of a case at the steps of its protocol, where records are many enough. */
export function recordedPaces(
  spec: CaseFile,
  protocol: Protocol,
  cases: readonly RecordedCase[],
): readonly RecordedPace[] {
  const done = ofProtocol(protocol, cases, ({ samples }) => samples);
  return protocol.steps.flatMap((step) => {
    const labels = labelsOf(spec, step.by);
    const samples = done.flatMap(({ item: sample, of }) => {
      if (sample.step !== step.id) return [];
      const ms = labels.includes(doerOf(of, step, sample.person)) ? paceMs(step, sample) : null;
      return ms === null || ms <= 0 ? [] : [ms];
    });
    return paceOf(step, samples) ?? [];
  });
}

/** Own change-overs at the paced light steps of the protocol, where records are many enough. */
export function recordedChanges(
  spec: CaseFile,
  protocol: Protocol,
  cases: readonly RecordedCase[],
): readonly RecordedPace[] {
  const done = ofProtocol(protocol, cases, ({ changes }) => changes);
  return protocol.steps.flatMap((step) => {
    if (step.pressed?.kind !== 'paced') return [];
    const labels = labelsOf(spec, step.by);
    const tookMs = done.flatMap(({ item: { step: at, person, tookMs: ms }, of }) =>
      at === step.id && labels.includes(doerOf(of, step, person)) ? [ms] : [],
    );
    return paceOf(step, tookMs) ?? [];
  });
}

/** The newest patient cases that may have been done with this protocol. */
function newest(cases: readonly CaseSummary[]): readonly CaseSummary[] {
  return cases
    .filter((each) => each.mode === 'patient' && each.closedByPress !== null)
    .toSorted((a, b) => b.openedWallMs - a.openedWallMs)
    .slice(0, CASES_MAX);
}

/** Records that were read in this window, by case; one that grew since is read again. */
const read = new Map<string, { readonly head: string; readonly found: RecordedCase }>();

async function recordOf(
  session: Pick<Session, 'readCase'>,
  { caseId, head }: CaseSummary,
): Promise<RecordedCase | null> {
  const known = read.get(caseId);
  if (known?.head === head) return known.found;
  const answer = await session.readCase(caseId);
  if (!answer.ok) return null;
  const found = recordedCase(answer.value.log);
  read.set(caseId, { head, found });
  return found;
}

/** The case file with the paces that the records of this tablet give its people now. */
export async function withOwnPaces(
  session: Pick<Session, 'store' | 'readCase'>,
  spec: CaseFile,
): Promise<CaseFile> {
  const { cases, protocols } = session.store.getState();
  const protocol = protocols.find((p) => p.protocol.id === spec.protocol)?.protocol;
  const wanted = newest(cases);
  // Without records here, paces that came with the file stay.
  if (protocol === undefined || wanted.length === 0) return spec;
  const records: RecordedCase[] = [];
  for (const summary of wanted) {
    const record = await recordOf(session, summary);
    if (record !== null) records.push(record);
  }
  const paces = recordedPaces(spec, protocol, records);
  const changeOvers = recordedChanges(spec, protocol, records);
  const found = {
    ...(paces.length === 0 ? {} : { paces }),
    ...(changeOvers.length === 0 ? {} : { changeOvers }),
  };
  const next = { ...spec, ...found };
  return isSameJson(next, spec) ? spec : next;
}
