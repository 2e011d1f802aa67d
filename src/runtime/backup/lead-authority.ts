/**
 * What a backup may say of protocols on a tablet that has a clinic lead. A file decides nothing
 * there: a confirmation that this tablet's own log does not tell waits for the lead, and the log of
 * another tablet is kept apart. A tablet without a lead takes everything over, as after a loss.
 */
import { canonicalText } from '../../protocol/canonical-text.ts';
import type { StoredDocument } from '../../storage/journal-types.ts';
import {
  APPROVAL,
  APPROVAL_ELSEWHERE,
  LEAD_LOG,
  OWN_PROTOCOL,
  PASSPHRASE,
  parseApproval,
  RETIREMENT,
} from '../lead/lead-documents.ts';
import { isNextInLog, verifyLeadLog, vouchedHashes } from '../lead/lead-log.ts';

const LEADS_KINDS: ReadonlySet<string> = new Set([OWN_PROTOCOL, APPROVAL, RETIREMENT, LEAD_LOG]);

/** How a document of a file is to be treated. */
type Taking =
  /** By its version, like every other document. */
  | { readonly do: 'merge' }
  /** As it came, or under another kind. */
  | { readonly do: 'take'; readonly document: StoredDocument }
  | { readonly do: 'set-apart' }
  | { readonly do: 'leave' };

const sameValue = (a: StoredDocument, b: StoredDocument): boolean =>
  canonicalText(a.value) === canonicalText(b.value);

export class LeadAuthority {
  readonly #hasLead: boolean;
  readonly #vouched: ReadonlyMap<string, number>;
  #log: readonly unknown[];

  /** @param here every document of this tablet, before the restore. */
  constructor(here: readonly StoredDocument[]) {
    this.#hasLead = here.some(({ kind, value }) => kind === PASSPHRASE && value !== null);
    this.#log = here
      .filter(({ kind }) => kind === LEAD_LOG)
      .toSorted((a, b) => (a.id < b.id ? -1 : 1))
      .map(({ value }) => value);
    this.#vouched = vouchedHashes(verifyLeadLog(this.#log).entries);
  }

  /** @param here what this tablet has under the same kind and id. */
  taking(found: StoredDocument, here: StoredDocument | undefined): Taking {
    if (!this.#hasLead || !LEADS_KINDS.has(found.kind)) return { do: 'merge' };
    if (here !== undefined && sameValue(here, found)) return { do: 'leave' };
    switch (found.kind) {
      case APPROVAL:
        return this.#takingApproval(found, here);
      case LEAD_LOG:
        return this.#takingLogEntry(found, here);
      default:
        // What is confirmed here gives way to no file.
        return here === undefined ? { do: 'take', document: found } : { do: 'set-apart' };
    }
  }

  #takingApproval(found: StoredDocument, here: StoredDocument | undefined): Taking {
    const approval = parseApproval(found.value);
    if (here !== undefined || approval === null) return { do: 'set-apart' };
    if (this.#vouched.has(approval.hash)) return { do: 'take', document: found };
    return { do: 'take', document: { ...found, kind: APPROVAL_ELSEWHERE } };
  }

  #takingLogEntry(found: StoredDocument, here: StoredDocument | undefined): Taking {
    if (here !== undefined || !isNextInLog(this.#log, found.value)) return { do: 'set-apart' };
    this.#log = [...this.#log, found.value];
    return { do: 'take', document: found };
  }
}
