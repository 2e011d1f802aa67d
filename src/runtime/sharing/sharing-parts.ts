/** What a tablet's part in its clinic stands on. */
import type { Journal } from '../../storage/journal-types.ts';
import type { TabletKeys } from '../../storage/signatures.ts';
import type { Clock } from '../device/clock.ts';
import type { TimerHost } from '../device/timer-host.ts';
import type { FactParts } from '../facts/fact-writer.ts';
import type { AppStore } from '../store.ts';
import type { Pictures } from '../windows/pictures.ts';
import type { StorePlatform } from './store-platform.ts';
import type { ToldChannel } from './told-channel.ts';

/** What of it the page hands in; a window without it takes no part. */
export interface SharingWindow {
  readonly told: Pick<ToldChannel, 'onOwn' | 'bring'>;
  readonly crypto: Crypto;
  /** The version of the app: another one may understand more of what the store holds. */
  readonly version: string;
  /** Where this page came from: its web server passes the store through. */
  readonly origin: string;
  /** Whether this tablet takes part, known before anything of it is loaded. */
  readonly mark: {
    isSet(): boolean;
    set(takesPart: boolean): void;
  };
  /** Where the store is reached; by the page's own address when left out. */
  readonly platform?: StorePlatform;
  /** Another name of the database, and other keys, where several tablets are tried in one place. */
  readonly databaseName?: string;
  readonly keys?: () => Promise<TabletKeys | null>;
}

export interface SharingParts extends SharingWindow {
  readonly journal: Journal;
  readonly store: AppStore;
  readonly clock: Clock;
  readonly timers: Pick<TimerHost, 'after'>;
  readonly pictures: Pick<Pictures, 'join'> | null;
  readonly newId: () => string;
  /** The writer's epoch; null while another window writes. */
  readonly epoch: () => number | null;
  readonly facts: FactParts;
  /** What the lead's desk shows has come from another tablet. */
  readonly onDesk: () => void;
}
