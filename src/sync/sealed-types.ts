/** What tablets of a clinic tell one another, and what they hold in order to read it. */
import type { TabletKeys } from '../storage/signatures.ts';
import type { Bytes } from './store-types.ts';

/** What a kept message says. */
export type Payload =
  /** Entries that follow one another, in the form of the journal: those of one press, or of several. */
  | { readonly type: 'entries'; readonly caseId: string; readonly entries: readonly unknown[] }
  /** A fact, as the document that it is stored as (`fact-KIND`, its id, its value). */
  | { readonly type: 'fact'; readonly kind: string; readonly id: string; readonly value: unknown }
  /** That a case was deleted on purpose: the journal's tombstone. */
  | { readonly type: 'tombstone'; readonly caseId: string; readonly value: unknown };

/**
 * The clinic's secret of one version, as this tablet holds it: 32 random bytes imported for HKDF, which no
 * script can read back. What wraps case keys, seals facts and seals live pictures is derived from it.
 */
export interface ClinicSecret {
  readonly version: number;
  readonly key: CryptoKey;
}

/** What a tablet holds of its clinic. Kept on the tablet, in no backup. */
export interface Membership {
  readonly site: string;
  /** The tablet's own id. */
  readonly device: string;
  readonly name: string;
  /** Public half (hex) of the key that vouches for tablets; its private half lies in the lead's box. */
  readonly rootKey: string;
  /** Oldest first. The last seals what is new. */
  readonly secrets: readonly ClinicSecret[];
  /** The line to the store: a user of the server, as it issued it. */
  readonly line: { readonly jwt: string; readonly seed: string };
  /** The store was made for trying: every screen says so. */
  readonly isDemo: boolean;
  /** Opens what is sealed for this tablet alone: ECDH, P-256. */
  readonly sealing: CryptoKeyPair;
}

/** What the holder of the root key says of a tablet. Hex where not said otherwise. */
export type TabletStatement =
  | {
      readonly type: 'paired';
      readonly device: string;
      readonly name: string;
      /** Ed25519, 32 bytes. */
      readonly signingKey: string;
      /** ECDH P-256, 65 bytes uncompressed. */
      readonly sealingKey: string;
      /** The server's name of its user. */
      readonly user: string;
      readonly atWallMs: number;
    }
  | {
      readonly type: 'put-out';
      readonly device: string;
      readonly reason: string;
      readonly atWallMs: number;
      /** The last message of each stream when it was put out: what it signed after counts no more. */
      readonly after: { readonly J: number; readonly F: number; readonly K: number };
    }
  | {
      readonly type: 'renamed';
      readonly device: string;
      readonly name: string;
      readonly atWallMs: number;
    };

/** A statement with the signature of the root key; `said` of a fact of the kind `tablet`, item: the device. */
export interface SignedStatement {
  readonly statement: TabletStatement;
  readonly signature: string;
}

/** A tablet as the signed statements have it. */
export interface Member {
  readonly device: string;
  readonly name: string;
  readonly signingKey: string;
  readonly sealingKey: string;
  readonly user: string;
  readonly pairedAtWallMs: number;
  readonly putOut: {
    readonly atWallMs: number;
    readonly after: { readonly J: number; readonly F: number; readonly K: number };
  } | null;
}

export type Members = ReadonlyMap<string, Member>;

/**
 * What founds the clinic again: sealed with the lead's passphrase, kept as a fact of the kind `clinic`, in
 * every backup and on paper.
 */
export interface LeadBox {
  readonly site: string;
  /** Seeds of the server's keys, as nkeys write them. */
  readonly operatorSeed: string;
  readonly systemSeed: string;
  readonly storeSeed: string;
  readonly tabletsSeed: string;
  readonly tabletSigningSeed: string;
  readonly pairingSigningSeed: string;
  /** Ed25519 seed (hex, 32 bytes) that vouches for tablets. */
  readonly rootSeed: string;
  /** Hex, 32 bytes each, by version from 1. */
  readonly secrets: readonly { readonly version: number; readonly secret: string }[];
}

/** Why a message is not shown. Each is told, with the tablet that it names. */
export type RefusedCode =
  /** The name, the bytes and their hash do not belong together. */
  | 'not-a-message'
  | 'other-clinic'
  /** No statement vouches for the tablet yet: tried again when one comes. */
  | 'unknown-tablet'
  /** Signed after it was put out. */
  | 'put-out'
  /** A version of the clinic's secret, or a case key, that this tablet does not have (yet). */
  | 'no-key'
  /** Sealed by another key, changed, or moved from another place. */
  | 'does-not-open'
  | 'bad-signature'
  | 'bad-payload';

export interface RefusedMessage {
  readonly code: RefusedCode;
  readonly subject: string;
  readonly seq: number;
}

/** A message that opened: what it says, and which member said it. */
export interface OpenedMessage {
  readonly device: string;
  readonly payload: Payload;
}

/** What seals: the parts of this tablet that a message needs. */
export interface Sealer {
  readonly membership: Membership;
  readonly keys: TabletKeys;
  readonly crypto: Crypto;
}

export interface SealedMessage {
  readonly subject: string;
  readonly data: Bytes;
}
