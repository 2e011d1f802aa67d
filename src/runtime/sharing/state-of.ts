/** What screens show of the clinic's store, put together from what the engine knows. Pure. */
import type { Members, Membership } from '../../sync/sealed-types.ts';
import type { KeptBox } from './box-facts.ts';
import type { Engine } from './engine.ts';
import type { SharedTimes } from './kept-membership.ts';
import type { HeardTablet } from './presence.ts';
import { NOT_LET_IN, NOT_SHARING, type SharingState, type TabletRow } from './sharing-state.ts';

/** A tablet is said to have been heard of later only once it is by so much, ms: screens are not drawn for less. */
const HEARD_STEP_MS = 5000;

const coarse = (ms: number): number => Math.floor(ms / HEARD_STEP_MS) * HEARD_STEP_MS;

function rows(o: {
  readonly members: Members;
  readonly heard: ReadonlyMap<string, HeardTablet>;
  readonly writesAs: ReadonlyMap<string, string>;
  readonly device: string;
}): readonly TabletRow[] {
  return [...o.members.values()]
    .map((member): TabletRow => {
      const heard = o.heard.get(member.device);
      const tablet = heard?.tablet ?? o.writesAs.get(member.device);
      return {
        device: member.device,
        ...(tablet !== undefined && { tablet }),
        name: member.name,
        isThis: member.device === o.device,
        standing: member.putOut === null ? 'paired' : 'put-out',
        lastContactWallMs: heard === undefined ? null : coarse(heard.atWallMs),
        owes: heard?.owed ?? null,
        runs: heard?.runs ?? null,
      };
    })
    .toSorted((a, b) => a.name.localeCompare(b.name) || (a.device < b.device ? -1 : 1));
}

/** Of a tablet whose other window shares, or that has just begun. */
export const restingState = (membership: Membership, times: SharedTimes): SharingState => ({
  ...NOT_SHARING,
  standing: 'paired',
  isDemo: membership.isDemo,
  name: membership.name,
  ...times,
});

export function stateOf(
  engine: Engine,
  o: {
    readonly times: SharedTimes;
    readonly box: KeptBox | null;
    /** What a person has to choose about; of a case both ends are kept, and nobody chooses. */
    readonly conflicts: number;
    readonly problem: string | null;
  },
): SharingState {
  const { membership, members, state, heard } = engine;
  const { device } = membership;
  const own = members.get(device);
  // The clinic alone puts a tablet out. A server that does not know it may have been made anew.
  const isOut = own !== undefined && own.putOut !== null;
  const lineProblem = state.line === 'refused' && !isOut ? NOT_LET_IN : null;
  const { box } = o;
  return {
    standing: isOut ? 'put-out' : 'paired',
    isDemo: membership.isDemo,
    name: own?.name ?? membership.name,
    line: state.line,
    ...o.times,
    owed: state.owed,
    catchUp: state.catchUp,
    tablets: rows({ members, heard, writesAs: engine.writesAs, device }),
    refused: engine.refused,
    wentBackAtWallMs: engine.wentBackAtWallMs,
    conflicts: o.conflicts,
    box: box && { sealedAtWallMs: box.sealedAtWallMs, isKept: box.isPrinted || box.isBackedUp },
    brokenChains: engine.brokenChains,
    problem: o.problem ?? lineProblem ?? state.problem,
  };
}
