/**
 * The configuration of a hub: one server that keeps a copy of what the stores of several clinics hold. Each clinic
 * has an account of its own there, so that none sees, answers or overwrites what another one wrote. Keys are not
 * copied: a copy keeps what is erased at the clinic.
 */
import type { StreamName } from '../../sync/store-types.ts';
import { quoted, type ServerPlace, serverHead } from './server-config.ts';

/** What is copied. `K` never is. */
export const COPIED = ['J', 'F'] as const satisfies readonly StreamName[];

/** Ids of clinics, with what each has to know to come in. */
export type HubSites = Readonly<Record<string, { readonly password: string }>>;

export interface HubConfig extends ServerPlace {
  readonly sites: HubSites;
  /** For the hub itself, on this machine. */
  readonly ownPassword: string;
  /** Has to be there for clinics to come in, who use the WebSocket. This machine only. */
  readonly leafPort: number;
  readonly storeBytes: number;
  readonly isDemo: boolean;
}

/** The user of the hub itself in the account of a site. */
export const ownUser = (site: string): string => `hub-${site}`;

function account(site: string, password: string, ownPassword: string): string {
  const user = (name: string, secret: string, type: string) =>
    `      { user: ${quoted(name)}, password: ${quoted(secret)}, allowed_connection_types: [${quoted(type)}] }`;
  return `  ${quoted(site)} {
    jetstream: enabled
    users: [
${user(site, password, 'LEAFNODE_WS')}
${user(ownUser(site), ownPassword, 'STANDARD')}
    ]
  }`;
}

/** The text of the configuration file. */
export function hubConfig(o: HubConfig): string {
  const accounts = Object.entries(o.sites).map(([site, { password }]) =>
    account(site, password, o.ownPassword),
  );
  return `${serverHead('hub', o)}leafnodes {
  listen: "127.0.0.1:${o.leafPort}"
}

jetstream {
  store_dir: ${quoted(`${o.folder}/store`)}
  domain: "hub"
  max_mem: 0
  max_file_store: ${o.storeBytes}${o.isDemo ? '' : '\n  sync_interval: always'}
}

accounts {
${accounts.join('\n')}
}
`;
}

/** A stream that follows the one of the same name at the site. */
export const mirrorConfig = (site: string, stream: (typeof COPIED)[number]): object => ({
  name: stream,
  storage: 'file',
  num_replicas: 1,
  allow_direct: true,
  mirror: { name: stream, external: { api: `$JS.${site}.API` } },
});
