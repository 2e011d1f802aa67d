/** The keys of the clinic's store: who may come in, and who may say so. All are written as nkeys write them. */

/** Seeds of the server's keys. Whoever holds them decides who may come in: they lie under the lead's passphrase. */
export interface ServerSeeds {
  /** Vouches for the accounts. Putting a tablet out needs it. */
  readonly operatorSeed: string;
  /** The account that may tell the server of a changed account. */
  readonly systemSeed: string;
  /** The account that holds the streams. */
  readonly storeSeed: string;
  /** The account of the tablets: it holds nothing and reaches the store through imports. */
  readonly tabletsSeed: string;
  /** Signs the users of tablets. Their rights are written in the account and follow their names. */
  readonly tabletSigningSeed: string;
  /** Signs users that may pair and do nothing else. */
  readonly pairingSigningSeed: string;
}

/** What a client shows at the door: its user, as the server issued it, and the seed of that user. */
export interface StoreLogin {
  readonly jwt: string;
  readonly seed: string;
}

/** A fresh user of the server. Only `user`, its public name, need ever travel. */
export interface UserKey {
  readonly user: string;
  readonly seed: string;
}

/** `GET /store/pairing`: how a new tablet reaches the store in order to pair. No secret. */
export interface PairingDoor {
  readonly format: 'lutewatch-pairing';
  readonly site: string;
  readonly isDemo: boolean;
  readonly serverVersion: string;
  readonly jwt: string;
  readonly seed: string;
}
