/**
 * Passes of light as a record tells them: when each was begun, stopped and gone on with, what it led over,
 * and who confirmed which of it. What nobody confirmed counts for nothing and is told as that.
 */
import { placeId } from '../engine/light-pass.ts';
import type { PassPlace } from '../engine/pressing-types.ts';
import type { CaseEvent, CaseInstant, InstanceKey, Recorded } from '../engine/types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { instantFact, type RecordFrame } from './record-frame.ts';
import type { PassFact, PassPlaceFact, RecordFacts } from './record-types.ts';

type Begun = Extract<CaseEvent, { type: 'light-pass-begun' }>;
type Confirmed = Extract<CaseEvent, { type: 'light-pass-confirmed' }>;
type Turn = PassFact['turns'][number];

/** A pass as far as it has been read. */
interface Reading {
  readonly step: string;
  readonly changeMs: number;
  readonly turns: readonly Turn[];
  readonly places: readonly { readonly place: PassPlace; readonly state: PassPlaceFact['state'] }[];
  readonly confirmed: PassFact['confirmed'];
  /** When its last tone comes, in ms on the axis. */
  readonly endsMs: number;
  /** Nothing more can come to it. */
  readonly isOver: boolean;
}

function turnAt(
  frame: RecordFrame,
  o: { kind: Turn['kind']; at: CaseInstant | undefined; press: number | null },
): Turn[] {
  if (o.at === undefined) return [];
  const pressed = o.press === null ? null : frame.presses.pressed(o.press);
  return [{ kind: o.kind, at: instantFact(frame, o.at), pressed }];
}

const isRunning = ({ turns }: Reading): boolean => turns.at(-1)?.kind !== 'stopped';

/** Goes on with what was left, or is a pass of its own. */
function withBegun(
  frame: RecordFrame,
  last: Reading | undefined,
  { event, press }: { readonly event: Begun; readonly press: number },
): readonly Reading[] {
  const { step, changeMs, places } = event;
  const at = frame.moments.get(press);
  const longMs = Math.max(0, ...places.map(({ fromMs, setMs }) => fromMs + setMs));
  const endsMs = (at?.loMs ?? 0) + longMs;
  const known = new Set(last?.places.map(({ place }) => placeId(place)));
  const isOn = last?.step === step && !last.isOver && places.every((p) => known.has(placeId(p)));
  if (last !== undefined && isOn) {
    const turns = [...last.turns, ...turnAt(frame, { kind: 'resumed', at, press })];
    return [{ ...last, turns, endsMs }];
  }
  const begun: Reading = {
    step,
    changeMs,
    turns: turnAt(frame, { kind: 'begun', at, press }),
    places: places.map((place) => ({ place, state: 'open' })),
    confirmed: null,
    endsMs,
    isOver: false,
  };
  return last === undefined ? [begun] : [{ ...last, isOver: true }, begun];
}

function withConfirmed(
  frame: RecordFrame,
  last: Reading,
  { event, press }: { readonly event: Confirmed; readonly press: number },
): Reading {
  const given = new Set(event.places.map(placeId));
  const by = event.impliedBy;
  const impliedBy = by === undefined ? null : { step: by, title: frame.steps.get(by)?.title ?? by };
  return {
    ...last,
    isOver: true,
    confirmed: { pressed: frame.presses.pressed(press), impliedBy },
    places: last.places.map(({ place, state }) => ({
      place,
      state: state === 'open' ? (given.has(placeId(place)) ? 'confirmed' : 'left-out') : state,
    })),
  };
}

const subjectOf = (key: InstanceKey): SubjectId => key.slice(key.indexOf('@') + 1);

/** What was skipped, or no longer counts, is not confirmed any more. */
function without(frame: RecordFrame, last: Reading, subjects: readonly SubjectId[]): Reading {
  const per = frame.steps.get(last.step)?.per;
  const own = subjects.filter((subject) => subject !== 'case');
  const gone = new Set(per && own.flatMap((s) => frame.layout.subjects.linked(s, per)));
  const isGone = ({ subject }: PassPlace) => gone.has(subject);
  return { ...last, isOver: last.places.every(({ place }) => isGone(place)) };
}

function read(frame: RecordFrame, last: Reading | undefined, r: Recorded): readonly Reading[] {
  const { event, press } = r;
  if (event.type === 'light-pass-begun') return withBegun(frame, last, { event, press });
  if (last === undefined || last.isOver) return last === undefined ? [] : [last];
  switch (event.type) {
    case 'light-pass-stopped': {
      const at = frame.moments.get(press);
      return [
        { ...last, turns: [...last.turns, ...turnAt(frame, { kind: 'stopped', at, press })] },
      ];
    }
    case 'light-pass-confirmed':
      return [withConfirmed(frame, last, { event, press })];
    case 'gap-found': {
      const at = frame.state.gaps.find(({ seq }) => seq === r.seq)?.at;
      const isCut = isRunning(last) && at !== undefined && at.loMs < last.endsMs;
      const turns = isCut ? turnAt(frame, { kind: 'stopped', at, press: null }) : [];
      return [{ ...last, turns: [...last.turns, ...turns] }];
    }
    case 'step-skipped':
      return event.step === last.step ? [without(frame, last, event.subjects)] : [last];
    case 'way-back-taken':
      return [without(frame, last, event.voided.map(subjectOf))];
    default:
      return [last];
  }
}

/** Every pass that was begun, oldest first. */
export function passFacts(frame: RecordFrame): readonly PassFact[] {
  const readings = frame.source.log.records
    .filter((r) => frame.presses.counts(r.press))
    .reduce<readonly Reading[]>(
      (all, r) => [...all.slice(0, -1), ...read(frame, all.at(-1), r)],
      [],
    );
  return readings.map(({ step, changeMs, turns, places, confirmed }) => ({
    step,
    title: frame.steps.get(step)?.title ?? step,
    changeMs,
    turns,
    places: places.map(({ place: { subject, surface, position, setMs }, state }) => ({
      subject,
      teeth: frame.teethOf(subject),
      surface,
      position,
      setMs,
      state,
    })),
    confirmed,
  }));
}

/** When tones were said to be heard, and when not. */
export function tonesFacts(frame: RecordFrame): RecordFacts['tones'] {
  return frame.source.log.records.flatMap(({ event, press }) =>
    event.type === 'tones-heard' && frame.presses.counts(press)
      ? [{ heard: event.heard, pressed: frame.presses.pressed(press) }]
      : [],
  );
}
