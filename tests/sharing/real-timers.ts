/** The page's timers, as the app's host hands them out. */
export const pageTimers = () => ({
  after: (delayMs: number, callback: () => void) => {
    const timer = setTimeout(callback, delayMs);
    return () => clearTimeout(timer);
  },
});
