/**
 * The folder of a hub, readable by its owner only: `hub.json` with what it asks of whom, `sites/SITE.json` for each
 * clinic to take, `store/` the copies; `server.conf`, `server.log`, `server.pid`.
 */
import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import * as v from 'valibot';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { ownDir, readOwn, writeOwn } from './clinic-folder.ts';

const hubSchema = v.object({
  format: v.literal('lutewatch-hub'),
  ownPassword: v.string(),
  sites: v.record(v.string(), v.object({ password: v.string() })),
});
export type HubFile = v.InferOutput<typeof hubSchema>;

const linkSchema = v.object({
  format: v.literal('lutewatch-hub-link'),
  site: v.string(),
  address: v.pipe(v.string(), v.regex(/^wss?:\/\/[A-Za-z0-9.:-]+$/)),
  password: v.pipe(v.string(), v.regex(/^[A-Za-z0-9_-]+$/)),
});
/** What a clinic takes from the hub in order to reach it. */
export type HubLinkFile = v.InferOutput<typeof linkSchema>;

const newPassword = (): string => randomBytes(32).toString('base64url');

/** Makes the folder, or reads it; sites that are new to it get a password. None is dropped. */
export async function openHub(
  dir: string,
  sites: readonly string[],
): Promise<Result<HubFile, Problem>> {
  try {
    if (existsSync(join(dir, 'clinic.json'))) {
      return err(problem('--dir', "a folder of its own, not a clinic's", dir));
    }
    for (const name of ['', 'sites', 'store']) await ownDir(join(dir, name));
    const path = join(dir, 'hub.json');
    const read = await readOwn(path, hubSchema);
    if (!read.ok) return read;
    const fresh = sites.map((site) => [site, { password: newPassword() }] as const);
    const hub: HubFile = {
      format: 'lutewatch-hub',
      ownPassword: read.value?.ownPassword ?? newPassword(),
      sites: { ...Object.fromEntries(fresh), ...read.value?.sites },
    };
    await writeOwn(path, `${JSON.stringify(hub)}\n`);
    return ok(hub);
  } catch (thrown) {
    return err(problem(dir, 'a folder that can be written', String(thrown), 'bad-folder'));
  }
}

export const linkPath = (dir: string, site: string): string => join(dir, 'sites', `${site}.json`);

/** Writes what each clinic takes. `address`: where clinics reach the hub. */
export async function writeLinks(dir: string, hub: HubFile, address: string): Promise<void> {
  for (const [site, { password }] of Object.entries(hub.sites)) {
    const link: HubLinkFile = { format: 'lutewatch-hub-link', site, address, password };
    await writeOwn(linkPath(dir, site), `${JSON.stringify(link)}\n`);
  }
}

/** Reads what the hub wrote for this clinic. */
export async function readLink(path: string, site: string): Promise<Result<HubLinkFile, Problem>> {
  const expected = `a file that the hub wrote for this clinic, ${site}`;
  const read = await readOwn(path, linkSchema);
  if (!read.ok) return err(problem('--hub', expected, `${path}: ${read.error.came}`));
  if (read.value === null) return err(problem('--hub', expected, path));
  if (read.value.site !== site) return err(problem('--hub', expected, read.value.site));
  return ok(read.value);
}
