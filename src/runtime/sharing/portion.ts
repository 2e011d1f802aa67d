/** One portion of what came from the store, while it is kept. */
import type { JournalNews } from '../../storage/journal-types.ts';
import type { TakenMessage } from '../../sync/intake.ts';
import type { RefusedCode } from '../../sync/sealed-types.ts';
import type { Change } from '../../sync/sharing-database.ts';
import type { CameHead } from '../anchors/heard-heads.ts';

export interface Portion {
  readonly epoch: number;
  readonly changes: Change[];
  readonly news: JournalNews[];
  readonly heads: CameHead[];
}

/** What stands against keeping something here; the same portion comes again later. */
export class NotKept extends Error {}

export const refusal = (
  { message, device }: TakenMessage,
  code: Extract<RefusedCode, 'bad-payload' | 'bad-signature'>,
): Change => ({ room: 'refused', put: { subject: message.subject, code, device } });
