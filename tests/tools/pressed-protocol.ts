/** A shipped protocol with the opening pause as a list, whatever its own steps say of it. */
import type { Protocol, Step } from '../../src/protocol/types.ts';

/** Lines of a list by the ids of their steps; none of them waits for another, only for what stands before. */
export function withList(
  protocol: Protocol,
  list: NonNullable<Protocol['lists']>[number],
  lines: readonly string[],
): Protocol {
  const first = protocol.steps.find(({ id }) => lines.includes(id))?.after ?? [];
  const steps = protocol.steps.map(
    ({ pressed: _, ...step }): Step =>
      lines.includes(step.id)
        ? { ...step, after: first, pressed: { kind: 'list', list: list.id } }
        : step,
  );
  return { ...protocol, lists: [list], steps };
}
