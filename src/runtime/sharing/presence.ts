/**
 * Who of the clinic is there: every tablet says so every two seconds, with what runs on it and what it still
 * owes. Nothing of it is kept anywhere. A beat counts where it names one of the last words of who hears it:
 * what was recorded earlier is not taken for what is there now.
 */
import * as v from 'valibot';
import { parsedOr } from '../../protocol/read-outside.ts';
import { hex, random } from '../../sync/bytes.ts';
import { makeLiveReader, sealLive } from '../../sync/live-seal.ts';
import type { Members, Membership, Sealer } from '../../sync/sealed-types.ts';
import type { ClinicStore } from '../../sync/store-types.ts';
import { hereSubject } from '../../sync/subjects.ts';
import type { RunningCase } from '../app-state.ts';

export const HERE_EVERY_MS = 2000;

/** A word is named by others, and counts, for so long, ms: some beats. A design choice of this project. */
const WORD_COUNTS_MS = 10_000;
const WORD_BYTES = 8;

const saidSchema = v.object({
  name: v.string(),
  /** Under which id the tablet writes cases. */
  tablet: v.string(),
  owed: v.pipe(v.number(), v.safeInteger(), v.minValue(0)),
  runs: v.nullable(v.object({ caseId: v.string(), title: v.string() })),
  /** By case, of those heard of last: how many entries the highest head names that it knows. */
  heads: v.optional(v.record(v.string(), v.pipe(v.number(), v.safeInteger(), v.minValue(1))), {}),
});

/** What a beat holds beside it: a word that nobody can foretell, and the last words of those that were heard. */
const wordsSchema = v.object({ word: v.string(), words: v.array(v.string()) });

type Said = v.InferOutput<typeof saidSchema>;

interface Word {
  readonly word: string;
  readonly atWallMs: number;
}

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
  /** Numbers the beats; it rises over a restart too. */
  readonly nextCount: () => number;
  readonly onHeads: (device: string, heads: Said['heads']) => void;
}

export class Presence {
  readonly #parts: PresenceParts;
  readonly #heard = new Map<string, HeardTablet>();
  readonly #stops: (() => void)[] = [];
  #callOff: () => void = () => undefined;
  /** The last words of this tablet, and of each other. */
  #own: readonly Word[] = [];
  readonly #words = new Map<string, Word>();
  #answeredWallMs = 0;
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
    const words = parsedOr(wordsSchema, value);
    if (this.#isStopped || said === null || words === null) return;
    if (device === this.#membership.device) return;
    this.#words.set(device, { word: words.word, atWallMs: this.#parts.nowWallMs() });
    // What names no word of this tablet may have been recorded at any time.
    const isNow = this.#counting(this.#own).some(({ word }) => words.words.includes(word));
    if (isNow) this.#count(device, said);
    else this.#answer(device);
  }

  #count(device: string, said: Said): void {
    const before = this.#heard.get(device);
    this.#heard.set(device, { ...said, atWallMs: this.#parts.nowWallMs() });
    const isNew =
      before === undefined ||
      before.owed !== said.owed ||
      before.runs?.caseId !== said.runs?.caseId;
    this.#parts.onHeads(device, said.heads);
    this.#parts.onHeard({ isNew });
  }

  #counting(words: Iterable<Word>): readonly Word[] {
    const nowMs = this.#parts.nowWallMs();
    return [...words].filter(({ atWallMs }) => Math.abs(nowMs - atWallMs) <= WORD_COUNTS_MS);
  }

  /** A tablet that was not heard yet hears a word, and its own, at once: so either counts the other soon. */
  #answer(device: string): void {
    const nowMs = this.#parts.nowWallMs();
    if (this.#heard.has(device) || Math.abs(nowMs - this.#answeredWallMs) < HERE_EVERY_MS) return;
    this.#answeredWallMs = nowMs;
    void this.#say().catch(() => undefined);
  }

  async #beat(): Promise<void> {
    if (this.#isStopped) return;
    this.#callOff = this.#parts.timers.after(HERE_EVERY_MS, () => void this.#beat());
    if (this.#parts.isOpen()) await this.#say().catch(() => undefined);
  }

  async #say(): Promise<void> {
    const { live, sealer, nowWallMs, nextCount, owed, running, tablet, heads } = this.#parts;
    const own = sealer();
    const { site, device, name } = own.membership;
    const subject = hereSubject({ site, device });
    const [word, atWallMs] = [hex(random(own.crypto, WORD_BYTES)), nowWallMs()];
    this.#own = [...this.#counting(this.#own), { word, atWallMs }];
    const words = this.#counting(this.#words.values()).map((each) => each.word);
    const about = { name, tablet: tablet(), owed: owed(), heads: heads() };
    const value = { ...about, runs: runsHere(running()), word, words };
    live.publish(subject, await sealLive(own, { subject, counter: nextCount(), value }));
  }

  stop(): void {
    this.#isStopped = true;
    this.#callOff();
    for (const stop of this.#stops) stop();
  }
}
