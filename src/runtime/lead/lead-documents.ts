/** What the clinic lead's desk keeps on the tablet, by kind, and how it is read back. */
import * as v from 'valibot';
import type { Approval } from '../../engine/types.ts';
import { canonicalText } from '../../protocol/canonical-text.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Protocol } from '../../protocol/types.ts';
import { hashText } from '../../storage/hash-chain.ts';

export const OWN_PROTOCOL = 'protocol';
export const APPROVAL = 'approval';
/** A confirmation that came with a backup of another tablet: it waits for the lead of this one. */
export const APPROVAL_ELSEWHERE = 'approval-elsewhere';
export const RETIREMENT = 'retirement';
export const DRAFT = 'draft';
export const DRAFT_EDITS = 'draft-edits';
export const LEAD_LOG = 'lead-log';
export const PASSPHRASE = 'lead-passphrase';
export const ATTEMPTS = 'lead-attempts';
export const THIS_TABLET = 'this-tablet';

/** SHA-256 over the RFC 8785 canonical JSON of a protocol, lower-case hex. */
export function protocolHash(protocol: Protocol): string {
  return hashText(canonicalText(protocol));
}

/** Under which a numbered revision is kept: `thin-veneers@3`. Never written twice. */
export function revisionId(protocol: { readonly id: string; readonly revision: number }): string {
  return `${protocol.id}@${protocol.revision}`;
}

const approvalSchema = v.object({ hash: v.string(), by: v.string(), onWallMs: v.number() });
const retirementSchema = v.object({ ...approvalSchema.entries, reason: v.string() });

/** A stored approval; null when it is damaged. */
export function parseApproval(value: unknown): Approval | null {
  return parsedOr(approvalSchema, value);
}

export interface Retirement {
  readonly hash: string;
  readonly by: string;
  readonly onWallMs: number;
  readonly reason: string;
}

/** A stored retirement; null when it is damaged. */
export function parseRetirement(value: unknown): Retirement | null {
  return parsedOr(retirementSchema, value);
}
