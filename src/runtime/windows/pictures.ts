/**
 * Who is shown the case that runs here: other windows of this tablet, and other tablets while it takes part in
 * a clinic's store. Each hears only while it looks on.
 */
import type { TimerHost } from '../device/timer-host.ts';
import { type LivePicture, parsePicture } from './read-along.ts';
import {
  type ChannelLike,
  type Publisher,
  publishPicture,
  type Subscriber,
  subscribePicture,
} from './second-screen.ts';

/** What carries pictures between the tablets of a clinic. */
export interface ClinicPictures {
  publishing(): ChannelLike;
  following(device: string): ChannelLike;
}

export class Pictures implements Publisher<LivePicture> {
  readonly #parts: { readonly timers: TimerHost; readonly runId: string };
  /** Opens the channel between the windows of this tablet; null where there is none. */
  readonly #open: (() => ChannelLike) | null;
  readonly #near: Publisher<LivePicture> | null;
  #clinic: { readonly pictures: ClinicPictures; readonly far: Publisher<LivePicture> } | null =
    null;
  /** What is shown, for who may look on only later. */
  #last: LivePicture | null = null;
  /** Binds those that look on at another tablet to the clinic of the moment. */
  readonly #bind = new Set<() => void>();

  constructor(o: {
    readonly timers: TimerHost;
    readonly runId: string;
    readonly open: (() => ChannelLike) | null;
  }) {
    this.#parts = o;
    this.#open = o.open;
    this.#near = o.open && publishPicture<LivePicture>({ ...o, channel: o.open() });
  }

  /** Of the cases that are practised with, no other tablet is told. */
  publish(picture: LivePicture): void {
    this.#last = picture;
    this.#near?.publish(picture);
    this.#publishFar();
  }

  #publishFar(): void {
    if (this.#last?.mode === 'patient') this.#clinic?.far.publish(this.#last);
    else this.#clinic?.far.rest();
  }

  /** Hands the picture of another tablet on to the other windows of this one. */
  relay(picture: LivePicture): void {
    this.#near?.publish(picture);
  }

  rest(): void {
    this.#last = null;
    this.#near?.rest();
    this.#clinic?.far.rest();
  }

  close(): void {
    this.#near?.close();
    this.#clinic?.far.close();
  }

  /** From now on other tablets may look on. Returns the way to stop. */
  join(pictures: ClinicPictures): () => void {
    this.#clinic?.far.close();
    const far = publishPicture<LivePicture>({
      ...this.#parts,
      channel: pictures.publishing(),
    });
    const clinic = { pictures, far };
    this.#clinic = clinic;
    this.#publishFar();
    for (const bind of this.#bind) bind();
    return () => {
      far.close();
      if (this.#clinic !== clinic) return;
      this.#clinic = null;
      for (const bind of this.#bind) bind();
    };
  }

  /** Looks on at the window of this tablet that runs a case; null where windows cannot hear one another. */
  readonly lookOn = (): Subscriber<LivePicture> | null =>
    this.#open && this.#subscribed(this.#open());

  /** Looks on at another tablet of the clinic, as soon as and as long as this one takes part. */
  lookAt(device: string): Subscriber<LivePicture> {
    return this.#subscribed(this.#farChannel(device));
  }

  #farChannel(device: string): ChannelLike {
    let inner: ChannelLike | null = null;
    let hear: Parameters<ChannelLike['addEventListener']>[1] = () => undefined;
    const bind = (): void => {
      inner?.close();
      inner = this.#clinic?.pictures.following(device) ?? null;
      inner?.addEventListener('message', (event) => hear(event));
    };
    this.#bind.add(bind);
    bind();
    return {
      postMessage: (message) => inner?.postMessage(message),
      addEventListener: (_, listener) => {
        hear = listener;
      },
      close: () => {
        this.#bind.delete(bind);
        inner?.close();
      },
    };
  }

  #subscribed(channel: ChannelLike): Subscriber<LivePicture> {
    return subscribePicture({ channel, timers: this.#parts.timers, parse: parsePicture });
  }
}
