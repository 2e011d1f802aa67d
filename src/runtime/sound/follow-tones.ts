/**
 * Notes in the running case whether the tones of a pass of light are heard, and speaks its words. Comes
 * with the first case, so that the first load stays small.
 */
import type { Command } from '../../engine/commands.ts';
import { passWords } from '../../words/pass-words.ts';
import type { RunningCase } from '../app-state.ts';
import type { AppStore } from '../store.ts';
import { isPassLed, passTones, SOUND_SPEED_MAX } from './follow-sounds.ts';
import { isToldHeard } from './tones-heard.ts';

interface TonesParts {
  readonly store: AppStore;
  readonly do: (command: Command) => void;
  readonly wallNowMs: () => number;
  /** When this page was opened. */
  readonly sinceMs: number;
  readonly speech: {
    speak(words: string): void;
    hush(): void;
    setVolume(share: number): void;
  };
}

interface Tones {
  /** What has sounded to its end. */
  sounded(id: string): void;
}

/** Follows the store from now on. */
export function followTones(o: TonesParts): Tones {
  let noted: { readonly caseId: string; readonly heard: boolean } | null = null;
  let nobodyAtMs: number | null = null;
  let heardAtMs = o.store.getState().settings.heardAtMs;
  let wasLed = false;

  const hear = (running: RunningCase): void => {
    const { settings, tablet } = o.store.getState();
    const { state } = running.log;
    if (running.isViewOnly || state.closed !== null) return;
    const canBeHeard = tablet.sound.state === 'on' && running.speed <= SOUND_SPEED_MAX;
    const about = { log: running.log, settings, sinceMs: o.sinceMs, nobodyAtMs };
    const heard = canBeHeard && isToldHeard(about);
    const { caseId } = running;
    const before = noted?.caseId === caseId ? noted.heard : state.tonesHeard;
    noted = { caseId, heard };
    if (heard !== before) o.do({ do: 'note-tones', heard });
  };

  const follow = (): void => {
    const { running, settings } = o.store.getState();
    if (settings.heardAtMs !== heardAtMs) {
      nobodyAtMs = settings.heardAtMs === null ? o.wallNowMs() : null;
      heardAtMs = settings.heardAtMs;
    }
    if (running) hear(running);
    const isLed = running !== null && isPassLed(running) && running.view.pass?.isOver === false;
    // Words of a pass that was stopped are broken off.
    if (wasLed && !isLed && running?.view.pass?.isStopped !== false) o.speech.hush();
    wasLed = isLed;
  };
  follow();
  o.store.subscribe(follow);
  return {
    sounded(id) {
      const { running, settings } = o.store.getState();
      if (!running || !settings.spoken) return;
      const tone = passTones(running).find((each) => each.id === id);
      const words = tone === undefined ? null : passWords(running.log, tone);
      if (words === null) return;
      o.speech.setVolume(settings.volume);
      o.speech.speak(words);
    },
  };
}
