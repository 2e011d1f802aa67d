/** Broken promises of a clinic's store, to see that the simulator finds each of them out. */
import type { ClinicStore } from '../../src/sync/store-types.ts';
import type { ToldFold } from './clinic-checks.ts';
import type { ClinicFaultName } from './clinic-faults.ts';
import type { Tablet } from './tablet.ts';

export interface ClinicSpoil {
  /** The store as a tablet sees it. */
  readonly store?: (store: ClinicStore, tablet: Tablet) => ClinicStore;
  readonly isEverySignatureGood?: boolean;
  /** A tablet is shut out at the server, and nobody tells the others. */
  readonly isPutOutUnsaid?: boolean;
  /** What tablets show of everything. */
  readonly shown?: (told: ToldFold) => ToldFold;
  /** Only these go wrong, so that what is looked for comes soon. */
  readonly only?: readonly ClinicFaultName[];
}

/** One tablet never reads every fourth message of entries. */
export const skipping = (store: ClinicStore, tablet: Tablet): ClinicStore => {
  if (tablet.name !== 'C') return store;
  return {
    ...store,
    get: async (at) => {
      const got = await store.get(at);
      const isSkipped =
        at.stream === 'J' && got.ok && got.value !== null && got.value.seq % 4 === 0;
      return isSkipped ? store.get({ ...at, seq: at.seq + 1 }) : got;
    },
  };
};

/** Every tablet shows all cases without their last entry. */
export const shortened = (told: ToldFold): ToldFold => ({
  ...told,
  cases: new Map(
    [...told.cases].map(([caseId, { going, all }]) => {
      const last = going.at(-1) ?? '';
      const left = new Map([...all].filter(([hash]) => hash !== last));
      return [caseId, { going: going.slice(0, -1), all: left }];
    }),
  ),
});
