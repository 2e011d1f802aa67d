/**
 * What is read aloud in the opening pause, as the case file and the protocol have it, so that the
 * record holds the value and not a tick. Teeth are FDI numbers (ISO 3950) here; the screen says
 * them in the notation of the person who reads.
 */
import { unreachable } from '../base/assert.ts';
import type { MaterialSlot, ReadBack, Step, Unit } from '../protocol/types.ts';
import type { CaseState } from './types.ts';

type Known = Pick<CaseState, 'opened' | 'materials'>;

function unitLine(unit: Unit): string {
  const teeth = unit.teeth.join(' ');
  const pontics = unit.pontics ? ` (+ ${unit.pontics.join(' ')})` : '';
  return [`${teeth}${pontics}`, unit.restoration, unit.material, unit.shade]
    .filter((part) => part !== undefined)
    .join(', ');
}

function slotLine(slot: MaterialSlot, known: Known): string {
  const named = known.materials[slot.id]?.at(-1)?.material;
  const lot = named ? `lot ${named.lot}` : 'lot not named';
  const expiry = named?.expiry === undefined ? [] : [`to ${named.expiry}`];
  return [`${slot.label}: ${slot.materialClass}`, lot, ...expiry].join(', ');
}

/** One line for each thing that is read aloud. */
export function readBackLines(known: Known, of: ReadBack): readonly string[] {
  const { spec, protocol } = known.opened;
  switch (of) {
    case 'teeth':
      return spec.units.map(unitLine);
    case 'protocol':
      return [`${protocol.title}, revision ${protocol.revision}`];
    case 'materials':
      return protocol.slots.map((s) => slotLine(s, known));
    case 'allergies':
      return [spec.allergies ?? 'not noted'];
    case 'people':
      return spec.people.map((p) => `${p.label}, ${p.role}`);
    default:
      return unreachable(of);
  }
}

/** The value that a press on this step records by itself; null when it has none. */
export function readBackOf(known: Known, step: Step | undefined): string | null {
  const evidence = step?.action.kind === 'confirm' ? step.action.evidence : undefined;
  return evidence?.kind === 'read-back' ? readBackLines(known, evidence.of).join('; ') : null;
}
