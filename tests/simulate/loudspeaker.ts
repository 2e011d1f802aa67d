/** The loudspeaker of a page: an audio context whose clock follows the page's, until it stalls. */
import type { AudioContextLike } from '../../src/runtime/sound/audio-context.ts';
import { type FakeAudio, fakeAudio } from '../runtime/fake-audio.ts';

export class Loudspeaker {
  readonly #nowMs: () => number;
  #audio: FakeAudio = fakeAudio('running');
  #lastMs = 0;
  /** Since when it has stood still, by the page's clock; null while it runs. */
  stalledSinceMs: number | null = null;

  constructor(nowMs: () => number) {
    this.#nowMs = nowMs;
  }

  /** A new context runs, whatever became of the one before. */
  create(): AudioContextLike {
    const audio = fakeAudio('running');
    this.#audio = audio;
    this.#lastMs = this.#nowMs();
    this.stalledSinceMs = null;
    return Object.create(audio, {
      currentTime: {
        get: () => {
          if (audio === this.#audio) this.#catchUp();
          return audio.currentTime;
        },
      },
    });
  }

  #catchUp(): void {
    const nowMs = this.#nowMs();
    this.#audio.run(nowMs - this.#lastMs);
    this.#lastMs = nowMs;
  }

  /** It goes on saying that it runs, and its clock stands still. */
  stall(): void {
    this.#catchUp();
    this.#audio.isStalled = true;
    this.stalledSinceMs ??= this.#nowMs();
  }
}
