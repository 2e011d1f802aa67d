/** What a record tells beside the steps: emergencies, anaesthesia, and what was counted in and out. */
import { countsOf } from '../engine/counts.ts';
import type { CaseEvent, CaseInstant, Recorded } from '../engine/types.ts';
import type { AsideFacts, CountFact, EmergencyFact, InjectionFact } from './record-aside-types.ts';
import { instantFact, type RecordFrame } from './record-frame.ts';

/** The state keeps them in the order of the records that still count. */
function told<Kept extends { readonly at: CaseInstant }>(
  frame: RecordFrame,
  o: { readonly type: CaseEvent['type']; readonly kept: readonly Kept[] },
): readonly { readonly kept: Kept; readonly record: Recorded }[] {
  const records = frame.source.log.records.filter(
    (r) => r.event.type === o.type && frame.presses.counts(r.press),
  );
  return o.kept.flatMap((kept, n) => {
    const record = records[n];
    return record === undefined ? [] : [{ kept, record }];
  });
}

function emergencyFacts(frame: RecordFrame): EmergencyFact[] {
  const { emergencies } = frame.state;
  return told(frame, { type: 'emergency-noted', kept: emergencies }).map(({ kept, record }) => ({
    card: kept.card,
    act: kept.act,
    line: kept.line ?? null,
    at: instantFact(frame, kept.at),
    pressed: frame.presses.pressed(record.press),
  }));
}

function injectionFacts(frame: RecordFrame): InjectionFact[] {
  const { injections } = frame.state;
  return told(frame, { type: 'anaesthesia-given', kept: injections }).map(({ kept, record }) => ({
    agent: kept.agent,
    technique: kept.technique,
    teeth: kept.teeth,
    ml: kept.ml ?? null,
    at: instantFact(frame, kept.at),
    pressed: frame.presses.pressed(record.press),
  }));
}

function countFacts({ state }: RecordFrame): CountFact[] {
  return countsOf(state).map(({ step, label, subject, in: into, out, isOut, isEven }) => ({
    step: step.id,
    title: label,
    subject,
    in: into,
    out,
    isOut,
    isEven,
  }));
}

/** Only the parts in which there is something to tell. */
export function asideFacts(frame: RecordFrame): AsideFacts {
  const emergencies = emergencyFacts(frame);
  const anaesthesia = injectionFacts(frame);
  const counts = countFacts(frame);
  return {
    ...(emergencies.length > 0 ? { emergencies } : {}),
    ...(anaesthesia.length > 0 ? { anaesthesia } : {}),
    ...(counts.length > 0 ? { counts } : {}),
  };
}
