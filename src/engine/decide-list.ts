/** Decides the press of a list: the lines that are ticked or answered are taken, the rest stays due. */
import { err, ok } from '../base/result.ts';
import { type Pressed, refusal } from './commands.ts';
import type { Instance } from './layout.ts';
import { freeLines, listOf, type NamedLine, wantsOf } from './list-offers.ts';
import {
  beginnings,
  type Decision,
  impliedEvents,
  namedInstances,
  type PressScene,
  withReadBack,
} from './press-scene.ts';
import type { TakenLine } from './pressing-types.ts';
import type { CaseEvent } from './types.ts';

/** Takes the lines of a list that are ticked or answered; the rest stays due. */
export function decideList(scene: PressScene, p: Pressed): Decision {
  const { layout } = scene;
  const [first] = layout.protocol.steps.filter((step) => step.id === p.step);
  const list = first === undefined ? null : listOf(first);
  if (list === null || list !== p.list)
    return err(refusal('wrong-press', { step: p.step, kind: p.kind }));
  const all = (p.lines ?? []).filter(({ wants }) => wants === null);
  const lines: readonly TakenLine[] = p.taken ?? all;
  if (lines.length === 0) return err(nothingTaken(scene, p));
  const named: NamedLine[] = [];
  for (const line of lines) {
    const found = namedInstances(layout, line);
    if (!found.ok) return found;
    const [lead] = found.value;
    if (lead === undefined || listOf(lead.step) !== list) {
      return err(refusal('wrong-press', { step: line.step, kind: p.kind }));
    }
    named.push({ line, instances: found.value });
  }
  const events: CaseEvent[] = [];
  const free = freeLines(scene, named);
  for (const { line, instances } of free) {
    const decided = decideLine(scene, instances, line, list);
    if (!decided.ok) return decided;
    events.push(...decided.value, ...beginnings(scene, instances));
  }
  if (events.length === 0) return err(nothingTaken(scene, p));
  const instances = free.flatMap(({ instances }) => instances);
  return ok([...impliedEvents(scene, instances), ...events]);
}

/** The list that nothing is taken of, and the first of its lines that wants an answer. */
function nothingTaken({ layout: { protocol } }: PressScene, { list = '', lines = [] }: Pressed) {
  const open = lines.find(({ wants }) => wants !== null);
  const line = open && protocol.steps.find(({ id }) => id === open.step)?.title;
  const title = protocol.lists?.find(({ id }) => id === list)?.title ?? list;
  return refusal('nothing-taken', { list: title, ...(line === undefined ? {} : { line }) });
}

function decideLine(
  scene: PressScene,
  instances: readonly Instance[],
  line: TakenLine,
  list: string,
): Decision {
  const { step, subjects, option, evidence } = line;
  const { action } = instances[0]?.step ?? {};
  const missing = err(refusal('answer-missing', { step }));
  if (action?.kind === 'choose') {
    if (option === undefined) return missing;
    if (!action.options.some((o) => o.id === option)) {
      return err(refusal('unknown-option', { step, option }));
    }
    const chosen = { type: 'option-chosen', step, subjects, option, list } as const;
    return ok([withReadBack(scene, instances, chosen)]);
  }
  if (action?.kind !== 'confirm') return err(refusal('wrong-press', { step, kind: 'list' }));
  const own = instances[0]?.step;
  const wants = own === undefined ? null : wantsOf(scene.state, own);
  // Naming the line is the tick.
  if (evidence === undefined && wants !== null && wants !== 'tick') return missing;
  const event = { type: 'step-confirmed', step, subjects, list } as const;
  return ok([
    evidence === undefined ? withReadBack(scene, instances, event) : { ...event, evidence },
  ]);
}
