/**
 * Says the words of a sound aloud, when people want that. Only voices that live on the device are
 * used: a network voice would send the words of a case away, and would be silent without a network.
 */
import { createStore } from 'zustand/vanilla';
import type { Readable } from '../readable.ts';

type SpeechStatus = 'ready' | 'no-local-voice' | 'unsupported';

export interface VoiceLike {
  readonly lang: string;
  readonly localService: boolean;
  readonly default: boolean;
}

export interface UtteranceLike<V extends VoiceLike> {
  voice: V | null;
  lang: string;
  volume: number;
}

/** The part of speech synthesis that is used. */
interface SynthesisLike<V extends VoiceLike, U extends UtteranceLike<V>> {
  getVoices(): V[];
  speak(utterance: U): void;
  cancel(): void;
  addEventListener(type: 'voiceschanged', listener: () => void): void;
}

interface Speech {
  readonly status: Readable<SpeechStatus>;
  /** Says `words`; what is still being said is broken off, so that words are never stale. */
  speak(words: string): void;
  /** Falls silent. */
  hush(): void;
  /** Sets the level, from 0 to 1. */
  setVolume(share: number): void;
}

/**
 * Makes a {@link Speech}.
 *
 * @param options.lang BCP 47 tag; a voice of the same language is taken, of the same region first.
 */
export function createSpeech<V extends VoiceLike, U extends UtteranceLike<V>>(options: {
  readonly synthesis: SynthesisLike<V, U> | undefined;
  readonly makeUtterance: (words: string) => U;
  readonly lang: string;
}): Speech {
  const { synthesis, lang } = options;
  const status = createStore<SpeechStatus>(() => 'unsupported');
  let voice: V | undefined;
  let volume = 1;

  const choose = (): void => {
    if (synthesis === undefined) return;
    voice = bestVoice(synthesis.getVoices(), lang);
    status.setState(voice === undefined ? 'no-local-voice' : 'ready');
  };
  choose();
  // Voices are often listed late, some seconds after the page has loaded.
  synthesis?.addEventListener('voiceschanged', choose);

  return {
    status,
    speak(words) {
      if (synthesis === undefined || voice === undefined) return;
      synthesis.cancel();
      const utterance = options.makeUtterance(words);
      utterance.voice = voice;
      utterance.lang = voice.lang;
      utterance.volume = volume;
      synthesis.speak(utterance);
    },
    hush: () => synthesis?.cancel(),
    setVolume(share) {
      volume = Math.min(1, Math.max(0, share));
    },
  };
}

/** A voice on the device in the language of `lang`: same region first, then the default one. */
function bestVoice<V extends VoiceLike>(voices: readonly V[], lang: string): V | undefined {
  const wanted = lang.toLowerCase();
  // Some systems write the tag with an underscore.
  const tag = (voice: V): string => voice.lang.toLowerCase().replace('_', '-');
  const language = wanted.split('-')[0] ?? wanted;
  const local = voices.filter(
    (voice) => voice.localService && tag(voice).split('-')[0] === language,
  );
  const merit = (voice: V): number => (tag(voice) === wanted ? 2 : 0) + (voice.default ? 1 : 0);
  return [...local].sort((a, b) => merit(b) - merit(a))[0];
}
