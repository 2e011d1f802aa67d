/**
 * A protocol that takes over some changes of a template must hold together afterwards: where a chosen
 * change alone would leave a fault, the other changes of the entries at fault come along.
 */
import { checkProtocol } from './check-protocol.ts';
import { type Change, changeId, editsForChanges } from './diff.ts';
import { replayEdits } from './edit.ts';
import { itemAt, spotOfPlace } from './edit-types.ts';
import type { Finding } from './finding.ts';
import { namedIn, withNeeded } from './open-corrections.ts';
import type { Protocol } from './types.ts';

interface Sides {
  readonly here: Protocol;
  readonly template: Protocol;
  /** Every difference between the two. */
  readonly all: readonly Change[];
}

const ownerOf = ({ part, id }: Pick<Change, 'part' | 'id'>): string => `${part}/${id}`;

const errorsOf = (protocol: Protocol): readonly Finding[] =>
  checkProtocol(protocol).filter(({ level }) => level === 'error');

/** Names a fault by the entry it is in, so that a fault from before can be told from a new one. */
function faultName(protocol: Protocol, { place, code }: Finding): string {
  const spot = spotOfPlace(protocol, place);
  return spot === null ? `${code} ${place}` : `${code} ${ownerOf(spot)} ${spot.key}`;
}

/** The entries that a fault is about, by its place and by the steps that it tells in a chain. */
function atFault(protocol: Protocol, { place, values }: Finding): readonly string[] {
  const spot = spotOfPlace(protocol, place);
  const chain = Object.values(values).flat().map(String);
  const steps = protocol.steps.filter(({ title }) => chain.includes(title));
  return [...(spot === null ? [] : [ownerOf(spot)]), ...steps.map(({ id }) => `steps/${id}`)];
}

/** What the entries name in turn, as `part/id`. */
function namedBy(protocol: Protocol, owners: ReadonlySet<string>): ReadonlySet<string> {
  const entries = [...owners].flatMap((owner) => {
    const [part, id = ''] = owner.split('/');
    return part === 'steps' || part === 'windows' || part === 'waysBack'
      ? [itemAt(protocol, { part, id })]
      : [];
  });
  return new Set(entries.flatMap((entry) => namedIn(entry, '')));
}

/** The outcome of these changes and the faults that were not there before; null when it is none. */
function newFaults(taken: readonly Change[], { here, template }: Sides) {
  const outcome = replayEdits(here, editsForChanges(taken, template, here));
  if (!outcome.ok) return null;
  const protocol = outcome.value;
  const before = new Set(errorsOf(here).map((fault) => faultName(here, fault)));
  const faults = errorsOf(protocol).filter((fault) => !before.has(faultName(protocol, fault)));
  return { protocol, faults };
}

/** The chosen changes with those that the outcome cannot hold together without. */
export function takenWhole(chosen: readonly Change[], sides: Sides): readonly Change[] {
  const { all } = sides;
  let taken = withNeeded(chosen, all);
  // Each round takes at least one change more, so it ends with all of them at the latest.
  for (;;) {
    const outcome = newFaults(taken, sides);
    if (outcome?.faults.length === 0 || taken.length === all.length) return taken;
    if (outcome === null) return all;
    const ids = new Set(taken.map(changeId));
    const left = all.filter((change) => !ids.has(changeId(change)));
    const { protocol, faults } = outcome;
    const owners = new Set(faults.flatMap((fault) => atFault(protocol, fault)));
    const own = left.filter((change) => owners.has(ownerOf(change)));
    const named = namedBy(protocol, owners);
    const more = own.length > 0 ? own : left.filter((change) => named.has(ownerOf(change)));
    taken = more.length === 0 ? all : withNeeded([...taken, ...more], all);
  }
}
