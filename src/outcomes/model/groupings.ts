/**
 * What lives may be put together by: the limits that were fixed in advance, the revision of one protocol,
 * the class of the material, the lot of one class. All of it stood fast when the case was signed. Pure.
 */
import type { FollowUp, LimitState } from '../follow-up-types.ts';
import type { Life } from '../life-types.ts';
import type { GroupKind } from './outcomes-types.ts';

/** Names groups: null where nothing of this is known of a life. */
export interface Grouping {
  readonly id: string;
  readonly kind: GroupKind;
  readonly about: string;
  readonly nameOf: (life: Life) => string | null;
  /** Lives that it is about at all: those of one protocol, those with a lot of one class. */
  readonly isAbout: (life: Life) => boolean;
}

const STATES: readonly LimitState[] = ['broken', 'cannot-tell', 'kept'];

/** Broken where any of them is; kept only where each is. */
function worstOf(life: Life, limits: ReadonlySet<string>): LimitState | null {
  const states = life.unit.limits.filter(({ limit }) => limits.has(limit)).map((l) => l.state);
  return STATES.find((state) => states.includes(state)) ?? null;
}

/** Two steps may bear one title: their ids then tell them apart. */
const toldApart = (limit: string, title: string): string =>
  `${title} (${limit.slice(limit.indexOf('/') + 1)})`;

/** Every limit that a life names, with its title, by title. */
export function limitTitles(lives: readonly Life[]): readonly (readonly [string, string])[] {
  const titles = new Map<string, string>();
  for (const { unit } of lives) {
    for (const { limit, title } of unit.limits) titles.set(limit, title);
  }
  const all = [...titles.values()];
  const isShared = (title: string): boolean => all.indexOf(title) !== all.lastIndexOf(title);
  const named = [...titles].map(
    ([limit, title]) => [limit, isShared(title) ? toldApart(limit, title) : title] as const,
  );
  return named.toSorted(([, a], [, b]) => (a < b ? -1 : a > b ? 1 : 0));
}

function byLimits(lives: readonly Life[], counting: readonly string[]): readonly Grouping[] {
  const titles = new Map(limitTitles(lives));
  const one = (limit: string): Grouping => ({
    id: `limit ${limit}`,
    kind: 'limit',
    about: titles.get(limit) ?? limit,
    nameOf: (life) => worstOf(life, new Set([limit])),
    isAbout: () => true,
  });
  const all = new Set(counting);
  const together: Grouping = {
    id: 'limits',
    kind: 'limits',
    about: '',
    nameOf: (life) => worstOf(life, all),
    isAbout: () => true,
  };
  const each = counting.toSorted().map(one);
  return counting.length > 1 ? [together, ...each] : each;
}

/** Revisions are told by their number, with the beginning of the hash where two share one. */
function byRevision(lives: readonly Life[], followUps: readonly FollowUp[]): readonly Grouping[] {
  const known = new Map<string, { id: string; title: string; revision: number }>();
  for (const { bonded } of followUps) {
    if (bonded?.protocol) known.set(bonded.protocol.hash, bonded.protocol);
  }
  const revisions = [...known].map(([hash, protocol]) => ({ hash, ...protocol }));
  const used = new Set(lives.map(({ revision }) => revision));
  const ids = [...new Set(revisions.map(({ id }) => id))].toSorted();
  return ids.flatMap((id): readonly Grouping[] => {
    const own = revisions.filter((each) => each.id === id && used.has(each.hash));
    if (own.length < 2) return [];
    const names = new Map(
      own.map(({ hash, revision }) => {
        const isShared = own.some((each) => each.hash !== hash && each.revision === revision);
        return [hash, isShared ? `${revision} ${hash.slice(0, 6)}` : String(revision)] as const;
      }),
    );
    return [
      {
        id: `revision ${id}`,
        kind: 'revision',
        about: own[0]?.title ?? id,
        nameOf: ({ revision }) => names.get(revision ?? '') ?? null,
        isAbout: ({ revision }) => names.has(revision ?? ''),
      },
    ];
  });
}

const lotOf = (life: Life, of: string): string | null =>
  life.lots.find(({ materialClass }) => materialClass === of)?.lot ?? null;

/** Of one class a case may name several lots: the first counts, so that no life stands in two groups. */
function byLot(lives: readonly Life[]): readonly Grouping[] {
  const classes = new Set(lives.flatMap(({ lots }) => lots.map((lot) => lot.materialClass)));
  return [...classes].toSorted().flatMap((of): readonly Grouping[] => {
    const lots = new Set(lives.map((life) => lotOf(life, of)).filter((lot) => lot !== null));
    if (lots.size < 2) return [];
    return [
      {
        id: `lot ${of}`,
        kind: 'lot',
        about: of,
        nameOf: (life) => lotOf(life, of),
        isAbout: (life) => lotOf(life, of) !== null,
      },
    ];
  });
}

/** Every grouping, in the order in which the page tells them. */
export function groupingsOf(o: {
  readonly lives: readonly Life[];
  readonly followUps: readonly FollowUp[];
  /** The limits that were fixed in advance. */
  readonly limits: readonly string[];
}): readonly Grouping[] {
  const classes = new Set(o.lives.map(({ unit }) => unit.material));
  const byMaterial: Grouping = {
    id: 'material',
    kind: 'material',
    about: '',
    nameOf: ({ unit }) => unit.material,
    isAbout: () => true,
  };
  return [
    ...byLimits(o.lives, o.limits),
    ...byRevision(o.lives, o.followUps),
    ...(classes.size > 1 ? [byMaterial] : []),
    ...byLot(o.lives),
  ];
}
