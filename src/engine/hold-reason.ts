/**
 * A hold that is not waited for: people may insist, but not without a word. The reason is written
 * with the press, so that the record has both.
 */
import { err, ok, type Result } from '../base/result.ts';
import { elapsed } from './axis.ts';
import { type Command, type Refusal, refusal } from './commands.ts';
import { edgeInstant } from './edge-instant.ts';
import type { Layout, WindowPair } from './layout.ts';
import { instanceKey } from './layout.ts';
import type { CaseEvent, CaseState, Stamp } from './types.ts';
import { nowOf } from './view.ts';

interface Pressed {
  readonly scene: { readonly state: CaseState; readonly layout: Layout };
  readonly command: Extract<Command, { do: 'press' }>;
  readonly now: Stamp;
  readonly events: readonly CaseEvent[];
}

/** The first hold that this press would close too early, judged by the shortest possible time. */
function brokenHold({ scene, command, now }: Pressed): WindowPair | null {
  const { state, layout } = scene;
  const at = nowOf(state, now);
  const pairs = command.offer.subjects.flatMap(
    (s) => layout.windowsTo.get(instanceKey(command.offer.step, s)) ?? [],
  );
  const broken = pairs.find(({ window, from, to }) => {
    if (window.protects !== 'hold' || window.minMs === undefined) return false;
    const since = edgeInstant(state.runs[from], window.from.edge);
    const isClosed = edgeInstant(state.runs[to], window.to.edge) !== null;
    return since !== null && !isClosed && elapsed(since, at).loMs < window.minMs.value;
  });
  return broken ?? null;
}

/** Adds the reason to a press that breaks a hold, or asks for one. */
export function withHoldReason(p: Pressed): Result<readonly CaseEvent[], Refusal> {
  const broken = brokenHold(p);
  if (broken === null) return ok(p.events);
  const words = p.command.reason?.trim() ?? '';
  if (words === '') {
    return err(refusal('reason-missing', { step: p.command.offer.step, window: broken.window.id }));
  }
  return ok([...p.events, { type: 'note-added', words: `${broken.window.title}: ${words}` }]);
}
