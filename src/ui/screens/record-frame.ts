/** What every part of a record needs: the state, its layout, names and instants in words. Pure. */
import { type Layout, layoutOf } from '../../engine/layout.ts';
import type { CaseLog } from '../../engine/log.ts';
import type { CaseInstant, CaseState } from '../../engine/types.ts';
import { formatWords } from '../format/duration.ts';
import { secondWords } from '../words/date-words.ts';
import type { Scene } from '../words/offer-words.ts';

export interface RecordFrame {
  readonly log: CaseLog;
  readonly state: CaseState;
  readonly layout: Layout;
  readonly scene: Scene;
  /** Wall clock of the opening, in ms; the case axis counts from here. */
  readonly openedWallMs: number;
  /** The label of a person id; the id itself for somebody who is not of the case. */
  readonly personOf: (id: string | null) => string;
}

export function recordFrame(log: CaseLog): RecordFrame {
  const { state } = log;
  const { spec, protocol } = state.opened;
  const layout = layoutOf(state);
  return {
    log,
    state,
    layout,
    scene: { spec, protocol },
    openedWallMs: log.records[0]?.stamp.wallMs ?? 0,
    personOf: (id) => spec.people.find((p) => p.id === id)?.label ?? id ?? '',
  };
}

/** "09:14:03", or "09:14:03 to 09:14:51" when the clocks left it open. */
export function instantWords(frame: RecordFrame, at: CaseInstant): string {
  const lo = secondWords(frame.openedWallMs + at.loMs);
  const hi = secondWords(frame.openedWallMs + at.hiMs);
  return lo === hi ? lo : `${lo} to ${hi}`;
}

/** "+38 s" or "−12 s": how much was left of a limit. */
export function marginWords(marginMs: number): string {
  const words = formatWords(Math.abs(marginMs), marginMs < 0 ? 'up' : 'down');
  return `${marginMs < 0 ? '\u2212' : '+'}${words}`;
}
