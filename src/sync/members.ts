/**
 * Which tablets belong to the clinic, and whose word counts. The holder of the root key says so, in signed
 * statements that travel as facts; in whatever order they come, they give one result.
 */
import * as v from 'valibot';
import { NAME_LENGTH_MAX } from '../base/caps.ts';
import { canonicalText } from '../protocol/canonical-text.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import { hashText } from '../storage/hash-chain.ts';
import { isSignedBy, signText, type TabletKeys } from '../storage/signatures.ts';
import { hexSchema } from './bytes.ts';
import type { Member, Members, SignedStatement, TabletStatement } from './sealed-types.ts';
import type { StreamName } from './store-types.ts';
import { isToken } from './subjects.ts';

export const tokenSchema = v.pipe(v.string(), v.check(isToken, 'letters, digits, - and _'));
export const nameSchema = v.pipe(v.string(), v.minLength(1), v.maxLength(NAME_LENGTH_MAX));
const countSchema = v.pipe(v.number(), v.safeInteger(), v.minValue(0));
const wallSchema = v.pipe(v.number(), v.finite());

const statementSchema = v.variant('type', [
  v.strictObject({
    type: v.literal('paired'),
    device: tokenSchema,
    name: nameSchema,
    signingKey: hexSchema(32),
    sealingKey: hexSchema(65),
    user: v.pipe(v.string(), v.minLength(1), v.maxLength(NAME_LENGTH_MAX)),
    atWallMs: wallSchema,
  }),
  v.strictObject({
    type: v.literal('put-out'),
    device: tokenSchema,
    reason: v.pipe(v.string(), v.maxLength(NAME_LENGTH_MAX)),
    atWallMs: wallSchema,
    after: v.strictObject({ J: countSchema, F: countSchema, K: countSchema }),
  }),
  v.strictObject({
    type: v.literal('renamed'),
    device: tokenSchema,
    name: nameSchema,
    atWallMs: wallSchema,
  }),
]);

export const signedSchema = v.strictObject({
  statement: statementSchema,
  signature: hexSchema(64),
});

/** What the holder of the root key puts the name to: bound to one clinic. */
const statementText = (site: string, statement: TabletStatement): string =>
  canonicalText({ what: 'lutewatch-statement', site, statement });

/** Signs a statement; `root`: the key that vouches for tablets. */
export async function signStatement(
  crypto: Crypto,
  o: {
    readonly site: string;
    readonly root: TabletKeys;
    readonly statement: TabletStatement;
  },
): Promise<SignedStatement> {
  const { statement } = o;
  return { statement, signature: await signText(crypto, o.root, statementText(o.site, statement)) };
}

/** Whose statements count. */
export interface Root {
  readonly site: string;
  /** Hex, 32 bytes. */
  readonly rootKey: string;
}

/** The statement, where it has the form and the root key of this clinic signed it; null otherwise. */
export async function verifiedStatement(
  crypto: Crypto,
  root: Root,
  value: unknown,
): Promise<SignedStatement | null> {
  const signed = parsedOr(signedSchema, value);
  if (signed === null) return null;
  // Half a surrogate pair has no canonical text, so nobody can have signed it.
  const text = textOrNull(root.site, signed.statement);
  if (text === null) return null;
  const { signature } = signed;
  const isSigned = await isSignedBy(crypto, { publicKey: root.rootKey, signature, text });
  return isSigned === true ? signed : null;
}

function textOrNull(site: string, statement: TabletStatement): string | null {
  try {
    return statementText(site, statement);
  } catch {
    return null;
  }
}

type Said<T extends TabletStatement['type']> = Extract<TabletStatement, { type: T }>;

const isOf =
  <T extends TabletStatement['type']>(type: T) =>
  (each: TabletStatement): each is Said<T> =>
    each.type === type;

/** By the clock of who said it, then by hash: any order of the list gives one. */
function inTime<T extends TabletStatement>(list: readonly T[]): readonly T[] {
  const keyed = list.map((each) => ({ each, hash: hashText(canonicalText(each)) }));
  return keyed
    .toSorted((a, b) => a.each.atWallMs - b.each.atWallMs || (a.hash < b.hash ? -1 : 1))
    .map(({ each }) => each);
}

/** Put out once is put out for good; of two, what is the earlier counts. */
function putOutOf(list: readonly Said<'put-out'>[]): Member['putOut'] {
  if (list.length === 0) return null;
  const least = (of: (each: Said<'put-out'>) => number): number => Math.min(...list.map(of));
  return {
    atWallMs: least(({ atWallMs }) => atWallMs),
    after: {
      J: least(({ after }) => after.J),
      F: least(({ after }) => after.F),
      K: least(({ after }) => after.K),
    },
  };
}

function memberOf(said: readonly TabletStatement[]): Member | null {
  // A tablet is paired once: whoever pairs again has another id. Of two for one id the first counts.
  const paired = inTime(said.filter(isOf('paired')))[0];
  if (paired === undefined) return null;
  const renamed = inTime(said.filter(isOf('renamed'))).at(-1);
  return {
    device: paired.device,
    name: renamed?.name ?? paired.name,
    signingKey: paired.signingKey,
    sealingKey: paired.sealingKey,
    user: paired.user,
    pairedAtWallMs: paired.atWallMs,
    putOut: putOutOf(said.filter(isOf('put-out'))),
  };
}

/** The tablets by id, from statements that were verified, in any order and however often. */
export function foldMembers(statements: readonly SignedStatement[]): Members {
  const byDevice = new Map<string, TabletStatement[]>();
  for (const { statement } of statements) {
    const said = byDevice.get(statement.device) ?? [];
    byDevice.set(statement.device, [...said, statement]);
  }
  const members = [...byDevice.values()].flatMap((said) => memberOf(said) ?? []);
  return new Map(members.map((member) => [member.device, member]));
}

/** Those that still belong to the clinic. */
export const membersIn = (members: Members): readonly Member[] =>
  [...members.values()].filter(({ putOut }) => putOut === null);

/** The member whose word counts at this place of a stream, or why none does. */
export function memberAt(
  members: Members,
  o: { readonly device: string; readonly stream: StreamName; readonly seq: number },
): Member | 'unknown-tablet' | 'put-out' {
  const member = members.get(o.device);
  if (member === undefined) return 'unknown-tablet';
  return member.putOut !== null && o.seq > member.putOut.after[o.stream] ? 'put-out' : member;
}
