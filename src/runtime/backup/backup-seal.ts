/**
 * The signature at the end of a backup: which tablet made it. What is signed is the RFC 8785 text of the counts and
 * of the SHA-256 over all lines, so that a file which was made up with the passphrase is told from one of a tablet.
 */
import { canonicalText } from '../../protocol/canonical-text.ts';
import {
  isSignedBy,
  type SigningCrypto,
  signText,
  type TabletKeys,
} from '../../storage/signatures.ts';

export interface Signed {
  readonly publicKey: string;
  readonly signature: string;
}

/** What a backup says at its end of all its lines. */
interface BackupEnd {
  readonly counts: object;
  readonly sha256: string;
}

/** What a restore found of the signature of a file. */
export interface FoundSeal {
  readonly publicKey: string;
  /** Null where this browser cannot check it. */
  readonly isSigned: true | null;
  /** Made on this very tablet. */
  readonly isOwn: boolean;
}

const statement = ({ counts, sha256 }: BackupEnd): string =>
  canonicalText({ what: 'lutewatch-backup', counts, sha256 });

export type SignEnd = (end: BackupEnd) => Promise<Signed>;

/** Signs with the keys of a tablet. */
export const signsWith =
  (crypto: SigningCrypto, keys: TabletKeys): SignEnd =>
  async (end) => ({
    publicKey: keys.publicKey,
    signature: await signText(crypto, keys, statement(end)),
  });

/** Null where the file is not signed; false where its signature does not fit. */
export async function sealOf(
  crypto: SigningCrypto,
  o: {
    readonly end: BackupEnd;
    readonly signed: Signed | undefined;
    readonly ownKey: string | null;
  },
): Promise<FoundSeal | null | false> {
  const { end, signed, ownKey } = o;
  if (signed === undefined) return null;
  const isSigned = await isSignedBy(crypto, { ...signed, text: statement(end) });
  if (isSigned === false) return false;
  return { publicKey: signed.publicKey, isSigned, isOwn: signed.publicKey === ownKey };
}
