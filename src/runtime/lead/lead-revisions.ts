/**
 * The numbered revisions of the clinic's protocols with their approvals. A revision counts only
 * while what is stored has the hash that was confirmed; anything else is refused, told and logged.
 */
import * as v from 'valibot';
import { fieldsOf } from '../../base/json.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import type { Approval } from '../../engine/types.ts';
import { parseProtocol } from '../../protocol/parse-protocol.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { Journal, StoredDocument } from '../../storage/journal-types.ts';
import { type Fact, listFacts } from '../facts/fact.ts';
import { byItem, FactHistory } from '../facts/fact-history.ts';
import { type FactParts, say } from '../facts/fact-writer.ts';
import {
  isOfOwnDesk,
  isOfThisDesk,
  readThisTablet,
  type ThisTablet,
} from '../facts/this-tablet.ts';
import {
  approvalSchema,
  PROTOCOL,
  protocolHash,
  type Retirement,
  retirementSchema,
  revisionId,
} from './lead-documents.ts';
import { type LeadLog, readLeadLogs, vouchedHashes } from './lead-log.ts';

/** A retirement, and the facts that say it: only by their names is it taken back. */
interface StandingRetirement extends Retirement {
  readonly facts: readonly string[];
}

export interface Revision {
  readonly protocol: Protocol;
  readonly hash: string;
  /** Null while nobody has confirmed it at this desk. */
  readonly approval: Approval | null;
  /** Confirmed on another tablet, whose backup brought it here; the lead of this one has not yet. */
  readonly elsewhere: Approval | null;
  readonly retirement: StandingRetirement | null;
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

const saidSchema = v.variant('type', [
  v.object({ type: v.literal('written'), protocol: v.unknown() }),
  v.object({ type: v.literal('confirmed'), ...approvalSchema.entries }),
  v.object({
    type: v.literal('retired'),
    ...retirementSchema.entries,
    /** The hash of the revision that took its place: it is retired where that one is in force. */
    followedBy: v.exactOptional(v.string()),
  }),
  v.object({ type: v.literal('back-in-force'), of: v.array(v.string()) }),
]);

export type ProtocolSaid = v.InferOutput<typeof saidSchema>;

interface Spoken {
  readonly fact: Fact;
  readonly said: ProtocolSaid;
}

/** What is known of one protocol. */
interface Told {
  readonly id: string;
  readonly written: ReadonlyMap<string, Protocol>;
  readonly spoken: readonly Spoken[];
}

interface Desk {
  readonly here: ThisTablet;
  readonly log: LeadLog;
  /** Hashes whose confirmation stands in the log, with the place of the entry. */
  readonly logged: ReadonlyMap<string, number>;
  /** Whether somebody's passphrase was reset behind an entry, at the desk that wrote it. */
  readonly isBeforeReset: (at: number) => boolean;
}

function refuse(o: { readonly id: string; approvedHash: string; storedHash: string }) {
  const expected = `the protocol that was confirmed, hash ${o.approvedHash.slice(0, 8)}`;
  const came = o.storedHash.slice(0, 8);
  return { ...o, problem: problem(`protocol ${o.id}`, expected, came, 'not-as-confirmed') };
}

function toldOf(id: string, facts: readonly Fact[], problems: Problem[]): Told {
  const written = new Map<string, Protocol>();
  const spoken = new FactHistory(facts).inOrder.flatMap((fact): Spoken[] => {
    const said = parsedOr(saidSchema, fact.said);
    return said === null ? [] : [{ fact, said }];
  });
  for (const { said } of spoken) {
    if (said.type !== 'written') continue;
    const parsed = parseProtocol(said.protocol);
    if (!parsed.ok) problems.push(parsed.error[0] ?? problem(id, 'a protocol', undefined));
    else if (parsed.value.id === id) written.set(protocolHash(parsed.value), parsed.value);
  }
  return { id, written, spoken };
}

function approvalOf(said: ProtocolSaid, hash: string): Approval | null {
  if (said.type !== 'confirmed' || said.hash !== hash) return null;
  const { by, onWallMs, second } = said;
  return { hash, by, onWallMs, ...(second !== undefined && { second }) };
}

/** The retirement that stands; what was only followed is retired where its follower is in force. */
function retirementOf(
  { spoken }: Told,
  hash: string,
  { here, logged }: Desk,
): StandingRetirement | null {
  // Only this desk puts back in force: a file that says so waits for the lead, like a confirmation.
  const own = spoken.filter(({ fact }) => isOfThisDesk(fact, here));
  const lifted = new Set(own.flatMap(({ said }) => (said.type === 'back-in-force' ? said.of : [])));
  const standing = spoken.flatMap(({ fact, said }) => {
    if (said.type !== 'retired' || said.hash !== hash || lifted.has(fact.id)) return [];
    const { by, onWallMs, reason, followedBy } = said;
    if (followedBy !== undefined && !logged.has(followedBy)) return [];
    return [{ fact: fact.id, hash, by, onWallMs, reason }];
  });
  const [first] = standing;
  return first === undefined ? null : { ...first, facts: standing.map(({ fact }) => fact) };
}

function revisionOf(
  told: Told,
  { protocol, hash }: { readonly protocol: Protocol; readonly hash: string },
  desk: Desk,
): Revision | RefusedDocument {
  const said = told.spoken.flatMap(({ fact, said: one }) => {
    const approval = approvalOf(one, hash);
    return approval === null ? [] : [{ fact, approval }];
  });
  const loggedAt = desk.logged.get(hash);
  const own = said.find(({ fact }) => isOfOwnDesk(fact, desk.here));
  // An approval that nobody gave at the desk was written by other means.
  if (own !== undefined && loggedAt === undefined) {
    const id = revisionId(protocol);
    return refuse({ id, approvedHash: 'not in the log', storedHash: hash });
  }
  const [first] = said;
  const vouched = loggedAt === undefined ? undefined : (own ?? first);
  return {
    protocol,
    hash,
    approval: vouched?.approval ?? null,
    elsewhere: vouched === undefined ? (first?.approval ?? null) : null,
    retirement: retirementOf(told, hash, desk),
    beforeReset: loggedAt !== undefined && desk.isBeforeReset(loggedAt),
  };
}

/** Confirmed here, and what is stored of it is gone or was altered. */
function missingOf(
  { id: item, written, spoken }: Told,
  desk: Desk,
  damaged: readonly StoredDocument[],
): readonly RefusedDocument[] {
  const altered = new Map(
    damaged.map(({ value }) => {
      const parsed = parseProtocol(fieldsOf(fieldsOf(fieldsOf(value)['said'])['protocol'] ?? {}));
      const { id } = fieldsOf(value);
      return parsed.ok
        ? ([revisionId(parsed.value), protocolHash(parsed.value)] as const)
        : ([String(id), 'unreadable'] as const);
    }),
  );
  const hashes = new Set(
    spoken.flatMap(({ fact, said }) =>
      said.type === 'confirmed' && isOfOwnDesk(fact, desk.here) && !written.has(said.hash)
        ? [said.hash]
        : [],
    ),
  );
  return [...hashes].map((hash) => {
    const entry = desk.log.entries.find((e) => e.values['hash'] === hash);
    const id = entry === undefined ? item : `${item}@${entry.values['revision']}`;
    return refuse({ id, approvedHash: hash, storedHash: altered.get(id) ?? 'unreadable' });
  });
}

async function readDesk(journal: Journal): Promise<Result<Desk, Problem>> {
  const [here, logs] = await Promise.all([readThisTablet(journal), readLeadLogs(journal)]);
  if (!here.ok) return here;
  if (!logs.ok) return logs;
  const { log } = logs.value;
  const { entries } = log;
  const isBeforeReset = (at: number): boolean =>
    entries.some(
      ({ deed, desk }, i) => i > at && deed === 'passphrase-reset' && desk === entries[at]?.desk,
    );
  return ok({ here: here.value, log, logged: vouchedHashes(entries), isBeforeReset });
}

const order = (a: Revision, b: Revision): number =>
  a.protocol.id.localeCompare(b.protocol.id) ||
  b.protocol.revision - a.protocol.revision ||
  (a.hash < b.hash ? -1 : 1);

/** Says something of a protocol, in the name of this tablet. Errors: `not-writer`, and the journal's. */
export async function sayOfProtocol(
  { journal, epoch, nowWallMs }: Omit<FactParts, 'tablet'>,
  o: { readonly item: string; readonly said: readonly ProtocolSaid[]; readonly by: string },
): Promise<Result<null, Problem>> {
  const here = await readThisTablet(journal);
  if (!here.ok) return here;
  const { tablet } = here.value;
  const kept = await say(
    { journal, epoch, nowWallMs, tablet: () => tablet },
    { kind: PROTOCOL, ...o },
  );
  return kept.ok ? ok(null) : kept;
}

/** Reads every revision of every own protocol. Two of one number are two, each with its hash. */
export async function readRevisions(journal: Journal): Promise<Revisions> {
  const [desk, listed] = await Promise.all([readDesk(journal), listFacts(journal, PROTOCOL)]);
  if (!desk.ok) return { all: [], refused: [], problems: [desk.error] };
  if (!listed.ok) return { all: [], refused: [], problems: [listed.error] };
  const all: Revision[] = [];
  const refused: RefusedDocument[] = [];
  const problems: Problem[] = [];
  for (const [id, facts] of byItem(listed.value.facts)) {
    const told = toldOf(id, facts, problems);
    for (const [hash, protocol] of told.written) {
      const read = revisionOf(told, { protocol, hash }, desk.value);
      if ('storedHash' in read) refused.push(read);
      else all.push(read);
    }
    refused.push(...missingOf(told, desk.value, listed.value.damaged));
  }
  all.sort(order);
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

/**
 * Hashes of what a protocol may have come from on this tablet: its revisions, newest first, its template.
 * A revision came from those numbered below it; a draft may also have come from the one whose number it has.
 */
export function ancestorHashes(
  protocol: Protocol,
  o: { readonly revisions: readonly Revision[]; readonly templates: readonly Protocol[] },
): readonly string[] {
  const hash = protocolHash(protocol);
  const isRevision = o.revisions.some((r) => r.hash === hash);
  const highest = protocol.revision - (isRevision ? 1 : 0);
  const isBefore = (r: Revision): boolean =>
    r.protocol.id === protocol.id && r.protocol.revision <= highest;
  return [
    ...o.revisions.filter(isBefore).map((r) => r.hash),
    ...o.templates.filter(({ id }) => id === protocol.id).map(protocolHash),
  ].filter((other) => other !== hash);
}
