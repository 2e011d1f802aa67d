/**
 * What two tablets tell differently of one item: each wrote without knowing of the other, and somebody has to
 * say which holds. Nothing is decided here. Input: the facts of the clinic by their kind, and the revisions
 * that they make; the answer does not depend on their order.
 */
import { isSameJson } from '../../base/json.ts';
import { type ContradictionKind, contradictionsIn } from '../../outcomes/contradictions.ts';
import { foldFollowUp } from '../../outcomes/follow-up.ts';
import type { FollowUp, UnitFound } from '../../outcomes/follow-up-types.ts';
import { laterBondings, takenOnIn } from '../../outcomes/later-bondings.ts';
import type { Question } from '../../outcomes/review-types.ts';
import { foldReviews } from '../../outcomes/reviews.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import { parseSheet } from '../../protocol/sheet-schema.ts';
import type { Fact } from '../facts/fact.ts';
import { byItem, FactHistory } from '../facts/fact-history.ts';
import type { Revision } from '../lead/lead-revisions.ts';
import { sheetHash, sheetSaidSchema } from '../lead/sheets.ts';
import { preparedEntry } from '../library/case-facts.ts';
import { type ClinicPerson, personSides } from '../library/people-facts.ts';
import { type StockEntry, stockEntry, writtenBy } from '../stock/stock-facts.ts';
import type { Fork } from './forks.ts';

/** Where one of the values comes from. */
export interface Teller {
  /** Id of the tablet. */
  readonly tablet: string;
  /** Null where nobody was named. */
  readonly by: string | null;
  /** By the clock of that tablet. */
  readonly atWallMs: number;
}

export type Conflict =
  | {
      readonly kind: 'prepared-case';
      readonly id: string;
      readonly title: string;
      /** The one that is shown meanwhile, with the allergies of all. */
      readonly shown: CaseFile;
      readonly sides: readonly (Teller & { readonly spec: CaseFile })[];
    }
  | {
      /** One case, written on two tablets from one place on; nobody chooses: both are kept. */
      readonly kind: 'fork';
      readonly id: string;
      /** Number of the first entry that differs, from 0. */
      readonly at: number;
      /** The first is the one in this tablet's journal. */
      readonly sides: readonly (Teller & {
        readonly entries: number;
        readonly withoutPen?: true;
      })[];
    }
  | {
      readonly kind: 'material';
      /** The item of the stock list. */
      readonly id: string;
      readonly label: string;
      readonly lot: string;
      readonly field: string;
      /** Null is a field that was taken away. */
      readonly sides: readonly (Teller & { readonly value: unknown })[];
    }
  | {
      readonly kind: 'sheet';
      readonly id: string;
      readonly title: string;
      readonly sides: readonly (Teller & { readonly revision: string; readonly lines: number })[];
    }
  | {
      readonly kind: 'protocol';
      readonly id: string;
      readonly title: string;
      readonly revision: number;
      readonly sides: readonly (Teller & { readonly hash: string })[];
    }
  | {
      readonly kind: 'person';
      readonly id: string;
      /** As the list shows them meanwhile. */
      readonly name: string;
      readonly sides: readonly (Teller & ClinicPerson)[];
    }
  | {
      /** One visit of a follow-up; it is chosen where the visits of the case stand. */
      readonly kind: 'visit';
      /** The case. */
      readonly id: string;
      /** Id of the entry of the visit. */
      readonly visit: string;
      readonly title: string;
      readonly sides: readonly (Teller & {
        /** Null where this side struck the visit. */
        readonly onDay: string | null;
        readonly units: number;
        readonly reason: string;
      })[];
    }
  | {
      /** Visits of one case that cannot all be so; one is corrected where the visits of the case stand. */
      readonly kind: 'visits';
      /** The case. */
      readonly id: string;
      readonly title: string;
      readonly of: ContradictionKind;
      readonly unit: string;
      readonly sides: readonly (Teller & { readonly onDay: string; readonly found: UnitFound })[];
    }
  | {
      /** What is asked of the outcomes; it is chosen where the outcomes stand. */
      readonly kind: 'question';
      readonly id: string;
      readonly sides: readonly (Teller & { readonly question: Question })[];
    };

