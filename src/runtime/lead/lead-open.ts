/** Reads the code of the clinic lead's desk when it is first asked for; the chair never needs it. */
import type { Journal } from '../../storage/journal-types.ts';
import type { Clock } from '../device/clock.ts';
import type { TimerHost } from '../device/timer-host.ts';
import { type Shipped, shippedProtocols } from '../library/library.ts';
import type { AppStore } from '../store.ts';
import type { LeadDesk } from './lead.ts';
import type { CryptoLike } from './lead-passphrase.ts';

interface LeadOpening {
  readonly journal: Journal;
  readonly clock: Clock;
  readonly timers: TimerHost;
  readonly newId: () => string;
  readonly shipped: Shipped;
  readonly store: Pick<AppStore, 'getState'>;
  readonly crypto?: CryptoLike;
}

/** Answers with the one desk of this window. */
export function leadOpener(
  parts: LeadOpening,
  around: { readonly epoch: () => number | null; readonly onChanged: () => Promise<void> },
): () => Promise<LeadDesk> {
  let opened: Promise<LeadDesk> | null = null;
  const open = async (): Promise<LeadDesk> => {
    const [{ LeadDesk }, { shippedCorrections }] = await Promise.all([
      import('./lead.ts'),
      import('./lead-corrections.ts'),
    ]);
    const { journal, clock, timers, newId, crypto = null } = parts;
    const templates = () => shippedProtocols(parts.shipped);
    const corrections = () => shippedCorrections(parts.shipped);
    const sender = () => parts.store.getState().settings;
    const own = { journal, clock, timers, newId, crypto, templates, corrections, sender };
    return new LeadDesk({ ...own, ...around });
  };
  return () => {
    // What could not be loaded now may be there the next time.
    opened ??= open().catch((thrown: unknown) => {
      opened = null;
      throw thrown;
    });
    return opened;
  };
}
