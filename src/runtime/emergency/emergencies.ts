/**
 * The emergency cards of this window: opens, ticks and ends them, keeps them on the device so that a
 * reload loses no clock, and notes each touch in the running case. The cards count real time, also in
 * a rehearsal that runs faster. Times in ms.
 */
import * as v from 'valibot';
import { durationMs, monoMs, wallMs } from '../../base/units.ts';
import { EMERGENCY_CARDS, type EmergencyCardId } from '../../engine/aside-types.ts';
import { AXIS_START, elapsed, place } from '../../engine/axis.ts';
import type { Command, Refusal } from '../../engine/commands.ts';
import { CALL_LINE } from '../../engine/emergency-cards.ts';
import type { Elapsed, Stamp } from '../../engine/types.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { Clock } from '../device/clock.ts';
import type { AppStore } from '../store.ts';
import type { EmergencyState, OpenCard } from './emergency-state.ts';

const KIND = 'emergency-cards';
const ONLY = 'this-tablet';
/** What came with a backup of another day is no emergency of today. */
const KEPT_MS_MAX = 24 * 3_600_000;

export interface EmergencyParts {
  readonly store: AppStore;
  readonly journal: Pick<Journal, 'documents'>;
  readonly clock: Pick<Clock, 'stamp'>;
  /** The writer's epoch; null while another window writes: then the cards last as long as this page. */
  readonly epoch: () => number | null;
  /** Hands a command to the running case. */
  readonly do: (command: Command) => Refusal | null;
}

const stampSchema = v.object({
  wallMs: v.pipe(v.number(), v.transform(wallMs)),
  monoMs: v.pipe(v.number(), v.transform(monoMs)),
  runId: v.string(),
});

const keptSchema = v.object({
  shown: v.nullable(v.picklist([...EMERGENCY_CARDS, 'list'])),
  open: v.array(
    v.object({
      card: v.picklist(EMERGENCY_CARDS),
      stamp: stampSchema,
      caseId: v.nullable(v.string()),
      done: v.array(v.object({ line: v.string(), stamp: stampSchema })),
    }),
  ),
});

/** How long something lasts; `byWall` once another run of the page counts it by the time of day. */
interface CardSpan extends Elapsed {
  readonly byWall: boolean;
}

export class Emergencies {
  readonly #parts: EmergencyParts;

  constructor(parts: EmergencyParts) {
    this.#parts = parts;
  }

  get state(): EmergencyState {
    return this.#parts.store.getState().emergency;
  }

  /** Takes up what was open when the page was last left; only the window that writes shows it. */
  async read(): Promise<void> {
    const { journal, store, clock, epoch } = this.#parts;
    const stored = await journal.documents.get(KIND, { id: ONLY });
    const kept = stored.ok ? parsedOr(keptSchema, stored.value) : null;
    if (kept === null) return;
    const nowMs = clock.stamp().wallMs;
    const open = kept.open.filter(({ stamp }) => Math.abs(nowMs - stamp.wallMs) < KEPT_MS_MAX);
    if (open.length === 0) return;
    const { emergency } = store.getState();
    const shown = emergency.shown ?? (epoch() === null ? null : kept.shown);
    store.setState({ emergency: { ...emergency, shown, open } });
  }

  /** Opens a card, or shows the one that is open already; its clock counts from the first tap. */
  show(card: EmergencyCardId): void {
    const { open } = this.state;
    if (open.some((o) => o.card === card)) {
      this.#set({ shown: card });
      return;
    }
    const { clock } = this.#parts;
    const fresh: OpenCard = { card, stamp: clock.stamp(), caseId: this.#caseId(), done: [] };
    this.#set({ shown: card, open: [...open, fresh] });
    this.#note(fresh, { act: 'opened' });
  }

  /** A line was done, or the number called; a line whose time comes round may be ticked again. */
  tick(card: EmergencyCardId, line: string = CALL_LINE): void {
    const mine = this.state.open.find((o) => o.card === card);
    if (mine === undefined) return;
    const done = [...mine.done, { line, stamp: this.#parts.clock.stamp() }];
    const open = this.state.open.map((o) => (o === mine ? { ...mine, done } : o));
    this.#set({ open });
    this.#note(mine, { act: 'step-done', line });
  }

  /** Ends the clock of a card. */
  end(card: EmergencyCardId): void {
    const mine = this.state.open.find((o) => o.card === card);
    this.#set({ shown: null, open: this.state.open.filter((o) => o !== mine) });
    if (mine !== undefined) this.#note(mine, { act: 'closed' });
  }

  /** Back to the screen beneath; clocks that run go on. */
  hide(): void {
    this.#set({ shown: null });
  }

  /** What the button says of the newest card while none is shown; nothing is stored. */
  tell(span: string | null): void {
    if (this.state.span === span) return;
    this.#parts.store.setState({ emergency: { ...this.state, span } });
  }

  since(stamp: Stamp): CardSpan {
    const now = this.#parts.clock.stamp();
    if (now.runId === stamp.runId) {
      const { at } = place({ stamp, at: AXIS_START, latest: stamp }, now);
      return { ...elapsed(AXIS_START, at), byWall: false };
    }
    const ms = now.wallMs - stamp.wallMs;
    const hiMs = ms < 0 ? Number.POSITIVE_INFINITY : ms;
    return { loMs: durationMs(Math.max(0, ms)), hiMs: durationMs(hiMs), byWall: true };
  }

  /** Whether touches on this card go into a record. */
  isRecorded({ caseId }: OpenCard): boolean {
    return caseId !== null && caseId === this.#caseId();
  }

  #caseId(): string | null {
    const { running } = this.#parts.store.getState();
    return running === null || running.isViewOnly ? null : running.caseId;
  }

  #note(open: OpenCard, note: { act: 'opened' | 'step-done' | 'closed'; line?: string }): void {
    if (!this.isRecorded(open)) return;
    this.#parts.do({ do: 'note-emergency', note: { card: open.card, ...note } });
  }

  #set(part: Partial<EmergencyState>): void {
    const { store } = this.#parts;
    store.setState({ emergency: { ...this.state, span: null, ...part } });
    void this.#keep();
  }

  async #keep(): Promise<void> {
    const { journal, epoch } = this.#parts;
    const writer = epoch();
    if (writer === null) return;
    const { shown, open } = this.state;
    const place = { kind: KIND, id: ONLY, epoch: writer };
    if (open.length === 0) await journal.documents.delete(place);
    else await journal.documents.put({ ...place, value: { shown, open } });
  }
}
