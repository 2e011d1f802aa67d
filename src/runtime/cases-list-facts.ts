/**
 * What the list of cases can be searched by, worked out from a case's log once and kept in memory
 * under the hash of its last entry; and which cases used a lot. Pure.
 */
import type { CaseLog } from '../engine/log.ts';
import type { CaseSummary } from '../storage/journal-types.ts';

export interface UsedLot {
  readonly slot: string;
  readonly slotLabel: string;
  readonly materialClass: string;
  readonly label: string;
  readonly lot: string;
  /** Titles of the steps that use the slot and were begun. */
  readonly steps: readonly string[];
}

export interface CaseFacts {
  readonly caseId: string;
  readonly head: string;
  readonly title: string;
  readonly chartRef: string;
  readonly mode: 'patient' | 'rehearsal';
  readonly openedWallMs: number;
  readonly isClosed: boolean;
  readonly teeth: readonly string[];
  readonly people: readonly string[];
  readonly protocol: string;
  readonly lots: readonly UsedLot[];
  readonly breaches: number;
}

function usedLots(log: CaseLog): readonly UsedLot[] {
  const { protocol } = log.state.opened;
  const begun = new Set(Object.keys(log.state.runs).map((key) => key.split('@')[0]));
  return protocol.slots.flatMap((slot) => {
    const named = log.state.materials[slot.id] ?? [];
    const steps = protocol.steps
      .filter((step) => step.uses?.includes(slot.id) && begun.has(step.id))
      .map((step) => step.title);
    const distinct = new Map(named.map(({ material }) => [material.lot, material]));
    return [...distinct.values()].map(({ materialClass, label, lot }) => ({
      slot: slot.id,
      slotLabel: slot.label,
      materialClass,
      label,
      lot,
      steps,
    }));
  });
}

/** The facts of one case. */
export function caseFacts(summary: CaseSummary, log: CaseLog): CaseFacts {
  const { spec, protocol } = log.state.opened;
  return {
    caseId: summary.caseId,
    head: summary.head,
    title: summary.title,
    chartRef: summary.chartRef,
    mode: summary.mode,
    openedWallMs: summary.openedWallMs,
    isClosed: log.state.closed !== null,
    teeth: spec.units.flatMap((unit) => unit.teeth),
    people: spec.people.map((person) => person.label),
    protocol: protocol.title,
    lots: usedLots(log),
    breaches: log.state.breaches.length,
  };
}

export interface CaseFilter {
  /** Every word must be found in title, chart reference, people, protocol, class, label or lot. */
  readonly words: string;
  /** ISO 3950 number, or empty. */
  readonly tooth: string;
  /** ISO 8601 dates, or empty; both days count. */
  readonly from: string;
  readonly to: string;
  readonly breaches: 'any' | 'some' | 'none';
  readonly mode: 'any' | 'patient' | 'rehearsal';
}

export const NO_FILTER: CaseFilter = {
  words: '',
  tooth: '',
  from: '',
  to: '',
  breaches: 'any',
  mode: 'any',
};

const searchText = (facts: CaseFacts): string =>
  [
    facts.title,
    facts.chartRef,
    facts.protocol,
    ...facts.people,
    ...facts.lots.flatMap((l) => [l.materialClass, l.label, l.lot]),
  ]
    .join('\n')
    .toLowerCase();

/**
 * Whether a case is shown.
 * @param dayOf the ISO 8601 date of an instant in the tablet's own zone.
 */
export function fits(
  facts: CaseFacts,
  filter: CaseFilter,
  dayOf: (wallMs: number) => string,
): boolean {
  const day = dayOf(facts.openedWallMs);
  const words = filter.words.toLowerCase().split(/\s+/).filter(Boolean);
  const text = searchText(facts);
  return (
    words.every((word) => text.includes(word)) &&
    (filter.tooth === '' || facts.teeth.includes(filter.tooth)) &&
    (filter.from === '' || day >= filter.from) &&
    (filter.to === '' || day <= filter.to) &&
    (filter.breaches === 'any' || facts.breaches > 0 === (filter.breaches === 'some')) &&
    (filter.mode === 'any' || facts.mode === filter.mode)
  );
}

/** Lots are compared without case and blanks: people type them from a tube. */
export const sameLot = (a: string, b: string): boolean => lotKey(a) === lotKey(b);

const lotKey = (lot: string): string => lot.replace(/\s/g, '').toUpperCase();

export interface LotUse {
  readonly facts: CaseFacts;
  readonly used: readonly UsedLot[];
}

/** The cases that used a lot, newest first. */
export function casesWithLot(all: readonly CaseFacts[], lot: string): readonly LotUse[] {
  return all
    .flatMap((facts) => {
      const used = facts.lots.filter((l) => sameLot(l.lot, lot));
      return used.length > 0 ? [{ facts, used }] : [];
    })
    .toSorted((a, b) => b.facts.openedWallMs - a.facts.openedWallMs);
}