export interface ToldFacts {
  readonly prepared: readonly Fact[];
  readonly materials: readonly Fact[];
  readonly sheets: readonly Fact[];
  readonly people: readonly Fact[];
  /** Of cases whose visits may not agree, and of all cases of their patients. */
  readonly followUps: readonly Fact[];
  /** The question that is asked of the outcomes. */
  readonly questions: readonly Fact[];
  readonly protocols: readonly Fact[];
  readonly revisions: readonly Revision[];
}

const tellerOf = ({ tablet, by, atWallMs }: Teller): Teller => ({ tablet, by, atWallMs });

/** Who said an entry of a fold, which does not tell its tablet. */
function tellersIn(facts: readonly Fact[]) {
  const tabletOf = new Map(facts.map(({ id, tablet }) => [id, tablet]));
  return ({ id, by, atWallMs }: Pick<Fact, 'id' | 'by' | 'atWallMs'>): Teller => ({
    tablet: tabletOf.get(id) ?? '',
    by,
    atWallMs,
  });
}

function ofPrepared(id: string, facts: readonly Fact[]): readonly Conflict[] {
  const { spec, sides } = preparedEntry(facts);
  if (spec === null || sides.length < 2) return [];
  const told = sides.map((side) => ({ ...tellerOf(side.fact), spec: side.spec }));
  return [{ kind: 'prepared-case', id, title: spec.title, shown: spec, sides: told }];
}

/** Whoever wrote a value into a field last; null where nobody did, as of what an old entry did not have. */
function writerOf(
  { events }: StockEntry,
  o: { readonly field: string; readonly value: unknown },
): Teller | null {
  const wrote = events.findLast(({ said }) => {
    const written = writtenBy(said);
    const isTold = said.type === 'was' || Object.hasOwn(written, o.field);
    return isTold && isSameJson(written[o.field] ?? null, o.value);
  });
  return wrote === undefined ? null : tellerOf(wrote);
}

function ofMaterial(id: string, facts: readonly Fact[]): readonly Conflict[] {
  const entry = stockEntry(facts);
  if (entry === null || entry.isStruck || entry.material.goneOnWallMs !== undefined) return [];
  const { label, lot } = entry.material;
  return entry.differing.map(({ field, values }): Conflict => {
    const sides = values.flatMap((value) => {
      const teller = writerOf(entry, { field, value });
      return teller === null ? [] : [{ ...teller, value }];
    });
    return { kind: 'material', id, label, lot, field, sides };
  });
}

function ofSheet(id: string, facts: readonly Fact[]): readonly Conflict[] {
  const history = new FactHistory(facts);
  const found = new Map<string, Teller & { revision: string; lines: number; document: string }>();
  for (const fact of history.lastOf(history.inOrder)) {
    const said = parsedOr(sheetSaidSchema, fact.said);
    const parsed = said?.type === 'written' ? parseSheet(said.sheet) : null;
    if (!parsed?.ok || parsed.value.id !== id) continue;
    const { document, revision, lines } = parsed.value;
    found.set(sheetHash(parsed.value), {
      ...tellerOf(fact),
      document,
      revision,
      lines: lines.length,
    });
  }
  const [first, ...others] = found.values();
  if (first === undefined || others.length === 0) return [];
  const sides = [first, ...others].map(({ document: _, ...side }) => side);
  return [{ kind: 'sheet', id, title: first.document, sides }];
}

function ofPerson(id: string, facts: readonly Fact[]): readonly Conflict[] {
  const sides = personSides(facts).map(({ fact, name, role }) => ({
    ...tellerOf(fact),
    name,
    role,
  }));
  const shown = sides.at(-1);
  return shown === undefined || sides.length < 2
    ? []
    : [{ kind: 'person', id, name: shown.name, sides }];
}

function ofVisits(followUp: FollowUp): readonly Conflict[] {
  const { caseId: id, bonded, differing } = followUp;
  return differing.map(({ visit, sides }): Conflict => {
    const told = sides.map((side) => ({
      ...tellerOf(side),
      onDay: side.visit?.onDay ?? null,
      units: side.visit?.units.length ?? 0,
      reason: side.reason,
    }));
    return { kind: 'visit', id, visit, title: bonded?.title || id, sides: told };
  });
}

