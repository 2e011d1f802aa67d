/**
 * A hold that is not waited for: people may insist, but not without a word. The reason is written
 * with the press, so that the record has both.
 */
import { err, ok, type Result } from '../base/result.ts';
import { elapsed } from './axis.ts';
import { type Command, type Refusal, refusal } from './commands.ts';
import { edgeInstant } from './edge-instant.ts';
import { namedBy } from './event-subjects.ts';
import { givenUpUnits, isGivenUp } from './given-up.ts';
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

/** The holds that this press would close, by any line of a list and by what it says of earlier steps too. */
function holdsClosing({ scene, command, events }: Pressed): readonly WindowPair[] {
  const { state, layout } = scene;
  const said = events.flatMap((event) => {
    const { step, subjects } = namedBy(event);
    return step === null ? [] : subjects.map((subject) => instanceKey(step, subject));
  });
  const own = command.offer.lines === undefined ? command.offer.subjects : [];
  const keys = own.map((subject) => instanceKey(command.offer.step, subject));
  return [...new Set([...keys, ...said])]
    .flatMap((key) => layout.windowsTo.get(key) ?? [])
    .filter(({ window }) => window.protects === 'hold' && window.minMs !== undefined)
    .filter(({ window, to }) => edgeInstant(state.runs[to], window.to.edge) === null);
}

/**
 * Its beginning was skipped for all that it could have begun with: nobody knows how long it ran. A
 * unit that was set aside began nothing.
 */
function isOfUnknownLength(
  { state, layout }: Pressed['scene'],
  pair: WindowPair,
  holds: readonly WindowPair[],
): boolean {
  const subject = layout.byKey.get(pair.from)?.subject ?? '';
  if (isGivenUp(givenUpUnits(state, layout), layout, subject)) return false;
  const own = holds.filter(({ window, to }) => window === pair.window && to === pair.to);
  const isKnown = own.some((p) => edgeInstant(state.runs[p.from], p.window.from.edge) !== null);
  return !isKnown && state.runs[pair.from]?.status === 'skipped';
}

/**
 * The first hold that this press would close too early, judged by the shortest possible time, or
 * without anybody having seen it begin.
 */
function brokenHold(pressed: Pressed): WindowPair | null {
  const { state } = pressed.scene;
  const at = nowOf(state, pressed.now);
  const holds = holdsClosing(pressed);
  const broken = holds.find((pair) => {
    const { window, from } = pair;
    const since = edgeInstant(state.runs[from], window.from.edge);
    if (since === null) return isOfUnknownLength(pressed.scene, pair, holds);
    return window.minMs !== undefined && elapsed(since, at).loMs < window.minMs.value;
  });
  return broken ?? null;
}

/** Adds the reason to a press that breaks a hold, or asks for one. */
export function withHoldReason(p: Pressed): Result<readonly CaseEvent[], Refusal> {
  const broken = brokenHold(p);
  if (broken === null) return ok(p.events);
  const words = p.command.reason?.trim() ?? '';
  if (words === '') {
    const { step, subjects } = p.command.offer;
    const values = { step, subjects: subjects.join(' '), window: broken.window.id };
    return err(refusal('reason-missing', values));
  }
  return ok([...p.events, { type: 'note-added', words: `${broken.window.title}: ${words}` }]);
}
