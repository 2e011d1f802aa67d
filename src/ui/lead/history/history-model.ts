/** Every state of a protocol that is on this tablet: its revisions, newest first, then its template. */
import type { Protocol } from '../../../protocol/types.ts';
import { protocolHash } from '../../../runtime/lead/lead-documents.ts';
import { currentRevision, type Revision } from '../../../runtime/lead/lead-revisions.ts';
import { historyWords } from '../../../words/history-words.ts';
import { shortHash } from '../../shared/protocol-model.ts';

export interface Kept {
  readonly protocol: Protocol;
  readonly hash: string;
  /** Null for the template. */
  readonly revision: Revision | null;
  /** What new cases or rehearsals use. */
  readonly isInForce: boolean;
}

export function keptOf(
  protocolId: string,
  o: { readonly revisions: readonly Revision[]; readonly templates: readonly Protocol[] },
): readonly Kept[] {
  const own = o.revisions.filter(({ protocol }) => protocol.id === protocolId);
  const current = currentRevision(own, protocolId);
  const revisions = own.map((revision): Kept => {
    const { protocol, hash } = revision;
    return { protocol, hash, revision, isInForce: hash === current?.hash };
  });
  const shipped = o.templates
    .filter(({ id }) => id === protocolId)
    .map((protocol): Kept => {
      const hash = protocolHash(protocol);
      return { protocol, hash, revision: null, isInForce: current === null };
    })
    .filter(({ hash }) => !own.some((r) => r.hash === hash));
  return [...revisions, ...shipped];
}

/** "Revision 3, 1a2b3c4d": the number is for people, the hash tells two of one number apart. */
export function keptName({ protocol, hash, revision }: Kept): string {
  const named = { revision: protocol.revision, hash: shortHash(hash) };
  return revision === null ? historyWords.template(named) : historyWords.revision(named);
}

/** What it is compared with before anybody chooses: what is in force, else the newest other one. */
export function firstOther(all: readonly Kept[], hash: string): Kept | null {
  const others = all.filter((kept) => kept.hash !== hash);
  return others.find((kept) => kept.isInForce) ?? others[0] ?? null;
}
