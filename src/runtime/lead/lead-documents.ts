/** What the clinic lead's desk keeps on the tablet, by kind, and how it is read back. */
import * as v from 'valibot';
import { canonicalText } from '../../protocol/canonical-text.ts';
import type { Protocol } from '../../protocol/types.ts';
import { hashText } from '../../storage/hash-chain.ts';

/** The kind of the facts of a protocol: revisions written, confirmed, retired. */
export const PROTOCOL = 'protocol';
export const DRAFT = 'draft';
export const DRAFT_EDITS = 'draft-edits';
/** A product sheet that is being typed or read. */
export const SHEET_DRAFT = 'sheet-draft';
export const LEAD_LOG = 'lead-log';
export const PASSPHRASE = 'lead-passphrase';
export const ATTEMPTS = 'lead-attempts';
export const THIS_TABLET = 'this-tablet';

/** SHA-256 over the RFC 8785 canonical JSON of a protocol, lower-case hex. */
export function protocolHash(protocol: Protocol): string {
  return hashText(canonicalText(protocol));
}

/** How a numbered revision is called: `thin-veneers@3`. Two tablets may each have one of a number. */
export function revisionId(protocol: { readonly id: string; readonly revision: number }): string {
  return `${protocol.id}@${protocol.revision}`;
}

const said = { hash: v.string(), by: v.string(), onWallMs: v.number() };
/** `second` where the clinic asks two people. */
export const approvalSchema = v.object({ ...said, second: v.exactOptional(v.string()) });
export const retirementSchema = v.object({ ...said, reason: v.string() });

export interface Retirement {
  readonly hash: string;
  readonly by: string;
  readonly onWallMs: number;
  readonly reason: string;
}
