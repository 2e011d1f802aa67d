/**
 * What is read aloud in the opening pause, as the case file and the protocol have it, so that the
 * record holds the value and not a tick. Teeth are FDI numbers (ISO 3950) here; the screen says
 * them in the notation of the person who reads.
 */
import { unreachable } from '../base/assert.ts';
import type { CaseFile, Protocol, ReadBack, Step, Unit } from '../protocol/types.ts';

interface Opened {
  readonly spec: CaseFile;
  readonly protocol: Protocol;
}

function unitLine(unit: Unit): string {
  const teeth = unit.teeth.join(' ');
  const pontics = unit.pontics ? ` (+ ${unit.pontics.join(' ')})` : '';
  return [`${teeth}${pontics}`, unit.restoration, unit.material, unit.shade]
    .filter((part) => part !== undefined)
    .join(', ');
}

/** One line for each thing that is read aloud. */
export function readBackLines({ spec, protocol }: Opened, of: ReadBack): readonly string[] {
  switch (of) {
    case 'teeth':
      return spec.units.map(unitLine);
    case 'protocol':
      return [`${protocol.title}, revision ${protocol.revision}`];
    case 'materials':
      return protocol.slots.map((s) => `${s.label}: ${s.materialClass}`);
    case 'allergies':
      return [spec.allergies ?? 'not noted'];
    case 'people':
      return spec.people.map((p) => `${p.label}, ${p.role}`);
    default:
      return unreachable(of);
  }
}

/** The value that a press on this step records by itself; null when it has none. */
export function readBackOf(opened: Opened, step: Step | undefined): string | null {
  const evidence = step?.action.kind === 'confirm' ? step.action.evidence : undefined;
  return evidence?.kind === 'read-back' ? readBackLines(opened, evidence.of).join('; ') : null;
}
