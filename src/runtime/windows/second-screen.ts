/**
 * Carries what the far view shows from the window that runs the case to others on the same
 * device. The running window beats; when the beat stops, the others say so within a second.
 */

import * as v from 'valibot';
import { createStore } from 'zustand/vanilla';
import type { Result } from '../../base/result.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { TimerHost } from '../device/timer-host.ts';
import type { Readable } from '../readable.ts';

/** Time between two beats, in ms. */
const BEAT_MS = 250;
/** A window that looks on says so this often, in ms. */
const HERE_EVERY_MS = 2000;
/** Nobody has said so for this long, in ms: pictures and beats rest until somebody does. */
export const UNWATCHED_AFTER_MS = 5000;
/** Without a beat for this long, in ms, a picture is stale: three beats missed. */
const STALE_AFTER_MS = 800;

/** The part of a broadcast channel that is used. */
export interface ChannelLike {
  postMessage(message: unknown): void;
  addEventListener(type: 'message', listener: (event: { readonly data: unknown }) => void): void;
  close(): void;
}

export interface Publisher<T> {
  /** Sends a new picture, and beats from now on, as long as another window looks on. */
  publish(picture: T): void;
  /** There is nothing to show any more: no beat vouches for the last picture. */
  rest(): void;
  /** Says good-bye, so that the others need not wait for the missing beat. */
  close(): void;
}

/** Begins to send. `T` must be plain data. */
export function publishPicture<T>(options: {
  readonly channel: ChannelLike;
  readonly timers: TimerHost;
  readonly runId: string;
}): Publisher<T> {
  const { channel, timers, runId: from } = options;
  let last: { readonly picture: T } | undefined;
  let isWatched = false;
  let cancelBeat: () => void = () => undefined;
  let cancelUnwatched: () => void = () => undefined;

  const sendLast = (): void => {
    if (last !== undefined) channel.postMessage({ type: 'picture', from, picture: last.picture });
  };
  const beat = (): void => {
    cancelBeat();
    // A window without a picture must not beat: the others would follow it to nowhere.
    if (last === undefined || !isWatched) return;
    cancelBeat = timers.after(BEAT_MS, beat);
    channel.postMessage({ type: 'beat', from });
  };
  const rest = (): void => {
    cancelBeat();
    if (last !== undefined) channel.postMessage({ type: 'bye', from });
    last = undefined;
  };
  const watched = (): void => {
    cancelUnwatched();
    cancelUnwatched = timers.after(UNWATCHED_AFTER_MS, () => {
      isWatched = false;
    });
    if (isWatched) return;
    isWatched = true;
    beat();
  };
  channel.addEventListener('message', (event) => {
    const type = parsedOr(messageSchema, event.data)?.type;
    if (type !== 'hello' && type !== 'here') return;
    watched();
    // A window that has just opened asks for the picture there is.
    if (type === 'hello') sendLast();
  });
  channel.postMessage({ type: 'who' });

  return {
    publish(picture) {
      const isFirst = last === undefined;
      last = { picture };
      if (!isWatched) return;
      if (isFirst) beat();
      // Made in this very turn, unlike one that is sent again to who comes later.
      channel.postMessage({ type: 'picture', from, picture, isFresh: true });
    },
    rest,
    close() {
      rest();
      cancelUnwatched();
      channel.close();
    },
  };
}

/** What another window knows. `stale`: it was shown once, and nobody vouches for it any more. */
type SecondScreen<T> =
  | { readonly state: 'waiting' }
  | {
      readonly state: 'live';
      readonly picture: T;
      /**
       * The picture was made after this, by this page's own monotonic clock: it answers what was asked then. Absent
       * where the channel does not tell, or where it is an older picture.
       */
      readonly askedAtMs?: number;
    }
  | { readonly state: 'stale'; readonly picture: T };

export interface Subscriber<T> {
  readonly screen: Readable<SecondScreen<T>>;
  close(): void;
}

/**
 * Begins to receive.
 *
 * @param options.parse reads a picture; one that it refuses is passed over.
 */
export function subscribePicture<T, E>(options: {
  readonly channel: ChannelLike;
  readonly timers: TimerHost;
  readonly parse: (message: unknown) => Result<T, E>;
}): Subscriber<T> {
  const { channel, timers } = options;
  const screen = createStore<SecondScreen<T>>(() => ({ state: 'waiting' }));
  let following: string | undefined;
  let cancelStale: () => void = () => undefined;

  const goStale = (): void => {
    cancelStale();
    following = undefined;
    const now = screen.getState();
    if (now.state === 'live') screen.setState({ state: 'stale', picture: now.picture }, true);
  };
  const heard = (from: string): void => {
    following = from;
    cancelStale();
    cancelStale = timers.after(STALE_AFTER_MS, goStale);
  };
  const revive = (from: string): void => {
    // The beat says that it runs again, not what it shows: ask for that.
    if (following === undefined) channel.postMessage({ type: 'hello' });
    heard(from);
  };

  channel.addEventListener('message', ({ data }) => {
    // A window that begins to run asks whether anybody looks on.
    const message = parsedOr(messageSchema, data);
    if (message === null) return;
    const { type, from, picture, isFresh, askedAtMs } = message;
    if (type === 'who') channel.postMessage({ type: 'here' });
    if (from === undefined || (following !== undefined && following !== from)) return;
    if (type === 'bye') goStale();
    else if (type === 'beat') revive(from);
    else if (type === 'picture') {
      const parsed = options.parse(picture);
      if (!parsed.ok) return;
      heard(from);
      const asked = isFresh === true && askedAtMs !== undefined ? { askedAtMs } : {};
      screen.setState({ state: 'live', picture: parsed.value, ...asked }, true);
    }
  });
  let cancelHere: () => void = () => undefined;
  const sayHere = (): void => {
    cancelHere = timers.after(HERE_EVERY_MS, sayHere);
    channel.postMessage({ type: 'here' });
  };
  channel.postMessage({ type: 'hello' });
  sayHere();

  return {
    screen,
    close() {
      cancelStale();
      cancelHere();
      channel.close();
    },
  };
}

const messageSchema = v.object({
  type: v.string(),
  from: v.fallback(v.optional(v.string()), undefined),
  picture: v.optional(v.unknown()),
  isFresh: v.fallback(v.optional(v.boolean()), undefined),
  askedAtMs: v.fallback(v.optional(v.number()), undefined),
});
