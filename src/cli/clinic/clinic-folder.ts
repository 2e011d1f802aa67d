/**
 * The folder of a clinic's server: its keys until a tablet has founded the clinic, what the server believes, and
 * what it keeps. Readable by its owner only.
 *
 * - `clinic.json` the site, and the user that makes the streams
 * - `seeds.json` the keys of the server, until the founding tablet has them
 * - `accounts/` the accounts, which the server itself keeps up to date
 * - `public/pairing.json` how a new tablet reaches the store
 * - `store/` the streams; `server.conf`, `server.log`, `server.pid`
 */
import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { chmod, mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import * as v from 'valibot';
import { jsonOr } from '../../base/json.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { readOutside } from '../../protocol/read-outside.ts';
import {
  builderLogin,
  newServerSeeds,
  operatorJwt,
  pairingLogin,
  publicOf,
  storeAccountJwt,
  systemAccountJwt,
  tabletsAccountJwt,
} from '../../sync/accounts.ts';
import type { PairingDoor, ServerSeeds } from '../../sync/server-keys.ts';
import type { FoundServer } from './find-server.ts';

const login = v.object({ jwt: v.string(), seed: v.string() });
const clinicSchema = v.object({
  format: v.literal('lutewatch-clinic'),
  site: v.string(),
  operatorJwt: v.string(),
  systemAccount: v.string(),
  builder: login,
  pairing: login,
});
const seedsSchema = v.object({
  operatorSeed: v.string(),
  systemSeed: v.string(),
  storeSeed: v.string(),
  tabletsSeed: v.string(),
  tabletSigningSeed: v.string(),
  pairingSigningSeed: v.string(),
});

export type ClinicFile = v.InferOutput<typeof clinicSchema>;

export interface ClinicFolder {
  readonly dir: string;
  readonly clinic: ClinicFile;
  /** Null once a tablet has founded the clinic: then they lie under its lead's passphrase. */
  readonly seeds: ServerSeeds | null;
}

const OWNER_DIR = 0o700;
const OWNER_FILE = 0o600;

/** Writes a file in one step, readable by its owner only. */
export async function writeOwn(path: string, text: string): Promise<void> {
  const beside = `${path}.new`;
  await writeFile(beside, text, { mode: OWNER_FILE });
  await chmod(beside, OWNER_FILE);
  await rename(beside, path);
}

const isCode = (thrown: unknown, code: string): boolean =>
  thrown instanceof Error && 'code' in thrown && thrown.code === code;
const isMissing = (thrown: unknown): boolean => isCode(thrown, 'ENOENT');

/** With the folders above it. Node's own way to make several never ends where none can be made, as under /proc. */
async function makeDir(path: string): Promise<void> {
  const make = () => mkdir(path, { mode: OWNER_DIR });
  try {
    await make();
  } catch (thrown) {
    if (isCode(thrown, 'EEXIST')) return;
    if (!isMissing(thrown) || dirname(path) === path) throw thrown;
    await makeDir(dirname(path));
    await make();
  }
}

/** Makes a folder, with those above it, for its owner only. */
export async function ownDir(path: string): Promise<void> {
  await makeDir(path);
  await chmod(path, OWNER_DIR);
}

/** The document in a file; null where there is no such file. */
export async function readOwn<const Schema extends v.GenericSchema>(
  path: string,
  schema: Schema,
): Promise<Result<v.InferOutput<Schema> | null, Problem>> {
  try {
    const read = readOutside(schema, jsonOr(await readFile(path, 'utf8'))?.value, path);
    return read.ok ? read : err(read.error[0]);
  } catch (thrown) {
    return isMissing(thrown) ? ok(null) : err(problem(path, 'a file that can be read', thrown));
  }
}

async function found(dir: string, seeds: ServerSeeds): Promise<ClinicFile> {
  const site = randomBytes(5).toString('hex');
  const accounts = {
    [publicOf(seeds.systemSeed)]: await systemAccountJwt(seeds),
    [publicOf(seeds.storeSeed)]: await storeAccountJwt(seeds),
    [publicOf(seeds.tabletsSeed)]: await tabletsAccountJwt(seeds, { site, putOut: [] }),
  };
  for (const [account, jwt] of Object.entries(accounts)) {
    await writeOwn(join(dir, 'accounts', `${account}.jwt`), jwt);
  }
  const clinic: ClinicFile = {
    format: 'lutewatch-clinic',
    site,
    operatorJwt: await operatorJwt(seeds),
    systemAccount: publicOf(seeds.systemSeed),
    builder: await builderLogin(seeds),
    pairing: await pairingLogin(seeds),
  };
  // The seeds first and the clinic last: a folder without `clinic.json` is made anew as a whole.
  await writeOwn(join(dir, 'seeds.json'), `${JSON.stringify(seeds)}\n`);
  await writeOwn(join(dir, 'clinic.json'), `${JSON.stringify(clinic)}\n`);
  return clinic;
}

/** Makes the folder, or reads the one that is there. */
export async function openFolder(dir: string): Promise<Result<ClinicFolder, Problem>> {
  try {
    if (existsSync(join(dir, 'hub.json'))) return err(problem('--dir', "a clinic's folder", dir));
    for (const name of ['', 'accounts', 'public', 'store']) await ownDir(join(dir, name));
    const read = await readOwn(join(dir, 'clinic.json'), clinicSchema);
    if (!read.ok) return read;
    if (read.value === null) {
      const seeds = newServerSeeds();
      return ok({ dir, clinic: await found(dir, seeds), seeds });
    }
    const seeds = await readOwn(join(dir, 'seeds.json'), seedsSchema);
    return seeds.ok ? ok({ dir, clinic: read.value, seeds: seeds.value }) : seeds;
  } catch (thrown) {
    return err(problem(dir, 'a folder that can be written', String(thrown), 'bad-folder'));
  }
}

/** Writes what every new tablet asks for first. */
export async function writePairingDoor(
  { dir, clinic }: ClinicFolder,
  server: FoundServer,
): Promise<void> {
  const door: PairingDoor = {
    format: 'lutewatch-pairing',
    site: clinic.site,
    isDemo: server.isDemo,
    serverVersion: server.version,
    ...clinic.pairing,
  };
  await writeOwn(join(dir, 'public', 'pairing.json'), `${JSON.stringify(door)}\n`);
}

const handedFile = (dir: string): string => join(dir, 'handed.json');
const handedSchema = v.object({ name: v.string() });

/** A tablet of this name is given the keys of the server: they may be with it from now on. */
export const noteHandedTo = ({ dir }: ClinicFolder, name: string): Promise<void> =>
  writeOwn(handedFile(dir), `${JSON.stringify({ name })}\n`);

/** The tablet that was given them last; null where none was. One that cannot be read was given to somebody. */
export async function readHandedTo({ dir }: ClinicFolder): Promise<string | null> {
  const read = await readOwn(handedFile(dir), handedSchema);
  return read.ok ? (read.value?.name ?? null) : '?';
}

/** After a tablet has founded the clinic: the keys are with it alone. */
export async function forgetSeeds({ dir }: ClinicFolder): Promise<void> {
  await rm(join(dir, 'seeds.json'), { force: true });
  await rm(handedFile(dir), { force: true });
}
