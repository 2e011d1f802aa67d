/**
 * Messages that hand out a new secret of the clinic, as this tablet made them: a store that goes back to an older
 * disk may lose them, and only with the lead's key could they be made again.
 */
import { type CaseKeyRing, keyMark } from '../../sync/case-key-ring.ts';
import type { NewMessage } from '../../sync/outbox.ts';
import type { PutOutPlan } from '../../sync/rotation.ts';
import type { SealedMessage } from '../../sync/sealed-types.ts';
import {
  type Change,
  keepOne,
  readOne,
  type SharingDatabase,
} from '../../sync/sharing-database.ts';
import { offered } from './marks.ts';

const SECRETS = 'secret-messages';

/** Under which name it is noted that the store has it, or is owed it: one of the keys. */
export const secretMark = ({ subject }: Pick<SealedMessage, 'subject'>): string =>
  `k:secret:${subject}`;

export async function readSecretMessages(
  database: SharingDatabase,
): Promise<readonly NewMessage[]> {
  const kept = await readOne(database, SECRETS);
  // Written by this program alone.
  return (kept ?? []) as readonly NewMessage[];
}

/** What a put-out owes to the store, and what is to be noted along with it. */
export async function turned(
  database: SharingDatabase,
  ring: CaseKeyRing,
  { keys, secretMessage }: Pick<PutOutPlan, 'secretMessage' | 'keys'>,
): Promise<{ readonly messages: readonly NewMessage[]; readonly along: readonly Change[] }> {
  const secret: NewMessage = { stream: 'K', ...secretMessage };
  const before = await readSecretMessages(database);
  return {
    messages: [secret, ...keys.map(({ message }): NewMessage => ({ stream: 'K', ...message }))],
    along: [
      keepOne(SECRETS, [...before, secret]),
      offered(secretMark(secret)),
      ...keys.map(({ wrapped }) => ring.keep(wrapped)),
      ...keys.map(({ wrapped }) => offered(keyMark(wrapped))),
    ],
  };
}
