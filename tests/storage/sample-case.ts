/** A small invented case and its presses, so that storage tests say only what they are about. */
import { monoMs, wallMs } from '../../src/base/units.ts';
import type { CaseEvent, Recorded, Stamp } from '../../src/engine/types.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import type { Protocol } from '../../src/protocol/types.ts';

const START_WALL_MS = Date.UTC(2026, 10, 25, 9, 0, 0);

export function stampAt(ms: number): Stamp {
  return { wallMs: wallMs(START_WALL_MS + ms), monoMs: monoMs(ms), runId: 'run-1' };
}

const protocol: Protocol = {
  format: 'lutewatch-protocol',
  formatVersion: 1,
  id: 'two-steps',
  revision: 1,
  title: 'Two steps',
  summary: 'Etch, then rinse.',
  restorations: ['veneer'],
  sources: [],
  cautions: [],
  slots: [],
  stages: [{ id: 'teeth', title: 'Teeth' }],
  steps: [],
  windows: [],
  waysBack: [],
};

function caseFile(caseId: string): CaseFile {
  return {
    format: 'lutewatch-case',
    formatVersion: 1,
    id: caseId,
    chartRef: 'KB-2041',
    title: 'Upper front, two units — Küstenpraxis',
    notation: 'fdi',
    protocol: 'two-steps',
    units: [{ id: '11', teeth: ['11'], restoration: 'veneer', material: 'feldspathic' }],
    people: [{ id: 'p1', label: 'AN', role: 'assistant' }],
    room: { temperatureC: 22.5 },
    light: { label: 'Light 1', irradianceMwPerCm2: 1100, tipDiameterMm: 9 },
  };
}

function openedEvent(caseId: string): CaseEvent {
  return {
    type: 'case-opened',
    mode: 'rehearsal',
    spec: caseFile(caseId),
    protocol,
    protocolHash: 'ab'.repeat(32),
    approval: null,
    plan: { order: ['11'], mixes: [['11']], rounds: {}, exposures: {} },
  };
}

/** One entry of press `press`, one second after the one before. */
export function recorded(seq: number, event: CaseEvent, press = seq): Recorded {
  return { seq, press, stamp: stampAt(seq * 1000), by: 'p1', event };
}

/** The entry that opens the case: a press of its own. */
export function opening(caseId: string): Recorded {
  return recorded(0, openedEvent(caseId));
}

/** Entries `from` to `from + count - 1` of a case, all of one press. */
export function pressOf(count: number, from: number): readonly Recorded[] {
  return Array.from({ length: count }, (_, i) =>
    recorded(
      from + i,
      i % 2 === 0
        ? { type: 'step-started', step: 'etch', subjects: ['tooth:11'] }
        : { type: 'note-added', words: 'Größe geprüft – 20 s ✓' },
      from,
    ),
  );
}

/** A whole case of `count` entries, the opening among them. */
export function wholeCase(caseId: string, count: number): readonly Recorded[] {
  return [
    opening(caseId),
    ...Array.from({ length: count - 1 }, (_, i) => pressOf(1, i + 1)).flat(),
  ];
}
