/** What can be done with a revision wherever it is listed: begin a draft from it, hand it on as a file. */
import { useLocation } from 'wouter';
import type { Protocol } from '../../protocol/types.ts';
import { saveFile } from '../../runtime/cases/share.ts';
import { shortHash } from '../shared/protocol-model.ts';
import type { Act } from './use-deed.ts';
import { useLeadDesk } from './use-lead.ts';

interface RevisionDeeds {
  readonly begin: () => Promise<void>;
  readonly exportIt: () => Promise<void>;
}

export function useRevisionDeeds(
  { protocol, hash }: { readonly protocol: Protocol; readonly hash: string },
  act: Act,
): RevisionDeeds {
  const desk = useLeadDesk();
  const [, navigate] = useLocation();
  return {
    begin: async () => {
      const id = await act(desk.beginDraft(protocol));
      if (id !== null) navigate(`/lead/draft/${id}`);
    },
    exportIt: async () => {
      const content = await act(desk.exportText(protocol));
      if (content === null) return;
      const name = `${protocol.id}-${protocol.revision}-${shortHash(hash)}.json`;
      saveFile({ name, type: 'application/json', content });
    },
  };
}
