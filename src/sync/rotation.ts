/**
 * Putting a tablet out. What it read stays read; from then on its word counts no more, and what is told is sealed
 * by a secret that it does not get.
 *
 * Order in which a plan is carried out, so that it can be broken off anywhere and begun again: the server shuts the
 * tablet out; the new box is kept; then the new secret and the wrapped keys; then the statement. A secret that is in
 * the box and was never handed out does no harm, one that was handed out and is in no box would. A tablet that was
 * said to be out while the old secret goes on would not be put out again.
 */
import { assert } from '../base/assert.ts';
import {
  caseKeyMessage,
  clinicSecretMessage,
  rewrapCaseKey,
  type WrappedCaseKey,
} from './case-keys.ts';
import { importSecret, keysOf, makeSecret, withSecret } from './clinic-secret.ts';
import { foldMembers, membersIn, signStatement } from './members.ts';
import { rootKeys } from './root-key.ts';
import { sealFor } from './sealed-for.ts';
import type {
  ClinicSecret,
  LeadBox,
  Members,
  SealedMessage,
  Sealer,
  SignedStatement,
} from './sealed-types.ts';

/** How many keys are wrapped at a time: enough to keep the platform busy. */
const AT_ONCE = 32;

export interface PutOutPlan {
  /** For the fact of the kind `tablet`. */
  readonly statement: SignedStatement;
  /** Names of the users that the server no longer lets in: this one, and all that were put out before. */
  readonly shutOut: readonly string[];
  /** The box with the new secret, still to be sealed. */
  readonly box: LeadBox;
  /** The lead's own secrets with the new one, which seals from now on. */
  readonly secrets: readonly ClinicSecret[];
  /** Hands the new secret to the tablets that stay. */
  readonly secretMessage: SealedMessage;
  /** Case keys wrapped by the new secret, and their messages. */
  readonly keys: readonly { readonly wrapped: WrappedCaseKey; readonly message: SealedMessage }[];
  /** Keys that this tablet cannot open: they stay as they are wrapped. */
  readonly keysLeft: readonly WrappedCaseKey[];
}

async function inBatches<T, R>(
  list: readonly T[],
  run: (each: T) => Promise<R>,
): Promise<readonly R[]> {
  const done: R[] = [];
  for (let at = 0; at < list.length; at += AT_ONCE) {
    done.push(...(await Promise.all(list.slice(at, at + AT_ONCE).map(run))));
  }
  return done;
}

/** Wraps case keys by another secret, and makes their messages. Those that it wraps already are left out. */
async function rewrapAll(
  sealer: Sealer,
  o: { readonly keys: readonly WrappedCaseKey[]; readonly by: ClinicSecret },
): Promise<Pick<PutOutPlan, 'keys' | 'keysLeft'>> {
  const { crypto, membership } = sealer;
  const { secrets } = membership;
  const { id } = await keysOf(crypto, o.by);
  const old = o.keys.filter(({ secretId }) => secretId !== id);
  const all = await inBatches(old, async (wrapped) => {
    const anew = await rewrapCaseKey(crypto, { wrapped, secrets, by: o.by });
    if (!anew.ok) return { wrapped, message: null };
    return { wrapped: anew.value, message: await caseKeyMessage(sealer, anew.value) };
  });
  return {
    keys: all.flatMap(({ wrapped, message }) => (message === null ? [] : [{ wrapped, message }])),
    keysLeft: all.flatMap(({ wrapped, message }) => (message === null ? [wrapped] : [])),
  };
}

/**
 * Plans a put-out with the opened box. `members` and `statements` are what is known now; `after`: the last
 * message of each stream; `caseKeys`: every case key that is kept here, as it is wrapped.
 */
export async function planPutOut(
  sealer: Sealer,
  o: {
    readonly box: LeadBox;
    readonly statements: readonly SignedStatement[];
    readonly device: string;
    readonly reason: string;
    readonly nowWallMs: number;
    readonly after: { readonly J: number; readonly F: number; readonly K: number };
    readonly caseKeys: readonly WrappedCaseKey[];
  },
): Promise<PutOutPlan> {
  const { crypto, membership } = sealer;
  const { box, device, reason, after } = o;
  const { site } = box;
  assert(device !== membership.device, 'a tablet does not put itself out');
  const root = await rootKeys(crypto, box.rootSeed);
  const statement = await signStatement(crypto, {
    site,
    root,
    statement: { type: 'put-out', device, reason, atWallMs: o.nowWallMs, after },
  });
  const members: Members = foldMembers([...o.statements, statement]);
  const version = Math.max(...box.secrets.map((each) => each.version)) + 1;
  const secret = makeSecret(crypto);
  const sealed = await inBatches(membersIn(members), (member) => {
    const what = { site, device: member.device, version };
    return sealFor(crypto, { what, sealingKey: member.sealingKey, secret });
  });
  const own = await importSecret(crypto, { version, secret });
  const secretMessage = await clinicSecretMessage(sealer, { secret: { version, sealed }, root });
  return {
    statement,
    shutOut: [...members.values()].flatMap(({ putOut, user }) => (putOut === null ? [] : [user])),
    box: { ...box, secrets: [...box.secrets, { version, secret }] },
    secrets: await withSecret(crypto, { secrets: membership.secrets, secret: own }),
    secretMessage,
    ...(await rewrapAll(sealer, { keys: o.caseKeys, by: own })),
  };
}
