/** What the clinic lead's desk stands on: the journal, the clocks, the platform's cryptography. */
import type { Problem } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import type { Correction } from '../../protocol/corrections.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { Clock } from '../device/clock.ts';
import type { TimerHost } from '../device/timer-host.ts';
import type { CryptoLike } from './lead-passphrase.ts';

export interface LeadParts {
  readonly journal: Journal;
  readonly clock: Clock;
  readonly timers: Pick<TimerHost, 'after'>;
  /** Null where the platform has none: a page that was not served securely. */
  readonly crypto: CryptoLike | null;
  readonly newId: () => string;
  /** The writer's epoch; null while another window writes. */
  readonly epoch: () => number | null;
  /** The shipped protocols count as revisions: their numbers are not given again. */
  readonly templates: () => readonly Protocol[];
  /** What the shipped protocols correct in those before them. */
  readonly corrections: () => Promise<Result<readonly Correction[], Problem>>;
  /** Who hands files on: the clinic's name, empty where none was set, and the id of this tablet. */
  readonly sender: () => { readonly clinic: string; readonly tablet: string };
  /** Called after the protocols or their approvals changed. */
  readonly onChanged: () => Promise<void>;
}
