/**
 * The cases of a lot that has to be followed up: chart reference, day, the teeth that it was used on and
 * what was bonded there. What cannot be read is told as such. Pure: a case's log in, rows out.
 */
import { layoutOf } from '../engine/layout.ts';
import type { CaseLog } from '../engine/log.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { type Column, csv } from './csv.ts';
import type { MaterialUse } from './export-source.ts';
import { lotUses, typedLots } from './named-materials.ts';

interface SlotUse {
  readonly slot: string;
  /** Titles of the steps; empty where the lot was named and no step that asks for it was begun. */
  readonly steps: readonly string[];
  /** Typed as it is printed, not taken from the list. */
  readonly isTyped: boolean;
}

/** What one case says of a lot. */
export interface LotInCase {
  /** It stands in the note that the case was prepared with. */
  readonly isNoted: boolean;
  readonly uses: readonly SlotUse[];
  /** ISO 3950, in the order of the case. */
  readonly teeth: readonly string[];
  /** Restoration and material of each unit on these teeth, as the case file has them. */
  readonly bonded: readonly {
    readonly teeth: readonly string[];
    readonly restoration: string;
    readonly material: string;
  }[];
}

/** Whether a text names the lot, alone or among other words. */
type IsLot = (text: string) => boolean;

/** @returns null where the lot stands nowhere in the case. */
export function lotInCase({ state }: Pick<CaseLog, 'state'>, isLot: IsLot): LotInCase | null {
  const { protocol, spec } = state.opened;
  const titlesOf = (used: MaterialUse['usedFor']): readonly string[] => {
    const ids = new Set(used.map(({ step }) => step));
    return [...new Set(protocol.steps.filter(({ id }) => ids.has(id)).map(({ title }) => title))];
  };
  const typed = typedLots(state).filter(({ lot }) => isLot(lot));
  const found = protocol.slots.flatMap(({ id, label }) => [
    ...lotUses(state, id)
      .filter(({ material }) => isLot(material.lot))
      .map(({ usedFor }) => ({ slot: label, usedFor, isTyped: false })),
    ...typed
      .filter(({ slot }) => slot === id)
      .map(({ usedFor }) => ({ slot: label, usedFor, isTyped: true })),
  ]);
  const isNoted = isLot(spec.note ?? '');
  if (found.length === 0 && !isNoted) return null;
  const { subjects } = layoutOf(state);
  const used = new Set(
    found.flatMap(({ usedFor }) =>
      usedFor.flatMap(({ subject }) => subjects.teethOf(subject as SubjectId)),
    ),
  );
  const units = spec.units.filter((unit) => unit.teeth.some((tooth) => used.has(tooth)));
  return {
    isNoted,
    uses: found.map(({ slot, usedFor, isTyped }) => ({ slot, steps: titlesOf(usedFor), isTyped })),
    teeth: spec.units.flatMap(({ teeth }) => teeth).filter((tooth) => used.has(tooth)),
    bonded: units.map(({ teeth, restoration, material }) => ({ teeth, restoration, material })),
  };
}

export const STANDINGS = ['prepared', 'running', 'closed', 'cannot-tell'] as const;

/** One line of the list of whom to call. */
export interface CallRow {
  readonly caseId: string;
  readonly chartRef: string;
  readonly title: string;
  /** Null where not even that is known. */
  readonly mode: 'patient' | 'rehearsal' | null;
  readonly standing: (typeof STANDINGS)[number];
  /** The calendar day of its opening, or of its appointment, ISO 8601; null where none is known. */
  readonly day: string | null;
  /** False where a part of the case cannot be read: the lot may have been used in that too. */
  readonly isWhole: boolean;
  /** Null where the case cannot be read, and where nothing was used yet. */
  readonly lot: LotInCase | null;
}

const joined = (parts: readonly string[]): string | null => parts.join('; ') || null;

const columns = (lot: string): readonly Column<CallRow>[] => [
  { name: 'lot', of: () => lot },
  { name: 'chart_reference', of: (row) => row.chartRef },
  { name: 'case_title', of: (row) => row.title },
  { name: 'kind', of: (row) => row.mode },
  { name: 'standing', of: (row) => row.standing },
  { name: 'day', of: (row) => row.day },
  { name: 'teeth_fdi', of: (row) => row.lot?.teeth.join(' ') || null },
  {
    name: 'bonded',
    of: (row) =>
      joined(
        (row.lot?.bonded ?? []).map(
          ({ teeth, restoration, material }) => `${teeth.join('-')}: ${restoration}, ${material}`,
        ),
      ),
  },
  {
    name: 'used_for',
    of: (row) =>
      joined(
        (row.lot?.uses ?? []).map(({ slot, steps }) =>
          steps.length === 0 ? slot : `${slot}: ${steps.join(', ')}`,
        ),
      ),
  },
  {
    name: 'lot_entry',
    of: (row) =>
      joined([
        ...new Set((row.lot?.uses ?? []).map(({ isTyped }) => (isTyped ? 'typed' : 'named'))),
        ...(row.lot?.isNoted === true ? ['note'] : []),
      ]),
  },
  { name: 'whole', of: (row) => (row.isWhole ? 'yes' : 'no') },
  { name: 'case', of: (row) => row.caseId },
];

const UNNAMED: CallRow = {
  caseId: '',
  chartRef: '',
  title: '',
  mode: null,
  standing: 'cannot-tell',
  day: null,
  isWhole: false,
  lot: null,
};

/**
 * The list as a table, in the order given.
 * @param o.unnamed cases of which not even the name is left: a line each.
 */
export function callsCsv(
  rows: readonly CallRow[],
  o: { readonly lot: string; readonly unnamed: number },
): string {
  return csv(columns(o.lot), [...rows, ...Array.from({ length: o.unnamed }, () => UNNAMED)]);
}
