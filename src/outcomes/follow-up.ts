/**
 * The follow-up of one case as a fold of its entries, and what is wrong with a visit before it is noted.
 * The order in which entries came does not matter: each names those that its writer knew. Pure.
 */
import { isSameJson } from '../base/json.ts';
import type {
  BondedCase,
  DifferingVisit,
  FollowUp,
  FollowUpSaid,
  KeptVisit,
  Visit,
  VisitSide,
} from './follow-up-types.ts';
import { readFollowUpSaid } from './schema-follow-up.ts';

/** An entry as it was kept. */
export interface Entry {
  readonly id: string;
  readonly said: unknown;
  readonly tablet: string;
  readonly by: string | null;
  readonly atWallMs: number;
}

/** Entries of one case, and which of them their writers knew. */
export interface Entries<E extends Entry = Entry> {
  /** Every entry behind those that it follows. */
  readonly inOrder: readonly E[];
  /** Whether the writer of `b` knew `a`. */
  isBefore(a: E, b: E): boolean;
  /** What a new entry follows. */
  readonly heads: readonly string[];
}

interface Said<E> {
  readonly entry: E;
  readonly said: FollowUpSaid;
}

/** What the writers of all others did not know yet: what was said last, by one or by several. */
export const lastOf = <E extends Entry, T extends { readonly entry: E }>(
  entries: Entries<E>,
  told: readonly T[],
): readonly T[] =>
  told.filter(
    (one) => !told.some((other) => other !== one && entries.isBefore(one.entry, other.entry)),
  );

/** All entries of one visit: what was noted, and everything that corrects or strikes it. */
function byVisit<E extends Entry>(
  told: readonly Said<E>[],
): ReadonlyMap<string, readonly Said<E>[]> {
  const rootOf = new Map<string, string>();
  const groups = new Map<string, Said<E>[]>();
  for (const one of told) {
    const { said, entry } = one;
    if (said.what === 'visited') {
      rootOf.set(entry.id, entry.id);
      groups.set(entry.id, [one]);
    } else if (said.what === 'visit-corrected' || said.what === 'visit-struck') {
      // One that corrects what is not here yet stands for itself until that comes.
      const root = rootOf.get(said.of) ?? said.of;
      rootOf.set(entry.id, root);
      const group = groups.get(root);
      if (group === undefined) groups.set(root, [one]);
      else group.push(one);
    }
  }
  return groups;
}

function sideOf<E extends Entry>({ entry, said }: Said<E>): VisitSide | null {
  const { id, by, tablet, atWallMs } = entry;
  const teller = { id, by, tablet, atWallMs };
  switch (said.what) {
    case 'visited':
      return { ...teller, visit: said.visit, reason: '' };
    case 'visit-corrected':
      return { ...teller, visit: said.visit, reason: said.reason };
    case 'visit-struck':
      return { ...teller, visit: null, reason: said.reason };
    default:
      return null;
  }
}

interface FoldedVisit {
  readonly kept: KeptVisit | null;
  readonly struck: FollowUp['struck'][number] | null;
  readonly differing: DifferingVisit | null;
}

function earlier<E extends Entry>(
  entries: Entries<E>,
  { group, at }: { readonly group: readonly Said<E>[]; readonly at: E },
): KeptVisit['was'] {
  const before = group.filter(({ entry }) => entry === at || entries.isBefore(entry, at));
  return before.flatMap(({ entry, said }, n) => {
    const next = before[n + 1]?.said;
    if (entry === at || !('visit' in said)) return [];
    return [
      { id: entry.id, visit: said.visit, reason: next && 'reason' in next ? next.reason : '' },
    ];
  });
}

function foldVisit<E extends Entry>(
  entries: Entries<E>,
  root: string,
  group: readonly Said<E>[],
): FoldedVisit {
  const last = lastOf(entries, group);
  const sides = last.flatMap((one) => sideOf(one) ?? []);
  const standing = last.find(({ said }) => 'visit' in said);
  if (standing === undefined) {
    const [side] = sides;
    const visit = group.flatMap(({ said }) => ('visit' in said ? [said.visit] : [])).at(-1);
    const struck = side && visit ? { id: side.id, of: root, visit, reason: side.reason } : null;
    return { kept: null, struck, differing: null };
  }
  const { entry, said } = standing;
  const { id, by, atWallMs } = entry;
  const was = earlier(entries, { group, at: entry });
  const kept = 'visit' in said ? { id, visit: said.visit, by, atWallMs, was } : null;
  // Two that say the same of it are one.
  const isSame = sides.every(
    (side) => side === sides[0] || isSameJson(side.visit, sides[0]?.visit),
  );
  return { kept, struck: null, differing: isSame ? null : { visit: root, sides } };
}

/** The bonding that holds: the last that was not withdrawn. Two tablets that worked it out say the same. */
function bondedOf<E extends Entry>(
  entries: Entries<E>,
  told: readonly Said<E>[],
): BondedCase | null {
  const withdrawn = new Set(
    told.flatMap(({ said }) => (said.what === 'bonding-withdrawn' ? [said.of] : [])),
  );
  const standing = told.filter(
    ({ said, entry }) => said.what === 'bonded' && !withdrawn.has(entry.id),
  );
  const said = lastOf(entries, standing)[0]?.said;
  return said?.what === 'bonded' ? said : null;
}

function endedOf<E extends Entry>(
  entries: Entries<E>,
  told: readonly Said<E>[],
): FollowUp['recallsEnded'] {
  const all = told.filter(
    ({ said }) => said.what === 'recalls-ended' || said.what === 'recalls-resumed',
  );
  // Where two tablets differ, somebody goes on being asked for.
  const last = lastOf(entries, all);
  const ended = last.flatMap(({ said }) => (said.what === 'recalls-ended' ? [said] : []));
  const [first] = ended;
  if (first === undefined || ended.length < last.length) return null;
  return { reason: first.reason, onDay: first.onDay };
}

const byDay = (a: KeptVisit, b: KeptVisit): number =>
  a.visit.onDay < b.visit.onDay ? -1 : a.visit.onDay > b.visit.onDay ? 1 : a.id < b.id ? -1 : 1;

/** The follow-up of one case. */
export function foldFollowUp<E extends Entry>(caseId: string, entries: Entries<E>): FollowUp {
  const read = entries.inOrder.map((entry) => ({ entry, said: readFollowUpSaid(entry.said) }));
  const told = read.flatMap(({ entry, said }) => (said === null ? [] : [{ entry, said }]));
  const visits = [...byVisit(told)].map(([root, group]) => foldVisit(entries, root, group));
  return {
    caseId,
    bonded: bondedOf(entries, told),
    visits: visits.flatMap(({ kept }) => kept ?? []).toSorted(byDay),
    struck: visits.flatMap(({ struck }) => struck ?? []),
    recallsEnded: endedOf(entries, told),
    differing: visits.flatMap(({ differing }) => differing ?? []),
    unread: read.flatMap(({ entry, said }) => (said === null ? [entry.id] : [])),
    heads: entries.heads,
  };
}

/** The day on which anything of the case was last seen; null where nothing was. */
export function lastSeenOn({ visits }: FollowUp): string | null {
  const seen = ({ visit }: { readonly visit: Visit }): boolean =>
    visit.units.some(({ findings }) => findings.some((finding) => finding !== 'not-seen'));
  return visits.findLast(seen)?.visit.onDay ?? null;
}