/** Visits that differ among themselves, and those of one unit that cannot all be so. */
function ofFollowUps(facts: readonly Fact[]): readonly Conflict[] {
  const items = [...byItem(facts)].toSorted(([a], [b]) => (a < b ? -1 : 1));
  const folded = items.map(([id, own]) => foldFollowUp(id, new FactHistory(own)));
  const laterOf = laterBondings(folded);
  const tellerOfEntry = tellersIn(facts);
  return folded.flatMap((followUp): readonly Conflict[] => {
    const { caseId: id, bonded } = followUp;
    const contradicting = contradictionsIn(followUp, takenOnIn(laterOf, id)).map(
      ({ kind, unit, sights }): Conflict => {
        const sides = sights.map(({ kept, found }) => ({
          ...tellerOfEntry(kept),
          onDay: kept.visit.onDay,
          found,
        }));
        return { kind: 'visits', id, title: bonded?.title || id, of: kind, unit, sides };
      },
    );
    return [...ofVisits(followUp), ...contradicting];
  });
}

function ofQuestion(id: string, facts: readonly Fact[]): readonly Conflict[] {
  const { differing } = foldReviews([new FactHistory(facts)]).reviews;
  const tellerOfEntry = tellersIn(facts);
  const sides = differing.map(({ id: entry, by, atWallMs, ...question }) => ({
    ...tellerOfEntry({ id: entry, by, atWallMs }),
    question,
  }));
  return sides.length < 2 ? [] : [{ kind: 'question', id, sides }];
}

const saysOf = (said: unknown): string | null => {
  const isConfirmed = typeof said === 'object' && said !== null && 'hash' in said;
  return isConfirmed && typeof said.hash === 'string' ? said.hash : null;
};

/** Confirmed revisions of one number, of which none is retired. */
function ofProtocols({ protocols, revisions }: ToldFacts): readonly Conflict[] {
  const groups = new Map<string, Revision[]>();
  for (const revision of revisions) {
    const { protocol, approval, elsewhere, retirement } = revision;
    if ((approval ?? elsewhere) === null || retirement !== null) continue;
    const key = `${protocol.id} ${protocol.revision}`;
    groups.set(key, [...(groups.get(key) ?? []), revision]);
  }
  return [...groups.values()].flatMap((group): readonly Conflict[] => {
    const [first] = group;
    if (first === undefined || group.length < 2) return [];
    const sides = group.map(({ hash, approval, elsewhere }) => {
      const fact = protocols.find(({ said }) => saysOf(said) === hash);
      const given = approval ?? elsewhere;
      return {
        hash,
        tablet: fact?.tablet ?? '',
        by: given?.by ?? null,
        atWallMs: given?.onWallMs ?? 0,
      };
    });
    const { id, title, revision } = first.protocol;
    return [{ kind: 'protocol', id, title, revision, sides }];
  });
}

/** Cases with two ends. */
export const forkConflicts = (forks: readonly Fork[]): readonly Conflict[] =>
  forks.map(({ caseId, at, ends }) => ({
    kind: 'fork',
    id: caseId,
    at,
    sides: ends.map(({ device, entries, withoutPen }) => ({
      tablet: device,
      // Who pressed stands in the record; here only the tablets are told apart.
      by: null,
      atWallMs: entries[0]?.stamp.wallMs ?? 0,
      entries: entries.length,
      ...(withoutPen && { withoutPen }),
    })),
  }));

/** What can hurt first: prepared cases, then protocols, materials, sheets, people, visits, what is asked of the outcomes. */
export function conflictsIn(told: ToldFacts): readonly Conflict[] {
  const each = (
    facts: readonly Fact[],
    of: (id: string, facts: readonly Fact[]) => readonly Conflict[],
  ): readonly Conflict[] =>
    [...byItem(facts)]
      .toSorted(([a], [b]) => (a < b ? -1 : 1))
      .flatMap(([id, ofItem]) => (ofItem.length < 2 ? [] : of(id, ofItem)));
  return [
    ...each(told.prepared, ofPrepared),
    ...ofProtocols(told),
    ...each(told.materials, ofMaterial),
    ...each(told.sheets, ofSheet),
    ...each(told.people, ofPerson),
    ...ofFollowUps(told.followUps),
    ...each(told.questions, ofQuestion),
  ];
}
