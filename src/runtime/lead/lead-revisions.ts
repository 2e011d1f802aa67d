/**
 * The numbered revisions of the clinic's protocols with their approvals. A revision counts only
 * while what is stored has the hash that was confirmed; anything else is refused, told and logged.
 */
import { type Problem, problem } from '../../base/problem.ts';
import type { Approval } from '../../engine/types.ts';
import { parseProtocol } from '../../protocol/parse-protocol.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { Journal, StoredDocument } from '../../storage/journal-types.ts';
import {
  APPROVAL,
  APPROVAL_ELSEWHERE,
  OWN_PROTOCOL,
  parseApproval,
  parseRetirement,
  protocolHash,
  RETIREMENT,
  type Retirement,
  revisionId,
} from './lead-documents.ts';
import { readLeadLog, vouchedHashes } from './lead-log.ts';

export interface Revision {
  readonly protocol: Protocol;
  readonly hash: string;
  /** Null when it was stored without one, as other versions of the app may have done. */
  readonly approval: Approval | null;
  /** Confirmed on another tablet, whose backup brought it here; the lead of this one has not yet. */
  readonly elsewhere: Approval | null;
  readonly retirement: Retirement | null;
  /** It was confirmed by somebody whose passphrase has been reset since. */
  readonly beforeReset: boolean;
}

/** A stored document that is not what was confirmed. */
export interface RefusedDocument {
  readonly id: string;
  readonly approvedHash: string;
  /** The hash of what is stored; the problem in one word when it is no protocol. */
  readonly storedHash: string;
  readonly problem: Problem;
}

export interface Revisions {
  /** Newest first within a protocol. */
  readonly all: readonly Revision[];
  readonly refused: readonly RefusedDocument[];
  readonly problems: readonly Problem[];
}

interface Around {
  readonly approvals: ReadonlyMap<string, Approval>;
  readonly elsewhere: ReadonlyMap<string, Approval>;
  readonly retirements: ReadonlyMap<string, Retirement>;
  /** Hashes whose confirmation stands in the log, with the number of the entry. */
  readonly logged: ReadonlyMap<string, number>;
  readonly lastReset: number;
}

function refuse(document: StoredDocument, o: { approvedHash: string; storedHash: string }) {
  const expected = `the protocol that was confirmed, hash ${o.approvedHash.slice(0, 8)}`;
  const place = `protocol ${document.id}`;
  const came = o.storedHash.slice(0, 8);
  return { id: document.id, ...o, problem: problem(place, expected, came, 'not-as-confirmed') };
}

function readOne(document: StoredDocument, around: Around): Revision | RefusedDocument | Problem {
  const approval = around.approvals.get(document.id) ?? null;
  const parsed = parseProtocol(document.value);
  if (!parsed.ok) {
    const first = parsed.error[0] ?? problem(document.id, 'a protocol', undefined);
    if (approval === null) return first;
    return refuse(document, { approvedHash: approval.hash, storedHash: 'unreadable' });
  }
  const hash = protocolHash(parsed.value);
  const isItself = revisionId(parsed.value) === document.id;
  if (approval !== null && (approval.hash !== hash || !isItself)) {
    return refuse(document, { approvedHash: approval.hash, storedHash: hash });
  }
  const loggedAt = around.logged.get(hash);
  // An approval that nobody gave at the desk was written by other means.
  if (approval !== null && loggedAt === undefined) {
    return refuse(document, { approvedHash: 'not in the log', storedHash: hash });
  }
  // Two tablets may have given one number to two revisions: the hash says which is meant.
  const ended = around.retirements.get(document.id);
  const retirement = ended?.hash === hash ? ended : null;
  const beforeReset = loggedAt !== undefined && loggedAt < around.lastReset;
  const told = around.elsewhere.get(document.id);
  const elsewhere = approval === null && told?.hash === hash ? told : null;
  return { protocol: parsed.value, hash, approval, elsewhere, retirement, beforeReset };
}

async function readAround(journal: Journal): Promise<Around> {
  const list = async (kind: string): Promise<readonly StoredDocument[]> => {
    const found = await journal.documents.list(kind);
    return found.ok ? found.value : [];
  };
  const keyed = <T>(documents: readonly StoredDocument[], parse: (value: unknown) => T | null) =>
    new Map(
      documents.flatMap(({ id, value }): [string, T][] => {
        const parsed = parse(value);
        return parsed === null ? [] : [[id, parsed]];
      }),
    );
  const log = await readLeadLog(journal);
  const entries = log.ok ? log.value.entries : [];
  return {
    approvals: keyed(await list(APPROVAL), parseApproval),
    retirements: keyed(await list(RETIREMENT), parseRetirement),
    elsewhere: keyed(await list(APPROVAL_ELSEWHERE), parseApproval),
    logged: vouchedHashes(entries),
    lastReset: entries.findLast((e) => e.deed === 'passphrase-reset')?.seq ?? -1,
  };
}

/** Reads every revision of every own protocol. */
export async function readRevisions(journal: Journal): Promise<Revisions> {
  const around = await readAround(journal);
  const stored = await journal.documents.list(OWN_PROTOCOL);
  if (!stored.ok) return { all: [], refused: [], problems: [stored.error] };
  const all: Revision[] = [];
  const refused: RefusedDocument[] = [];
  const problems: Problem[] = [];
  for (const document of stored.value) {
    const read = readOne(document, around);
    if ('protocol' in read) all.push(read);
    else if ('storedHash' in read) refused.push(read);
    else problems.push(read);
  }
  all.sort(
    (a, b) =>
      a.protocol.id.localeCompare(b.protocol.id) || b.protocol.revision - a.protocol.revision,
  );
  return { all, refused, problems: [...problems, ...refused.map((r) => r.problem)] };
}

/** The revision that cases begin with, or null: confirmed, and not retired. */
export function currentRevision(all: readonly Revision[], protocolId: string): Revision | null {
  const isCurrent = (r: Revision) =>
    r.protocol.id === protocolId && r.approval !== null && r.retirement === null;
  return all.find(isCurrent) ?? null;
}

/** The number that the next confirmed revision of a protocol gets; none is ever given twice. */
export function nextRevision(
  protocolId: string,
  o: {
    readonly revisions: readonly Pick<Revision, 'protocol'>[];
    readonly refused: readonly Pick<RefusedDocument, 'id'>[];
    readonly templates: readonly Protocol[];
  },
): number {
  const known = [
    ...o.revisions.map((r) => r.protocol),
    ...o.templates,
    // A refused revision keeps its number: it is never written over.
    ...o.refused.map(({ id }) => {
      const [name = '', number = '0'] = id.split('@');
      return { id: name, revision: Number(number) };
    }),
  ];
  const numbers = known.filter((p) => p.id === protocolId).map((p) => p.revision);
  return Math.max(0, ...numbers.filter(Number.isFinite)) + 1;
}

/** Hashes of what a protocol may have come from on this tablet: its revisions, newest first, its template. */
export function ancestorHashes(
  protocol: Protocol,
  o: { readonly revisions: readonly Revision[]; readonly templates: readonly Protocol[] },
): readonly string[] {
  const hash = protocolHash(protocol);
  return [
    ...o.revisions.filter((r) => r.protocol.id === protocol.id).map((r) => r.hash),
    ...o.templates.filter(({ id }) => id === protocol.id).map(protocolHash),
  ].filter((other) => other !== hash);
}
