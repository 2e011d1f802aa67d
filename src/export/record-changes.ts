/** What was not kept, what was changed and what was written: facts in the order of the log. */
import { unreachable } from '../base/assert.ts';
import type { Recorded } from '../engine/types.ts';
import { instantFact, knownMs, lengthFact, type RecordFrame } from './record-frame.ts';
import type {
  BreachFact,
  CorrectionFact,
  GapFact,
  NoteFact,
  RecordFacts,
  WayBackFact,
} from './record-types.ts';

export function breachFacts(frame: RecordFrame): BreachFact[] {
  const windows = new Map(frame.protocol.windows.map((w) => [w.id, w]));
  return frame.state.breaches.map(({ kind, what, of, subject, by, perhaps, at, press, nth }) => ({
    kind,
    what,
    of,
    title: (what === 'step' ? frame.steps : windows).get(of)?.title ?? of,
    subject,
    teeth: frame.teethOf(subject),
    by: knownMs(by),
    perhaps: perhaps ?? false,
    at: instantFact(frame, at),
    press,
    ...(nth === undefined ? {} : { nth }),
  }));
}

export function wayBackFacts(frame: RecordFrame): WayBackFact[] {
  const { state, protocol, presses } = frame;
  return state.waysBack.map(({ wayBack, mishap, subjects, reason, press }) => ({
    wayBack,
    title: protocol.waysBack.find((w) => w.id === wayBack)?.title ?? null,
    mishap,
    subjects,
    reason,
    voided: state.voided.filter((v) => v.press === press).map((v) => v.key),
    pressed: presses.pressed(press),
  }));
}

function correctionOf(frame: RecordFrame, { event, press }: Recorded): CorrectionFact[] {
  const { presses } = frame;
  const base = { isInForce: presses.counts(press), pressed: presses.pressed(press) };
  switch (event.type) {
    case 'press-retracted': {
      const of = presses.pressed(event.press);
      return [{ kind: 'taken-back', of, was: presses.was(event.press), ...base }];
    }
    case 'press-retimed': {
      const of = presses.pressed(event.press);
      const { byMs } = event;
      return [{ kind: 'moved', of, was: presses.was(event.press), byMs, ...base }];
    }
    case 'gap-settled': {
      const { gap, lengthMs } = event;
      return [{ kind: 'gap-settled', gap, lengthMs, ...base }];
    }
    case 'plan-changed':
      return [{ kind: 'plan-changed', reason: event.reason, ...base }];
    case 'mix-added': {
      const { units, reason } = event;
      return [{ kind: 'mix-added', units, reason, ...base }];
    }
    case 'case-opened':
    case 'step-confirmed':
    case 'step-started':
    case 'step-ended':
    case 'coat-applied':
    case 'pass-made':
    case 'option-chosen':
    case 'exposure-started':
    case 'exposure-stopped':
    case 'light-pass-begun':
    case 'light-pass-stopped':
    case 'light-pass-confirmed':
    case 'tones-heard':
    case 'step-skipped':
    case 'way-back-taken':
    case 'bead-probed':
    case 'material-named':
    case 'shade-tried':
    case 'emergency-noted':
    case 'anaesthesia-given':
    case 'gap-found':
    case 'cue-acknowledged':
    case 'note-added':
    case 'numbering-changed':
    case 'visit-stopped':
    case 'role-taken':
    case 'pen-given':
    case 'pen-taken':
    case 'case-closed':
      return [];
    default:
      return unreachable(event);
  }
}

/** Corrections as corrections, those that were taken back themselves among them. */
export function correctionFacts(frame: RecordFrame): CorrectionFact[] {
  return frame.source.log.records.flatMap((r) => correctionOf(frame, r));
}

export function gapFacts(frame: RecordFrame): GapFact[] {
  return frame.state.gaps.map(({ seq, cause, at, loMs, hiMs, settled, untrusted }) => ({
    seq,
    cause,
    at: instantFact(frame, at),
    length: lengthFact({ loMs, hiMs }),
    isSettled: settled,
    isUntrusted: untrusted,
  }));
}

/** Records that still count, in order. */
function counted(frame: RecordFrame): Recorded[] {
  return frame.source.log.records.filter((r) => frame.presses.counts(r.press));
}

/** The state keeps the notes of the counted records in their order. */
export function noteFacts(frame: RecordFrame): NoteFact[] {
  const records = counted(frame);
  const closedAt = records.findLast((r) => r.event.type === 'case-closed')?.seq;
  const written = records.filter((r) => r.event.type === 'note-added');
  return frame.state.notes.flatMap(({ words, at }, n) => {
    const record = written[n];
    if (!record) return [];
    return [
      {
        words,
        about: record.event.type === 'note-added' ? (record.event.about ?? null) : null,
        at: instantFact(frame, at),
        pressed: frame.presses.pressed(record.press),
        isLate: closedAt !== undefined && record.seq > closedAt,
      },
    ];
  });
}

export function cueFacts(frame: RecordFrame): RecordFacts['cuesAcknowledged'] {
  return counted(frame).flatMap(({ event, press }) =>
    event.type === 'cue-acknowledged'
      ? [{ cue: event.cue, pressed: frame.presses.pressed(press) }]
      : [],
  );
}

export function roleFacts(frame: RecordFrame): RecordFacts['rolesTaken'] {
  const { people } = frame.spec;
  return counted(frame).flatMap(({ event, press }) => {
    if (event.type !== 'role-taken') return [];
    const person = people.find((p) => p.id === event.person)?.label ?? event.person;
    return [{ role: event.role, person, pressed: frame.presses.pressed(press) }];
  });
}

export function signOffFact(frame: RecordFrame): RecordFacts['signOff'] {
  const { closed } = frame.state;
  if (!closed) return null;
  const record = counted(frame).findLast((r) => r.event.type === 'case-closed');
  return {
    by: closed.by,
    label: frame.spec.people.find((p) => p.id === closed.by)?.label ?? closed.by,
    role: closed.role,
    at: instantFact(frame, closed.at),
    pressed: record ? frame.presses.pressed(record.press) : null,
  };
}
