/** Loads what takes part in the clinic's store where this tablet does, and when somebody asks for it. */

import type { AppState } from '../app-state.ts';
import type { FactParts } from '../facts/fact-writer.ts';
import type { LeadDesk } from '../lead/lead.ts';
import type { SessionParts } from '../session-parts.ts';
import type { ClinicSharing } from './clinic-sharing.ts';
import type { SharingParts } from './sharing-parts.ts';

const MARK = 'lutewatch-sharing';

/** The mark that this tablet takes part, beside everything else of it; without storage it takes none. */
export function sharingMark(storage: () => Storage) {
  const or = <T>(run: () => T, none: T): T => {
    try {
      return run();
    } catch {
      return none;
    }
  };
  return {
    isSet: () => or(() => storage().getItem(MARK) !== null, false),
    set: (takesPart: boolean) =>
      or(() => (takesPart ? storage().setItem(MARK, '1') : storage().removeItem(MARK)), undefined),
  };
}

type Open = () => Promise<ClinicSharing>;

function opener(parts: SharingParts): Open {
  let opened: Promise<ClinicSharing> | null = null;
  const open: Open = () => {
    // What could not be loaded now may be there the next time.
    opened ??= import('./clinic-sharing.ts')
      .then(({ ClinicSharing: Made }) => new Made(parts).begin())
      .catch((thrown: unknown) => {
        opened = null;
        throw thrown;
      });
    return opened;
  };
  // Until it is loaded silence says nothing of other tablets.
  if (parts.mark.isSet()) {
    const { sharing } = parts.store.getState();
    const lookingSinceWallMs = parts.clock.stamp().wallMs;
    parts.store.setState({ sharing: { ...sharing, lookingSinceWallMs } });
  }
  let last: AppState['standing'] | null = null;
  const follow = ({ phase, standing }: AppState): void => {
    // The first screen is drawn before anything of it is loaded.
    if (phase !== 'ready' || standing === last) return;
    last = standing;
    if (opened === null && !parts.mark.isSet()) return;
    const isNew = opened === null;
    // Not loaded, as without a network after an update: the next start tries again.
    void open().then(
      (sharing) => (isNew ? undefined : sharing.turned()),
      () => undefined,
    );
  };
  parts.store.subscribe(follow);
  return open;
}

/** The lines of cases that the list need not look up: those that were read already, and those of the store. */
export const linesOf = (
  { store, sharing }: SessionParts,
  open: () => (() => Promise<Pick<ClinicSharing, 'storeOnly'>>) | undefined,
) => ({
  atHand: () => store.getState().cases,
  elsewhere: async () => {
    const opened = sharing?.mark.isSet() ? await open()?.() : undefined;
    return opened?.storeOnly() ?? [];
  },
});

/** What takes part for a session; null where the page cannot. */
export function sharingOf(
  parts: SessionParts,
  around: {
    readonly epoch: () => number | null;
    readonly facts: FactParts;
    readonly desk: () => Promise<LeadDesk>;
  },
): Open | null {
  const { sharing, ...rest } = parts;
  if (sharing === undefined) return null;
  const { desk, ...own } = around;
  const onDesk = (): void => {
    void desk().then(
      (opened) => opened.refresh(),
      () => undefined,
    );
  };
  return opener({ ...rest, ...sharing, ...own, onDesk });
}
