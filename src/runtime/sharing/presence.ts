/**
 * Who of the clinic is there: every tablet says so every two seconds, with what runs on it and what it still
 * owes. Nothing of it is kept anywhere.
 */
import * as v from 'valibot';
import { parsedOr } from '../../protocol/read-outside.ts';
import { makeLiveReader, sealLive } from '../../sync/live-seal.ts';
import type { Members, Membership, Sealer } from '../../sync/sealed-types.ts';
import type { ClinicStore } from '../../sync/store-types.ts';
import { hereSubject } from '../../sync/subjects.ts';
import type { RunningCase } from '../app-state.ts';

export const HERE_EVERY_MS = 2000;

const saidSchema = v.object({
  name: v.string(),
  /** Under which id the tablet writes cases. */
  tablet: v.string(),
  owed: v.pipe(v.number(), v.safeInteger(), v.minValue(0)),
  runs: v.nullable(v.object({ caseId: v.string(), title: v.string() })),
  /** By case, of those heard of last: how many entries the highest head names that it knows. */
  heads: v.optional(v.record(v.string(), v.pipe(v.number(), v.safeInteger(), v.minValue(1))), {}),
});

type Said = v.InferOutput<typeof saidSchema>;

/** What was heard of another tablet last. */
export interface HeardTablet extends Said {
  readonly atWallMs: number;
}

/** What runs at this chair, as others are told; null for rehearsals, what is closed and what is only read along. */
export function runsHere(running: RunningCase | null): Said['runs'] {
  if (running === null || running.isViewOnly) return null;
  const { opened, closed } = running.log.state;
  if (opened.mode !== 'patient' || closed !== null) return null;
  const { title, chartRef } = opened.spec;
  return { caseId: running.caseId, title: [title, chartRef].filter((t) => t !== '').join(' · ') };
}

/** Whether the case runs at this chair and is not closed. */
export function isOpenHere(running: RunningCase | null, caseId: string): boolean {
  if (running === null || running.caseId !== caseId || running.isViewOnly) return false;
  return running.log.state.closed === null;
}

interface PresenceParts {
  readonly live: ClinicStore['live'];
  readonly timers: { after(delayMs: number, callback: () => void): () => void };
  readonly sealer: () => Sealer;
  readonly members: () => Members;
  readonly tablet: () => string;
  readonly owed: () => number;
  readonly heads: () => Said['heads'];
  readonly running: () => RunningCase | null;
  readonly isOpen: () => boolean;
  readonly nowWallMs: () => number;
  /** Something worth telling has changed; `isNew`: more than the time at which it was heard. */
  readonly onHeard: (o: { readonly isNew: boolean }) => void;
  readonly onHeads: (device: string, heads: Said['heads']) => void;
}

export class Presence {
  readonly #parts: PresenceParts;
  readonly #heard = new Map<string, HeardTablet>();
  readonly #stops: (() => void)[] = [];
  #callOff: () => void = () => undefined;
  #counter = 0;
  #isStopped = false;

  constructor(parts: PresenceParts) {
    this.#parts = parts;
    const { crypto, membership } = parts.sealer();
    const { site } = membership;
    const open = makeLiveReader(() => ({
      crypto,
      site,
      secrets: this.#membership.secrets,
      members: parts.members(),
    }));
    const stop = parts.live.subscribe(`here.${site}.>`, (subject, data) => {
      void open({ subject, data }).then((opened) => {
        if (opened.ok) this.#hear(opened.value);
      });
    });
    this.#stops.push(stop);
    void this.#beat();
  }

  get #membership(): Membership {
    return this.#parts.sealer().membership;
  }

  get heard(): ReadonlyMap<string, HeardTablet> {
    return this.#heard;
  }

  #hear({ device, value }: { readonly device: string; readonly value: unknown }): void {
    const said = parsedOr(saidSchema, value);
    if (this.#isStopped || said === null || device === this.#membership.device) return;
    const before = this.#heard.get(device);
    this.#heard.set(device, { ...said, atWallMs: this.#parts.nowWallMs() });
    const isNew =
      before === undefined ||
      before.owed !== said.owed ||
      before.runs?.caseId !== said.runs?.caseId;
    this.#parts.onHeads(device, said.heads);
    this.#parts.onHeard({ isNew });
  }

  async #beat(): Promise<void> {
    if (this.#isStopped) return;
    this.#callOff = this.#parts.timers.after(HERE_EVERY_MS, () => void this.#beat());
    if (this.#parts.isOpen()) await this.#say().catch(() => undefined);
  }

  async #say(): Promise<void> {
    const { live, sealer, nowWallMs, owed, running, tablet, heads } = this.#parts;
    const own = sealer();
    const { site, device, name } = own.membership;
    const subject = hereSubject({ site, device });
    this.#counter = Math.max(nowWallMs(), this.#counter + 1);
    const about = { name, tablet: tablet(), owed: owed(), heads: heads() };
    const value: Said = { ...about, runs: runsHere(running()) };
    live.publish(subject, await sealLive(own, { subject, counter: this.#counter, value }));
  }

  stop(): void {
    this.#isStopped = true;
    this.#callOff();
    for (const stop of this.#stops) stop();
  }
}
