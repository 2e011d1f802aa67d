/**
 * Keeps the browser's own offer to install the app until a person asks for it: an installed app is
 * kept longer than a tab. Some browsers never make the offer; people then use the browser's menu.
 */
import { createStore } from 'zustand/vanilla';
import type { Readable } from '../readable.ts';

export interface InstallOffer {
  /** Whether {@link InstallOffer.install} would ask. */
  readonly canInstall: Readable<boolean>;
  /** Lets the browser ask. To be called from a touch; an offer can be used once. */
  install(): Promise<void>;
}

/** Listens on `window` for the offer (`beforeinstallprompt`) and for its end (`appinstalled`). */
export function createInstallOffer(window: EventTarget): InstallOffer {
  const canInstall = createStore<boolean>(() => false);
  let ask: (() => Promise<unknown>) | null = null;
  const set = (next: typeof ask): void => {
    ask = next;
    canInstall.setState(next !== null);
  };
  window.addEventListener('beforeinstallprompt', (event) => {
    if (!('prompt' in event) || typeof event.prompt !== 'function') return;
    const prompt = event.prompt.bind(event);
    // Else the browser shows its own line at a moment of its own, over the chair perhaps.
    event.preventDefault();
    set(async () => prompt());
  });
  window.addEventListener('appinstalled', () => set(null));
  return {
    canInstall,
    async install() {
      const asked = ask;
      set(null);
      await asked?.();
    },
  };
}
