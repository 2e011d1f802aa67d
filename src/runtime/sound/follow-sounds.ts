/** Sets the sounds of the running case ahead on the audio clock. Times in real ms. */
import type { CaseState } from '../../engine/types.ts';
import type { Cue } from '../../engine/view-types.ts';
import type { PassTone } from '../../words/pass-words.ts';
import type { RunningCase } from '../app-state.ts';
import type { TimerHost } from '../device/timer-host.ts';
import type { SoundPlayer } from './audio.ts';
import type { SoundRequest } from './sound-queue.ts';

/** Above this speed of a rehearsal sounds would only queue up behind one another. */
export const SOUND_SPEED_MAX = 10;
/** A due that passed longer ago than this is on the screen; it is not sounded late. */
const LATE_MS_MAX = 3_000;
/** A tone of a pass that comes later than this would say another thing than the clock. */
const TONE_LATE_MS_MAX = 900;

/**
 * Where nothing was pressed, no sound changes its instant; they are only gone through so often, in ms, and a
 * little after the picture, which is to be painted first.
 */
const SOUNDS_EVERY_MS = 1000;
const SOUNDS_AFTER_MS = 60;

/** The sounds of a picture that is `ageMs` old: what is to come, and what stands unseen. In real ms. */
function soundsOf(running: RunningCase, ageMs: number): SoundRequest[] {
  if (running.speed > SOUND_SPEED_MAX || running.isViewOnly) return [];
  const tones = passTones(running).map(({ id, kind, dueInMs }) => ({
    id,
    kind,
    inMs: dueInMs / running.speed - ageMs,
    lateMsMax: TONE_LATE_MS_MAX,
  }));
  const cues = running.view.cues
    .filter((cue) => !cue.acknowledged && cue.dueInMs > -LATE_MS_MAX)
    .map((cue) => ({
      id: soundId(cue, running.log.state),
      kind: cue.kind,
      inMs: cue.dueInMs / running.speed - ageMs,
    }));
  return [...tones, ...cues];
}

interface Tone extends PassTone {
  readonly id: string;
  readonly kind: 'nearing' | 'now';
  readonly dueInMs: number;
}

/** Whether tones lead over a pass in this window, and have since it was opened: a reload has stopped it. */
export function isPassLed({ view: { pass }, log, now }: Pictured): boolean {
  return pass?.isStopped === false && now.runId === log.state.anchor.stamp.runId;
}

type Pictured = Pick<RunningCase, 'view' | 'log' | 'now'>;

/** The light goes on at each place with "now"; it leaves one with "nearing", the last one with "now". */
export function passTones(running: Pictured): Tone[] {
  const places = isPassLed(running) ? (running.view.pass?.places ?? []) : [];
  const { id: caseId } = running.log.state.opened.spec;
  return places.flatMap((place, i): Tone[] => {
    const next = places[i + 1] ?? null;
    const id = `${caseId} pass ${place.subject} ${place.surface} ${place.position} ${place.nth}`;
    const kind = next === null ? 'now' : 'nearing';
    return [
      { id: `${id} start`, at: 'start', next: null, kind: 'now', dueInMs: place.startsInMs },
      { id: `${id} end`, at: 'end', next, kind, dueInMs: place.endsInMs },
    ];
  });
}

/** The same cue of another opening of the case is another sound. */
export const soundId = (cue: Cue, state: CaseState): string => `${state.opened.spec.id} ${cue.id}`;

/** What setting sounds needs. */
export interface SoundParts {
  readonly sound: Pick<SoundPlayer, 'schedule'>;
  readonly timers: TimerHost;
  readonly realNowMs: () => number;
}

/** What is to be told of every new picture. */
export function followSounds(o: SoundParts): (running: RunningCase | null) => void {
  let last: RunningCase | null = null;
  let setAtMs = Number.NEGATIVE_INFINITY;
  const set = (): void => {
    setAtMs = o.realNowMs();
    const ageMs = setAtMs - (last?.madeAtRealMs ?? setAtMs);
    o.sound.schedule(last ? soundsOf(last, ageMs) : []);
  };
  return (running) => {
    const isSame =
      running?.log.state === last?.log.state &&
      running?.speed === last?.speed &&
      running?.isViewOnly === last?.isViewOnly;
    last = running;
    if (!isSame) {
      set();
      return;
    }
    if (o.realNowMs() - setAtMs < SOUNDS_EVERY_MS) return;
    setAtMs = o.realNowMs();
    o.timers.after(SOUNDS_AFTER_MS, set);
  };
}
