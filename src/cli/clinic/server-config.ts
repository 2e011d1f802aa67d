/** The server's configuration, and what of it depends on its version. */
import type { StreamName } from '../../sync/store-types.ts';
import { MESSAGE_BYTES_MAX } from '../../sync/store-words.ts';

/** Where a server listens, and the folder that is its own. */
export interface ServerPlace {
  readonly folder: string;
  /** The address and port of clients that speak the server's own protocol: this machine only. */
  readonly port: number;
  readonly webSocketHost: string;
  readonly webSocketPort: number;
}

export interface ServerConfig extends ServerPlace {
  readonly site: string;
  readonly operatorJwt: string;
  readonly systemAccount: string;
  /** The most that the streams may take on the disk. A full disk would stop the server without a word. */
  readonly storeBytes: number;
  readonly isDemo: boolean;
  /** The hub that keeps a copy; left out where there is none. */
  readonly hub?: HubLink;
}

/** How the server of a site reaches its hub. */
export interface HubLink {
  /** `wss://hub.example`, or `ws://127.0.0.1:4280` on one machine. */
  readonly address: string;
  readonly password: string;
  /** The public name of the account with the streams. */
  readonly account: string;
}

/** One message of the largest size, with what the protocol adds. */
const PAYLOAD_MAX = 262_144;

/** As a text in the server's configuration. */
export const quoted = (text: string): string => JSON.stringify(text);

/** What the files of a store and of a hub begin with. */
export const serverHead = (name: string, o: ServerPlace): string =>
  `# Written by npm run clinic at each start.
server_name: ${quoted(name)}
listen: "127.0.0.1:${o.port}"
max_payload: ${PAYLOAD_MAX}
logfile: ${quoted(`${o.folder}/server.log`)}
logfile_size_limit: 10MB
pid_file: ${quoted(`${o.folder}/server.pid`)}

websocket {
  listen: ${quoted(`${o.webSocketHost}:${o.webSocketPort}`)}
  no_tls: true
  compression: false
}
`;

/**
 * Nothing of the streams passes the link by itself: a subject that two servers listen to is answered by both,
 * and the answer of the wrong one may come first.
 */
const KEPT_AT_THE_SITE = ['j.>', 'f.>', 'k.>', 'r.>'];

/** The hub may ask to be sent J and F, as a mirror does. It may neither see keys nor change anything. */
function deniedToTheHub(site: string): readonly string[] {
  const calls = ['STREAM.>', 'DIRECT.>', 'META.>', 'SERVER.>', 'ACCOUNT.>', 'INFO'];
  const ofKeys = ['CREATE.K', 'CREATE.K.>', 'DURABLE.CREATE.K.>', 'MSG.NEXT.K.>'];
  const consumers = [...ofKeys, ...['INFO', 'LIST', 'NAMES'].map((call) => `${call}.>`)];
  return [...calls, ...consumers.map((call) => `CONSUMER.${call}`)].map(
    (call) => `$JS.${site}.API.${call}`,
  );
}

function leafNodes(site: string, { address, password, account }: HubLink): string {
  const url = address.replace('://', `://${site}:${password}@`);
  return `
leafnodes {
  remotes: [ {
    url: ${quoted(url)}
    account: ${quoted(account)}
    deny_exports: ${JSON.stringify(KEPT_AT_THE_SITE)}
    deny_imports: ${JSON.stringify([...KEPT_AT_THE_SITE, ...deniedToTheHub(site)])}
  } ]
}
`;
}

/** The text of the configuration file. Nothing in it is newer than 2.9, but for what a demo leaves out. */
export function serverConfig(o: ServerConfig): string {
  const store = [
    `  store_dir: ${quoted(`${o.folder}/store`)}`,
    '  max_mem: 0',
    `  max_file_store: ${o.storeBytes}`,
    // Before 2.10 it is an unknown field, and the server does not start.
    ...(o.isDemo ? [] : ['  sync_interval: always']),
    // Every acknowledgement then says which site's store it is of.
    ...(o.hub === undefined ? [] : [`  domain: ${quoted(o.site)}`]),
  ];
  return `${serverHead(`clinic-${o.site}`, o)}
jetstream {
${store.join('\n')}
}

operator: ${quoted(o.operatorJwt)}
system_account: ${quoted(o.systemAccount)}
resolver {
  type: full
  dir: ${quoted(`${o.folder}/accounts`)}
  allow_delete: false
}
${o.hub === undefined ? '' : leafNodes(o.site, o.hub)}`;
}

/** The stream as the server is asked to make it: every subject once, for ever, told of under `r.`. */
export const streamConfig = (stream: StreamName): object => ({
  name: stream,
  subjects: [`${stream.toLowerCase()}.>`],
  storage: 'file',
  retention: 'limits',
  discard: 'new',
  discard_new_per_subject: true,
  max_msgs_per_subject: 1,
  max_msgs: -1,
  max_bytes: -1,
  max_age: 0,
  max_consumers: -1,
  max_msg_size: MESSAGE_BYTES_MAX,
  num_replicas: 1,
  allow_direct: true,
  republish: { src: '>', dest: 'r.>' },
});
