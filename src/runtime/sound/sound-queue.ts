/**
 * Keeps the sounds that are wanted in step with the sounds that are set on the audio clock. What is
 * wanted is held in real time; the audio clock is only asked when places are given, because it stops
 * while a tablet interrupts it.
 */
import type { SoundKind } from '../../words/codes.ts';
import { AudioAhead } from './audio-ahead.ts';
import type { Voice } from './pulse-voice.ts';
import { patternLengthMs, soundPattern } from './sound-patterns.ts';
import { type PlacedSound, placeSounds, SILENCE_BETWEEN_MS } from './sound-plan.ts';

/** A sound that shall come `inMs` from now in real time; negative when it is late. */
export interface SoundRequest {
  readonly id: string;
  readonly kind: SoundKind;
  readonly inMs: number;
  /**
   * True: it comes again after the silence its pattern states, until it is asked for without this
   * or not at all. For alarms that nobody has acknowledged.
   */
  readonly isRepeated?: boolean;
  /** Later than this it says nothing that is true any more, and does not come. */
  readonly lateMsMax?: number;
}

/** A pattern that has sounded to its end. */
export interface Sounded {
  readonly id: string;
  readonly kind: SoundKind;
  /** How long after its due instant it began: it waited its turn, or for the loudspeaker. */
  readonly lateMs: number;
}

/** A running audio clock and a way to draw on it. Instants in ms. */
export interface SoundStage {
  audioNowMs(): number;
  draw(kind: SoundKind, atAudioMs: number): Voice;
}

/** Sounds further ahead than this are set later, so that no thousand nodes wait for tomorrow. */
const AHEAD_MS = 10 * 60_000;
/** The audio thread needs this much notice, in ms. */
const NOTICE_MS = 10;
/** A sound is moved when it would be off by more than this. */
const MOVE_MS = 5;
/** One that is about to begin stays unless it is off by more than this: moving it would make it late. */
const MOVE_LATE_MS = 40;
/** Too near to its beginning to be moved by little, in ms. */
const ABOUT_MS = 30;
/** A browser may report the end of a sound a little before the audio clock shows it, in ms. */
const END_EARLY_MS = 20;
/** The same sound with a due instant later by more than this is a new occurrence. */
const NEW_OCCURRENCE_MS = 250;
const HEARD_KEPT = 500;

interface Want {
  readonly id: string;
  readonly kind: SoundKind;
  readonly dueRealMs: number;
  readonly isRepeated: boolean;
  readonly lateMsMax?: number;
}

interface Drawn extends PlacedSound {
  readonly want: Want;
  readonly lateMs: number;
  readonly voice: Voice;
}

export class SoundQueue {
  readonly #realNowMs: () => number;
  readonly #onSounded: (sounded: Sounded) => void;
  #stage: SoundStage | undefined;
  #wants: readonly Want[] = [];
  /** Sounds asked for by hand; the next list of cues does not replace them. */
  #extras: readonly Want[] = [];
  #drawn: readonly Drawn[] = [];
  /** What ended last: the silence after it is kept too. */
  #lastEnded: readonly PlacedSound[] = [];
  #ahead = new AudioAhead();
  /** When each sound was last begun, in real time. */
  readonly #heardAtMs = new Map<string, number>();

  constructor(options: {
    readonly realNowMs: () => number;
    readonly onSounded: (sounded: Sounded) => void;
  }) {
    this.#realNowMs = options.realNowMs;
    this.#onSounded = options.onSounded;
  }

