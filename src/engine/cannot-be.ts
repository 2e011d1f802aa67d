/**
 * What a log tells that cannot have happened as it stands, although every entry follows from the one before
 * by its hash: an end without a start, something done twice, a clock that only runs forward and went back.
 * Corrections are read as everywhere: a press that was taken back says nothing. Pure.
 */
import { instanceKey } from './layout.ts';
import { type CaseLog, eachKept } from './log.ts';
import type { CaseEvent, CaseState, Recorded, StepRun } from './types.ts';

/** One entry by its number, what would fit there, and what it says. */
export interface CannotBe {
  readonly seq: number;
  /** The member of the entry that does not fit. */
  readonly at: 'event' | 'stamp.monoMs';
  readonly code: 'end-without-start' | 'done-twice' | 'clock-runs-back';
  readonly expected: string;
  readonly came: string;
}

type Told = Omit<CannotBe, 'seq'>;

const isBegun = (run: StepRun | undefined): boolean =>
  run !== undefined && run.status === 'running' && run.startedAt !== null;

const isOver = (run: StepRun | undefined): boolean => run !== undefined && run.status !== 'running';

const noStart = (expected: string, came: string): Told => ({
  ...{ at: 'event', code: 'end-without-start' },
  ...{ expected, came },
});

function ofSubjects(
  state: CaseState,
  event: Extract<
    CaseEvent,
    { type: 'step-started' | 'step-confirmed' | 'step-ended' | 'option-chosen' }
  >,
): Told | null {
  const { step, subjects, type } = event;
  const runs = subjects.map((subject) => ({
    name: `${step} on ${subject}`,
    run: state.runs[instanceKey(step, subject)],
  }));
  const twice = runs.find(({ run }) => isOver(run) || (type === 'step-started' && isBegun(run)));
  if (twice !== undefined) {
    const came = `${type}, though it was ${twice.run?.status ?? 'done'} before`;
    return { at: 'event', code: 'done-twice', expected: `${twice.name} to be done once`, came };
  }
  const loose = type === 'step-ended' ? runs.find(({ run }) => !isBegun(run)) : undefined;
  return loose === undefined ? null : noStart(`a start of ${loose.name} before its end`, type);
}

/** What this event says of the state that it met, where that cannot be. */
function ofEvent(state: CaseState, event: CaseEvent): Told | null {
  switch (event.type) {
    case 'step-started':
    case 'step-confirmed':
    case 'step-ended':
    case 'option-chosen':
      return ofSubjects(state, event);
    case 'exposure-stopped': {
      const { step, subject, surface, position } = event;
      const lit = state.runs[instanceKey(step, subject)]?.lit;
      const isLit = lit?.surface === surface && lit.position === position;
      return isLit ? null : noStart(`light on ${subject} before it goes off`, event.type);
    }
    case 'light-pass-stopped':
    case 'light-pass-confirmed': {
      const pass = state.lightPass?.step === event.step ? state.lightPass : null;
      const isThere =
        pass !== null && (event.type === 'light-pass-confirmed' || pass.running !== null);
      return isThere
        ? null
        : noStart(`a pass of light of ${event.step} before its end`, event.type);
    }
    default:
      return null;
  }
}

/** The monotonic clock of one run of the browser never goes back. */
function clocksBack(records: readonly Recorded[]): CannotBe[] {
  const latest = new Map<string, number>();
  return records.flatMap(({ seq, stamp }): CannotBe[] => {
    const { runId, monoMs } = stamp;
    const before = latest.get(runId) ?? monoMs;
    latest.set(runId, Math.max(before, monoMs));
    if (monoMs >= before) return [];
    const expected = `at least ${before}, as its clock said before`;
    return [{ seq, at: 'stamp.monoMs', code: 'clock-runs-back', expected, came: String(monoMs) }];
  });
}

/** What was found, in the order of the entries. */
export function cannotBe(log: CaseLog): readonly CannotBe[] {
  const found = clocksBack(log.records);
  eachKept(log.records, (state, { seq, event }) => {
    const told = ofEvent(state, event);
    if (told !== null) found.push({ seq, ...told });
  });
  return found.toSorted((a, b) => a.seq - b.seq);
}
