/**
 * A thread that does nothing but wait. Browsers slow the timers of a hidden page to one a second and
 * later to one a minute, but leave those of a dedicated worker alone (measured in three engines).
 */
import type { TimerDue, TimerRequest } from './timer-messages.ts';

declare const self: DedicatedWorkerGlobalScope;

const running = new Map<number, ReturnType<typeof setTimeout>>();

self.addEventListener('message', (event: MessageEvent<TimerRequest>) => {
  const request = event.data;
  clearTimeout(running.get(request.id));
  running.delete(request.id);
  if (request.type === 'clear') return;
  const due: TimerDue = { type: 'due', id: request.id };
  running.set(
    request.id,
    setTimeout(() => {
      running.delete(request.id);
      self.postMessage(due);
    }, request.delayMs),
  );
});