  /** Replaces what is wanted. A pattern that already sounds goes on to its end. */
  want(requests: readonly SoundRequest[]): void {
    const now = this.#realNowMs();
    this.#wants = requests.map(({ inMs, isRepeated = false, ...request }) => ({
      ...request,
      dueRealMs: now + inMs,
      isRepeated,
    }));
    this.refresh();
  }

  /** Adds one sound, due now, that stays wanted until it has sounded. */
  add(request: { readonly id: string; readonly kind: SoundKind }): void {
    const want = { ...request, dueRealMs: this.#realNowMs(), isRepeated: false };
    this.#extras = [...this.#extras, want];
    this.refresh();
  }

  /**
   * Changes the stage. What was drawn on the former one and has not ended is wanted again;
   * undefined while there is none that runs.
   */
  setStage(stage: SoundStage | undefined): void {
    if (stage === this.#stage) return;
    for (const drawn of this.#drawn) drawn.voice.cut();
    this.#drawn = [];
    this.#lastEnded = [];
    this.#stage = stage;
    this.#ahead = new AudioAhead();
    this.refresh();
  }

  /** Cuts what sounds now and counts it as heard. */
  hush(): void {
    const now = this.#stage?.audioNowMs();
    if (now === undefined) return;
    const sounding = this.#drawn.filter((drawn) => drawn.startMs <= now);
    this.#drawn = this.#drawn.filter((drawn) => drawn.startMs > now);
    for (const drawn of sounding) {
      drawn.voice.cut();
      this.#finish(drawn);
    }
    this.refresh();
  }

  /** Gives every wanted sound its place again. Cheap when nothing has changed. */
  refresh(): void {
    const stage = this.#stage;
    if (stage === undefined) return;
    const now = stage.audioNowMs();
    this.#dropEnded(now);
    const audioAheadMs = this.#ahead.read(now - this.#realNowMs());
    this.#giveWay(now, audioAheadMs);
    const isTrue = (want: Want): boolean =>
      want.lateMsMax === undefined || now <= want.dueRealMs + audioAheadMs + want.lateMsMax;
    this.#extras = this.#extras.filter(isTrue);
    this.#wants = this.#wants.filter(isTrue);
    const fixed = this.#drawn.filter((drawn) => drawn.startMs <= now);
    const pending = this.#pendingWants(fixed).filter(
      (want) => want.dueRealMs + audioAheadMs < now + AHEAD_MS,
    );
    const places = placeSounds(
      pending.map((want) => ({
        id: want.id,
        dueMs: want.dueRealMs + audioAheadMs,
        lengthMs: patternLengthMs(soundPattern(want.kind)),
        rank: soundPattern(want.kind).rank,
      })),
      { notBeforeMs: now + NOTICE_MS, fixed: [...this.#lastEnded, ...fixed] },
    );
    const wantOf = new Map(pending.map((want) => [want.id, want]));
    const kept = this.#keepOrDraw(stage, { places, wantOf, audioAheadMs, now });
    this.#drawn = [...fixed, ...kept];
  }

  #keepOrDraw(
    stage: SoundStage,
    plan: {
      readonly places: readonly PlacedSound[];
      readonly wantOf: ReadonlyMap<string, Want>;
      readonly audioAheadMs: number;
      readonly now: number;
    },
  ): readonly Drawn[] {
    const waiting = new Map(
      this.#drawn.filter((drawn) => drawn.startMs > plan.now).map((drawn) => [drawn.id, drawn]),
    );
    const kept: Drawn[] = [];
    for (const place of plan.places) {
      const want = plan.wantOf.get(place.id);
      if (want === undefined) continue;
      const lateMs = place.startMs - (want.dueRealMs + plan.audioAheadMs);
      if (lateMs > (want.lateMsMax ?? Number.POSITIVE_INFINITY)) continue;
      const old = waiting.get(place.id);
      const isAbout = old !== undefined && old.startMs - plan.now <= ABOUT_MS;
      const mayBeOffMs = isAbout ? MOVE_LATE_MS : MOVE_MS;
      const stays =
        old?.want.kind === want.kind && Math.abs(old.startMs - place.startMs) <= mayBeOffMs;
      if (old !== undefined && stays) {
        waiting.delete(place.id);
        kept.push({ ...old, want, lateMs: lateMs + old.startMs - place.startMs });
        continue;
      }
      kept.push({ ...place, want, lateMs, voice: stage.draw(want.kind, place.startMs) });
    }
    for (const gone of waiting.values()) gone.voice.cut();
    return kept;
  }

  #dropEnded(now: number): void {
    const ended = this.#drawn.filter((drawn) => drawn.endMs <= now + END_EARLY_MS);
    this.#drawn = this.#drawn.filter((drawn) => drawn.endMs > now + END_EARLY_MS);
    if (ended.length > 0) this.#lastEnded = ended.slice(-1);
    for (const drawn of ended) this.#finish(drawn);
  }

  /** A sounding pattern gives way to a more urgent one that is due before it ends. */
  #giveWay(now: number, audioAheadMs: number): void {
    const sounding = this.#drawn.find((drawn) => drawn.startMs <= now);
    if (sounding === undefined) return;
    const rank = soundPattern(sounding.want.kind).rank;
    const mustYield = this.#pendingWants([sounding]).some(
      (want) =>
        soundPattern(want.kind).rank > rank &&
        want.dueRealMs + audioAheadMs < sounding.endMs + SILENCE_BETWEEN_MS,
    );
    if (!mustYield) return;
    sounding.voice.cut();
    this.#drawn = this.#drawn.filter((drawn) => drawn !== sounding);
    // The list may no longer name it; it is still owed.
    this.#extras = [...this.#extras.filter((want) => want.id !== sounding.id), sounding.want];
  }

  #pendingWants(sounding: readonly Drawn[]): readonly Want[] {
    const soundingIds = new Set(sounding.map((drawn) => drawn.id));
    const byId = new Map([...this.#extras, ...this.#wants].map((want) => [want.id, want]));
    return [...byId.values()].flatMap((want) => {
      if (soundingIds.has(want.id)) return [];
      const heardAtMs = this.#heardAtMs.get(want.id);
      if (heardAtMs === undefined || want.dueRealMs > heardAtMs + NEW_OCCURRENCE_MS) return [want];
      const againMs = soundPattern(want.kind).repeatAfterMs;
      if (!want.isRepeated || againMs === null) return [];
      const lengthMs = patternLengthMs(soundPattern(want.kind));
      return [{ ...want, dueRealMs: heardAtMs + lengthMs + againMs }];
    });
  }

  #finish(drawn: Drawn): void {
    this.#heardAtMs.delete(drawn.id);
    this.#heardAtMs.set(drawn.id, drawn.want.dueRealMs + drawn.lateMs);
    this.#extras = this.#extras.filter((want) => want.id !== drawn.id);
    for (const oldest of this.#heardAtMs.keys()) {
      if (this.#heardAtMs.size <= HEARD_KEPT) break;
      this.#heardAtMs.delete(oldest);
    }
    this.#onSounded({ id: drawn.id, kind: drawn.want.kind, lateMs: drawn.lateMs });
  }
}
