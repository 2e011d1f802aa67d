/**
 * What the list of cases can be searched by, worked out from a case's log once and kept in memory
 * under the hash of its last entry; and which cases used a lot. Pure.
 */
import type { CaseLog } from '../../engine/log.ts';
import { lotUses, typedLots } from '../../export/named-materials.ts';
import type { CaseSummary } from '../../storage/journal-types.ts';
import { namesLot } from '../stock/names-lot.ts';
import { sameLot } from '../stock/same-lot.ts';

interface UsedLot {
  readonly slot: string;
  readonly slotLabel: string;
  readonly materialClass: string;
  readonly label: string;
  readonly lot: string;
  /** Titles of the steps that were begun while this lot was the one named. */
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
  /** What was noted when the case was prepared. */
  readonly note?: string;
  /** Null while only the summary of the case is known, and when the case does not hold together. */
  readonly breaches: number | null;
  /** Limits that may not have been kept; null as above. */
  readonly perhaps: number | null;
}

function usedLots({ state }: CaseLog): readonly UsedLot[] {
  const { protocol } = state.opened;
  const typed = typedLots(state);
  return protocol.slots.flatMap((slot) => {
    const lots = new Map<string, UsedLot>();
    for (const { material, usedFor } of lotUses(state, slot.id)) {
      const { materialClass, label, lot } = material;
      const used = new Set(usedFor.map((use) => use.step));
      const titles = protocol.steps.filter((step) => used.has(step.id)).map((step) => step.title);
      const steps = [...new Set([...(lots.get(lot)?.steps ?? []), ...titles])];
      lots.set(lot, { slot: slot.id, slotLabel: slot.label, materialClass, label, lot, steps });
    }
    // A lot that was typed as it is printed is on no list; it was used all the same.
    for (const { lot, steps } of typed.filter((each) => each.slot === slot.id)) {
      const { materialClass } = slot;
      if ([...lots.keys()].some((known) => sameLot(known, lot))) continue;
      lots.set(lot, { slot: slot.id, slotLabel: slot.label, materialClass, label: '', lot, steps });
    }
    return [...lots.values()];
  });
}

/** What the summary alone tells, until the case itself was read. */
export function summaryFacts(summary: CaseSummary): CaseFacts {
  return {
    caseId: summary.caseId,
    head: summary.head,
    title: summary.title,
    chartRef: summary.chartRef,
    mode: summary.mode,
    openedWallMs: summary.openedWallMs,
    isClosed: summary.closedByPress !== null,
    teeth: [],
    people: [],
    protocol: '',
    lots: [],
    breaches: null,
    perhaps: null,
  };
}

/**
 * The facts of one case.
 * @param log what of it holds; the summary knows better whether it was closed.
 * @param o.isWhole false when a part of it was set apart: what was kept cannot be told then.
 */
export function caseFacts(
  summary: CaseSummary,
  log: CaseLog,
  o: { readonly isWhole: boolean } = { isWhole: true },
): CaseFacts {
  const { spec, protocol } = log.state.opened;
  const count = (isPerhaps: boolean): number =>
    log.state.breaches.filter(({ perhaps = false }) => perhaps === isPerhaps).length;
  return {
    ...summaryFacts(summary),
    teeth: spec.units.flatMap((unit) => unit.teeth),
    people: spec.people.map((person) => person.label),
    protocol: protocol.title,
    lots: usedLots(log),
    ...(spec.note !== undefined && { note: spec.note }),
    breaches: o.isWhole ? count(false) : null,
    perhaps: o.isWhole ? count(true) : null,
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

/** Lots are shared between cases, and so are their words. */
const lotTexts = new WeakMap<UsedLot, string>();

function lotText(lot: UsedLot): string {
  const known = lotTexts.get(lot);
  if (known !== undefined) return known;
  const text = `${lot.materialClass}\n${lot.label}\n${lot.lot}`.toLowerCase();
  lotTexts.set(lot, text);
  return text;
}

/** Whether a word is found in anything that people search a case by. */
function isIn(facts: CaseFacts, word: string): boolean {
  const { title, chartRef, protocol, people } = facts;
  return (
    [title, chartRef, protocol, ...people].some((text) => text.toLowerCase().includes(word)) ||
    facts.lots.some((lot) => lotText(lot).includes(word))
  );
}

/**
 * Whether a case is shown.
 * @param dayOf the ISO 8601 date of an instant in the clinic's zone.
 */
export function fits(
  facts: CaseFacts,
  filter: CaseFilter,
  dayOf: (wallMs: number) => string,
): boolean {
  const words = filter.words.toLowerCase().split(/\s+/).filter(Boolean);
  const { breaches, mode } = filter;
  return (
    words.every((word) => isIn(facts, word)) &&
    (filter.tooth === '' || facts.teeth.includes(filter.tooth)) &&
    (filter.from === '' || dayOf(facts.openedWallMs) >= filter.from) &&
    (filter.to === '' || dayOf(facts.openedWallMs) <= filter.to) &&
    (breaches === 'any' ||
      (facts.breaches !== null &&
        (breaches === 'some'
          ? facts.breaches > 0
          : facts.breaches + (facts.perhaps ?? 0) === 0))) &&
    (mode === 'any' || facts.mode === mode)
  );
}

interface LotUse {
  readonly facts: CaseFacts;
  /** None where the lot stands only in the note of the preparation. */
  readonly used: readonly UsedLot[];
}

/** The cases that name a lot, newest first. */
export function casesWithLot(all: readonly CaseFacts[], lot: string): readonly LotUse[] {
  return all
    .flatMap((facts) => {
      const used = facts.lots.filter((l) => namesLot(l.lot, lot));
      return used.length > 0 || namesLot(facts.note ?? '', lot) ? [{ facts, used }] : [];
    })
    .toSorted((a, b) => b.facts.openedWallMs - a.facts.openedWallMs);
}

/** Gives equal words and lots one place in memory: thousands of cases use the same few. */
export class SharedFacts {
  readonly #texts = new Map<string, string>();
  readonly #lists = new Map<string, readonly string[]>();
  readonly #lots = new Map<string, UsedLot>();

  /** The same facts, made of shared parts. */
  of(facts: CaseFacts): CaseFacts {
    return {
      ...facts,
      title: this.#text(facts.title),
      protocol: this.#text(facts.protocol),
      teeth: this.#list(facts.teeth),
      people: this.#list(facts.people),
      lots: facts.lots.map((lot) => this.#lot(lot)),
    };
  }

  #text(text: string): string {
    const known = this.#texts.get(text);
    if (known === undefined) this.#texts.set(text, text);
    return known ?? text;
  }

  #list(list: readonly string[]): readonly string[] {
    const key = list.join('\n');
    const known = this.#lists.get(key);
    if (known === undefined) this.#lists.set(key, list);
    return known ?? list;
  }

  #lot(lot: UsedLot): UsedLot {
    const { slot, slotLabel, materialClass, label, steps } = lot;
    const key = [slot, slotLabel, materialClass, label, lot.lot, ...steps].join('\n');
    const known = this.#lots.get(key);
    if (known === undefined) this.#lots.set(key, lot);
    return known ?? lot;
  }
}
