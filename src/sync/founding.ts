/**
 * How a tablet becomes a member: let in by the lead's tablet, by founding the clinic, or by the lead's box. Its
 * private keys are made on it and stay there.
 */
import type { TabletKeys } from '../storage/signatures.ts';
import { importSecret, makeSecret, withSecret } from './clinic-secret.ts';
import { foldMembers, signStatement, verifiedStatement } from './members.ts';
import type { Founding, JoinRequest, Welcome } from './pair-messages.ts';
import { makeRootSeed, rootKeys } from './root-key.ts';
import { publicSealingKey } from './sealed-for.ts';
import type { ClinicSecret, LeadBox, Membership, SignedStatement } from './sealed-types.ts';
import type { ServerSeeds, UserKey } from './server-keys.ts';

/** Lets a user of the server in, under the id of its tablet. */
export type JwtFor = (
  seeds: ServerSeeds,
  o: { readonly user: string; readonly device: string },
) => Promise<string>;

/** What a tablet makes for itself before it asks. */
export interface OwnKeys {
  /** A new id. */
  readonly device: string;
  readonly name: string;
  readonly signing: TabletKeys;
  readonly sealing: CryptoKeyPair;
  readonly user: UserKey;
}

/** The public halves of a tablet's keys. */
export async function requestOf(crypto: Crypto, own: OwnKeys): Promise<JoinRequest> {
  const { device, name } = own;
  const sealingKey = await publicSealingKey(crypto, own.sealing);
  return { device, name, signingKey: own.signing.publicKey, sealingKey, user: own.user.user };
}

/** What the holder of the box says of a tablet, and the user that lets it in. */
async function vouched(
  crypto: Crypto,
  o: {
    readonly box: LeadBox;
    readonly root: TabletKeys;
    readonly request: JoinRequest;
    readonly nowWallMs: number;
    readonly jwtFor: JwtFor;
  },
): Promise<{ readonly statement: SignedStatement; readonly jwt: string }> {
  const { box, root, request } = o;
  const { site } = box;
  const said = { type: 'paired', ...request, atWallMs: o.nowWallMs } as const;
  const [statement, jwt] = await Promise.all([
    signStatement(crypto, { site, root, statement: said }),
    o.jwtFor(box, { user: request.user, device: request.device }),
  ]);
  return { statement, jwt };
}

/**
 * What the lead's tablet gives a new one. Null where a tablet of that id belongs, or belonged, to the clinic.
 * `statements`: all that are known, verified. The new one is published once the tablet keeps what it was given.
 */
export async function welcomeFor(
  crypto: Crypto,
  o: {
    readonly box: LeadBox;
    readonly request: JoinRequest;
    readonly statements: readonly SignedStatement[];
    readonly isDemo: boolean;
    readonly nowWallMs: number;
    readonly jwtFor: JwtFor;
  },
): Promise<{ readonly welcome: Welcome; readonly statement: SignedStatement } | null> {
  const { box, request } = o;
  const { device } = request;
  if (o.statements.some(({ statement }) => statement.device === device)) return null;
  const root = await rootKeys(crypto, box.rootSeed);
  const { statement, jwt } = await vouched(crypto, { ...o, root });
  const welcome: Welcome = {
    type: 'welcome',
    site: box.site,
    device,
    jwt,
    rootKey: root.publicKey,
    secrets: box.secrets.map(({ version, secret }) => ({ version, secret })),
    statements: [...o.statements, statement],
    isDemo: o.isDemo,
  };
  return { welcome, statement };
}

/** What a tablet is once it was let in: kept before the other end is told. */
export interface Joined {
  readonly membership: Membership;
  /** All that are known, verified, its own among them. */
  readonly statements: readonly SignedStatement[];
}

async function secretsOf(
  crypto: Crypto,
  list: readonly { readonly version: number; readonly secret: string }[],
): Promise<readonly ClinicSecret[]> {
  let secrets: readonly ClinicSecret[] = [];
  for (const each of list) {
    const secret = await importSecret(crypto, each);
    secrets = await withSecret(crypto, { secrets, secret });
  }
  return secrets;
}

/** Takes a welcome. Null where the root key that it names does not vouch for this very tablet. */
export async function joinedBy(
  crypto: Crypto,
  o: { readonly welcome: Welcome; readonly own: OwnKeys },
): Promise<Joined | null> {
  const { welcome, own } = o;
  const checked = await Promise.all(
    welcome.statements.map((each) => verifiedStatement(crypto, welcome, each)),
  );
  const statements = checked.filter((each) => each !== null);
  const member = foldMembers(statements).get(own.device);
  const asked = await requestOf(crypto, own);
  const isThis =
    welcome.device === own.device &&
    member?.putOut === null &&
    member.signingKey === asked.signingKey &&
    member.sealingKey === asked.sealingKey;
  if (!isThis) return null;
  const membership: Membership = {
    site: welcome.site,
    device: own.device,
    name: member.name,
    rootKey: welcome.rootKey,
    secrets: await secretsOf(crypto, welcome.secrets),
    line: { jwt: welcome.jwt, seed: own.user.seed },
    isDemo: welcome.isDemo,
    sealing: own.sealing,
  };
  return { membership, statements };
}

/**
 * Makes a tablet a member by the box alone: it founds the clinic, or every other tablet is lost. It vouches for
 * itself, and publishes its statement itself.
 */
export async function joinedByBox(
  crypto: Crypto,
  o: {
    readonly box: LeadBox;
    readonly own: OwnKeys;
    readonly isDemo: boolean;
    readonly nowWallMs: number;
    readonly jwtFor: JwtFor;
  },
): Promise<Joined> {
  const { box, own } = o;
  const root = await rootKeys(crypto, box.rootSeed);
  const request = await requestOf(crypto, own);
  const { statement, jwt } = await vouched(crypto, { ...o, root, request });
  const membership: Membership = {
    site: box.site,
    device: own.device,
    name: own.name,
    rootKey: root.publicKey,
    secrets: await secretsOf(crypto, box.secrets),
    line: { jwt, seed: own.user.seed },
    isDemo: o.isDemo,
    sealing: own.sealing,
  };
  return { membership, statements: [statement] };
}

/** A new clinic's box: the seeds of its server, and a secret and a root key that are made here. */
export function newBox(crypto: Crypto, founding: Founding): LeadBox {
  return {
    site: founding.site,
    ...founding.seeds,
    rootSeed: makeRootSeed(crypto),
    secrets: [{ version: 1, secret: makeSecret(crypto) }],
  };
}
