/** What screens show of the clinic's store, put together from what the engine knows. Pure. */
import type { Membership } from '../../sync/sealed-types.ts';
import type { KeptBox } from './box-facts.ts';
import type { Engine } from './engine.ts';
import type { SharedTimes } from './kept-membership.ts';
import { NOT_LET_IN, NOT_SHARING, type SharingState, type TabletRow } from './sharing-state.ts';

/** A tablet is said to have been heard of later only once it is by so much, ms: screens are not drawn for less. */
const HEARD_STEP_MS = 5000;

const coarse = (ms: number): number => Math.floor(ms / HEARD_STEP_MS) * HEARD_STEP_MS;

/** What is known of a tablet beside what the lead said: heard, or its own of the one that is looked at. */
interface Known {
  readonly tablet: string | undefined;
  readonly lastContactWallMs: number | null;
  readonly owes: number | null;
  readonly runs: TabletRow['runs'];
}

function knownOf({ heard, writesAs, membership, own, state }: Engine, device: string): Known {
  if (device === membership.device) {
    return { tablet: own.tablet, lastContactWallMs: null, owes: state.owed, runs: own.runs };
  }
  const last = heard.get(device);
  return {
    tablet: last?.tablet ?? writesAs.get(device),
    lastContactWallMs: last === undefined ? null : coarse(last.atWallMs),
    owes: last?.owed ?? null,
    runs: last?.runs ?? null,
  };
}

function rows(engine: Engine): readonly TabletRow[] {
  const known = [...engine.members.values()].map((member) => ({
    member,
    ...knownOf(engine, member.device),
  }));
  const writes = ({ member, tablet }: (typeof known)[number]): string => tablet ?? member.device;
  const isEarlier = (one: (typeof known)[number]): boolean =>
    known.some(
      (other) =>
        writes(other) === writes(one) && other.member.pairedAtWallMs > one.member.pairedAtWallMs,
    );
  return known
    .map((one): TabletRow => {
      const { member, tablet, lastContactWallMs, owes, runs } = one;
      return {
        device: member.device,
        ...(tablet !== undefined && { tablet }),
        ...(isEarlier(one) && { isEarlier: true }),
        name: member.name,
        isThis: member.device === engine.membership.device,
        standing: member.putOut === null ? 'paired' : 'put-out',
        lastContactWallMs,
        owes,
        runs,
      };
    })
    .toSorted((a, b) => a.name.localeCompare(b.name) || (a.device < b.device ? -1 : 1));
}

/** Of a tablet whose other window shares, or that has just begun. */
export const restingState = (
  membership: Membership,
  times: SharedTimes & Pick<SharingState, 'lookingSinceWallMs'>,
): SharingState => ({
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
    readonly lookingSinceWallMs: number | null;
  },
): SharingState {
  const { membership, members, state } = engine;
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
    tablets: rows(engine),
    lookingSinceWallMs: o.lookingSinceWallMs,
    refused: engine.refused,
    wentBackAtWallMs: engine.wentBackAtWallMs,
    conflicts: o.conflicts,
    box: box && { sealedAtWallMs: box.sealedAtWallMs, isKept: box.isPrinted || box.isBackedUp },
    brokenChains: engine.brokenChains,
    storeOnly: engine.storeOnly.state,
    problem: o.problem ?? lineProblem ?? state.problem,
  };
}
