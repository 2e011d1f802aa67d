import type { WakeCause, watchVisibility } from '../../src/runtime/device/visibility.ts';

/** A page whose visibility the test decides. */
export function fakePage(): {
  readonly page: Parameters<typeof watchVisibility>[0];
  hide(): void;
  show(): void;
  freeze(): void;
  resume(): void;
  showAgain(options: { readonly persisted: boolean }): void;
  leave(): void;
} {
  let visibilityState = 'visible';
  const document = new (class extends EventTarget {
    get visibilityState(): string {
      return visibilityState;
    }
  })();
  const window = new EventTarget();
  const change = (next: string): void => {
    visibilityState = next;
    document.dispatchEvent(new Event('visibilitychange'));
  };
  return {
    page: { document, window },
    hide: () => change('hidden'),
    show: () => change('visible'),
    freeze: () => document.dispatchEvent(new Event('freeze')),
    resume: () => document.dispatchEvent(new Event('resume')),
    showAgain: ({ persisted }) =>
      window.dispatchEvent(Object.assign(new Event('pageshow'), { persisted })),
    leave: () => window.dispatchEvent(new Event('pagehide')),
  };
}

/** Wakes whoever listens, whatever the page is like. */
export function fakeWake(): {
  onWake(listener: (cause: WakeCause) => void): () => void;
  wake(): void;
} {
  const listeners = new Set<(cause: WakeCause) => void>();
  return {
    onWake(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    wake() {
      for (const listener of listeners) listener('visible');
    },
  };
}
