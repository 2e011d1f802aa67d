/**
 * A configuration for Caddy, a web server that is kept up to date and sees to its own certificates: it serves
 * the built application with the headers that it asks for, and passes the store through.
 */

import { join } from 'node:path';

export const caddyfilePath = (folder: string): string => join(folder, 'Caddyfile');

/** Letters that no shell takes for more than themselves. */
const PLAIN = /^[\w@%+=:,./-]+$/;

/** What starts the web server of a folder, to be typed. */
export function caddyCommand(folder: string): string {
  const path = caddyfilePath(folder);
  return `caddy run --config ${PLAIN.test(path) ? path : `'${path.replaceAll("'", "'\\''")}'`}`;
}

export interface WebServer {
  /** `clinic.example`, as tablets call it. */
  readonly name: string;
  /** The built application. */
  readonly dist: string;
  /** The folder with `pairing.json`. */
  readonly publicDir: string;
  readonly wsPort: number;
  readonly headers: Readonly<Record<string, string>>;
}

const quoted = (text: string): string =>
  `"${text.replaceAll('\\', '\\\\').replaceAll('"', '\\"')}"`;

/** The text of a Caddyfile, for Caddy 2. */
export function caddyfile(o: WebServer): string {
  const headers = Object.entries(o.headers).map(([name, text]) => `\t\t${name} ${quoted(text)}`);
  return `# Written by npm run clinic. Serves Lutewatch at https://${o.name}
${o.name} {
	# A certificate of a public authority is asked for by itself. Where none can be had, one of the clinic's own:
	# tls internal
	header {
${headers.join('\n')}
		Strict-Transport-Security max-age=31536000
	}
	@foreign not header Origin https://${o.name}
	handle /store/pairing {
		root * ${quoted(o.publicDir)}
		rewrite * /pairing.json
		header Cache-Control no-store
		file_server
	}
	handle /store {
		respond @foreign 404
		rewrite * /
		reverse_proxy 127.0.0.1:${o.wsPort}
	}
	root * ${quoted(o.dist)}
	encode gzip
	handle /assets/* {
		file_server
	}
	handle {
		header Cache-Control no-cache
		try_files {path} /index.html
		file_server
	}
}
`;
}

/** The text of a Caddyfile for a hub: clinics come in at `/leafnode`, and nothing else is there. */
export const hubCaddyfile = (name: string, port: number): string =>
  `# Written by npm run clinic. Lets the servers of clinics reach the hub at wss://${name}
${name} {
	# A certificate of a public authority is asked for by itself.
	handle /leafnode {
		reverse_proxy 127.0.0.1:${port}
	}
	respond 404
}
`;
