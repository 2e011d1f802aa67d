/**
 * What really happened, kept as plain lists beside the code that is looked at: when each press was made
 * in true time, what a journal said that it had, and which step on which subject was begun and not ended.
 */
import type { CaseEvent, Recorded } from '../../src/engine/types.ts';
import type { JournalEntry } from '../../src/storage/journal-types.ts';

/** A press that was never stored may be followed by another of the same number: the stamp tells them apart. */
const pressKey = (caseId: string, { press, stamp }: Recorded): string =>
  `${caseId}#${press}#${stamp.runId}#${stamp.monoMs}`;

export class Truth {
  readonly #pressedAtMs = new Map<string, number>();
  /** By tablet and case: the hashes in order, as far as a journal has acknowledged them. */
  readonly #kept = new Map<string, Map<string, string[]>>();

  pressed(caseId: string, recorded: Recorded, atMs: number): void {
    const key = pressKey(caseId, recorded);
    if (!this.#pressedAtMs.has(key)) this.#pressedAtMs.set(key, atMs);
  }

  pressedAtMs(caseId: string, recorded: Recorded): number | undefined {
    return this.#pressedAtMs.get(pressKey(caseId, recorded));
  }

  keep(tablet: string, entries: readonly JournalEntry[]): void {
    const cases = this.casesOf(tablet);
    for (const { caseId, seq, hash } of entries) {
      const hashes = cases.get(caseId) ?? [];
      hashes[seq] = hash;
      cases.set(caseId, hashes);
    }
  }

  /** What the journal of a tablet must have, by case. */
  casesOf(tablet: string): Map<string, string[]> {
    const known = this.#kept.get(tablet) ?? new Map<string, string[]>();
    this.#kept.set(tablet, known);
    return known;
  }

  forget(tablet: string, caseId: string): void {
    this.casesOf(tablet).delete(caseId);
  }
}

/** What runs, by `step@subject`, with the true instant at which it began; null where one press stood for several. */
export interface Standing {
  readonly dwells: ReadonlyMap<string, number | null>;
  readonly lights: ReadonlyMap<string, number>;
  /** Starts and ends of everything, by `step@subject/start`. */
  readonly edges: ReadonlyMap<string, number | null>;
  readonly acknowledged: ReadonlySet<string>;
}

interface Sheet {
  readonly dwells: Map<string, number | null>;
  readonly lights: Map<string, number>;
  readonly edges: Map<string, number | null>;
  readonly acknowledged: Set<string>;
}

/** The presses that were taken back, and how far others were moved. */
function corrected(records: readonly Recorded[]) {
  const gone = new Set<number>();
  for (const { event } of records) if (event.type === 'press-retracted') gone.add(event.press);
  const movedMs = new Map<number, number>();
  for (const { event, press } of records) {
    if (event.type !== 'press-retimed' || gone.has(press)) continue;
    movedMs.set(event.press, (movedMs.get(event.press) ?? 0) + event.byMs);
  }
  return { gone, movedMs };
}

/** Writes one event down. `atMs` is null where it is not one instant. */
function write(sheet: Sheet, event: CaseEvent, atMs: number): void {
  const { dwells, lights, edges, acknowledged } = sheet;
  switch (event.type) {
    case 'step-started':
      for (const subject of event.subjects) {
        const key = `${event.step}@${subject}`;
        const startMs = event.sweep === undefined ? atMs : null;
        dwells.set(key, startMs);
        edges.set(`${key}/start`, startMs);
      }
      return;
    case 'step-ended':
      for (const subject of event.subjects) {
        const key = `${event.step}@${subject}`;
        dwells.delete(key);
        edges.set(`${key}/end`, event.sweep === undefined ? atMs : null);
      }
      return;
    case 'step-confirmed':
    case 'option-chosen': {
      const isOneInstant = event.list === undefined && !('impliedBy' in event);
      for (const subject of event.subjects) {
        edges.set(`${event.step}@${subject}/end`, isOneInstant ? atMs : null);
        edges.set(`${event.step}@${subject}/start`, isOneInstant ? atMs : null);
      }
      return;
    }
    case 'step-skipped':
      for (const subject of event.subjects) {
        const key = `${event.step}@${subject}`;
        dwells.delete(key);
        for (const light of lights.keys()) if (light.startsWith(`${key}/`)) lights.delete(light);
      }
      return;
    case 'way-back-taken':
      for (const key of event.voided) {
        dwells.delete(key);
        for (const edge of ['start', 'end']) edges.delete(`${key}/${edge}`);
        for (const light of lights.keys()) if (light.startsWith(`${key}/`)) lights.delete(light);
      }
      return;
    case 'exposure-started':
      lights.set(`${event.step}@${event.subject}/${event.surface}${event.position}`, atMs);
      return;
    case 'exposure-stopped':
      lights.delete(`${event.step}@${event.subject}/${event.surface}${event.position}`);
      return;
    case 'cue-acknowledged':
      acknowledged.add(event.cue);
      return;
    default:
  }
}

/** What stands after these records, read from the first to the last. */
export function standingAfter(
  truth: Truth,
  caseId: string,
  records: readonly Recorded[],
): Standing {
  const sheet: Sheet = {
    dwells: new Map(),
    lights: new Map(),
    edges: new Map(),
    acknowledged: new Set(),
  };
  const { gone, movedMs } = corrected(records);
  for (const recorded of records) {
    const { event, press } = recorded;
    if (gone.has(press)) continue;
    const atMs = truth.pressedAtMs(caseId, recorded);
    if (atMs === undefined) throw new Error(`press ${press} of ${caseId} was made by nobody`);
    write(sheet, event, atMs + (movedMs.get(press) ?? 0));
  }
  return sheet;
}
