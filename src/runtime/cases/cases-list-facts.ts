/**
 * What the list of cases can be searched by, worked out from a case's log once and kept in memory
 * under the hash of its last entry; and which cases used a lot. Pure.
 */
import { MS_PER_DAY } from '../../base/units.ts';
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
  /** Its entries lie on the clinic's store alone, and are fetched when it is opened. */
  readonly isStoreOnly?: true;
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

/** Tens of thousands of lines that are not read yet share it. */
const NONE: readonly never[] = [];

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
    teeth: NONE,
    people: NONE,
    protocol: '',
    lots: NONE,
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

/** The same answer for the same thing: thousands of cases share few of them. */
function once<T>(test: (of: T) => boolean): (of: T) => boolean {
  const known = new Map<T, boolean>();
  return (of) => {
    const before = known.get(of);
    if (before !== undefined) return before;
    const answer = test(of);
    known.set(of, answer);
    return answer;
  };
}

/** Whether a word is found in anything that people search a case by. */
function wordFinder(word: string): (facts: CaseFacts) => boolean {
  const isInText = (text: string): boolean => text.toLowerCase().includes(word);
  const isInShared = once(isInText);
  const isInPeople = once((people: readonly string[]) => people.some(isInText));
  const isInLot = once((lot: UsedLot) => lotText(lot).includes(word));
  const isInLots = once((lots: readonly UsedLot[]) => lots.some(isInLot));
  return ({ title, chartRef, protocol, people, lots }) =>
    isInText(chartRef) ||
    isInShared(title) ||
    isInShared(protocol) ||
    isInPeople(people) ||
    isInLots(lots);
}

const ISO_DAY = /^\d{4}-\d\d-\d\d$/;

/**
 * Whether an instant lies on a day or after it. No clock of the world is a whole day off UTC: a zone is asked for
 * the instants around midnight alone.
 */
function sinceDay(day: string, dayOf: (wallMs: number) => string): (wallMs: number) => boolean {
  const midnightMs = ISO_DAY.test(day) ? Date.parse(`${day}T00:00Z`) : Number.NaN;
  return (wallMs) => {
    if (wallMs - midnightMs >= MS_PER_DAY) return true;
    return wallMs - midnightMs < -MS_PER_DAY ? false : dayOf(wallMs) >= day;
  };
}

/** Whether an instant lies on a day or before it. */
function upToDay(day: string, dayOf: (wallMs: number) => string): (wallMs: number) => boolean {
  const endMs = ISO_DAY.test(day) ? Date.parse(`${day}T00:00Z`) + MS_PER_DAY : Number.NaN;
  return (wallMs) => {
    if (wallMs - endMs < -MS_PER_DAY) return true;
    return wallMs - endMs >= MS_PER_DAY ? false : dayOf(wallMs) <= day;
  };
}

/**
 * What tells whether a case is shown. Made once for a search: it remembers what it found in parts that cases share.
 * @param dayOf the ISO 8601 date of an instant in the clinic's zone.
 */
export function caseFinder(
  filter: CaseFilter,
  dayOf: (wallMs: number) => string,
): (facts: CaseFacts) => boolean {
  const { breaches, mode, tooth, from, to } = filter;
  const words = filter.words.toLowerCase().split(/\s+/).filter(Boolean).map(wordFinder);
  const isSince = from === '' ? null : sinceDay(from, dayOf);
  const isUpTo = to === '' ? null : upToDay(to, dayOf);
  return (facts) =>
    words.every((isIn) => isIn(facts)) &&
    (tooth === '' || facts.teeth.includes(tooth)) &&
    (isSince === null || isSince(facts.openedWallMs)) &&
    (isUpTo === null || isUpTo(facts.openedWallMs)) &&
    (breaches === 'any' ||
      (facts.breaches !== null &&
        (breaches === 'some'
          ? facts.breaches > 0
          : facts.breaches + (facts.perhaps ?? 0) === 0))) &&
    (mode === 'any' || facts.mode === mode);
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
  readonly #lotLists = new Map<string, readonly UsedLot[]>();
  readonly #numbers = new Map<UsedLot, number>();

  /** The same facts, made of shared parts. */
  of(facts: CaseFacts): CaseFacts {
    return {
      ...facts,
      title: this.#text(facts.title),
      protocol: this.#text(facts.protocol),
      teeth: this.#list(facts.teeth),
      people: this.#list(facts.people),
      lots: this.#lotList(facts.lots.map((lot) => this.#lot(lot))),
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
    if (known === undefined) {
      this.#lots.set(key, lot);
      this.#numbers.set(lot, this.#numbers.size);
    }
    return known ?? lot;
  }

  /** Cases of one batch of boxes name the same lots. */
  #lotList(lots: readonly UsedLot[]): readonly UsedLot[] {
    const key = lots.map((lot) => this.#numbers.get(lot)).join();
    const known = this.#lotLists.get(key);
    if (known === undefined) this.#lotLists.set(key, lots);
    return known ?? lots;
  }
}
