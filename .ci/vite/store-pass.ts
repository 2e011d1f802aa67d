/**
 * Passes the clinic's store through, where one runs on this machine: `GET /store/pairing` is a file of its
 * folder, and the WebSocket `/store` goes to its server. So everything of the store is at the page's own
 * address, and the policy of the page stays as it is.
 */
import { readFile } from 'node:fs/promises';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { connect } from 'node:net';
import { join } from 'node:path';
import type { Duplex } from 'node:stream';
import { fileURLToPath } from 'node:url';
import type { Plugin } from 'vite';

/** Where the store is: the port of its WebSocket on this machine, and the folder that anybody may read. */
export interface StoreAtHand {
  readonly wsPort: number;
  readonly publicDir: string;
}

/** `npm run clinic` writes it while it runs. */
const AT_HAND =
  process.env['LUTEWATCH_STORE_FILE'] ??
  fileURLToPath(new URL('../../node_modules/.cache/lutewatch/clinic.json', import.meta.url));

async function storeAtHand(): Promise<StoreAtHand | null> {
  try {
    const read: unknown = JSON.parse(await readFile(AT_HAND, 'utf8'));
    if (typeof read !== 'object' || read === null) return null;
    if (!('wsPort' in read && 'publicDir' in read)) return null;
    const { wsPort, publicDir } = read;
    return typeof wsPort === 'number' && typeof publicDir === 'string'
      ? { wsPort, publicDir }
      : null;
  } catch {
    return null;
  }
}

type Find = () => Promise<StoreAtHand | null>;

const pathOf = (request: IncomingMessage): string => (request.url ?? '').split('?')[0] ?? '';

async function answerPairing(response: ServerResponse, find: Find): Promise<void> {
  const at = await find();
  const text =
    at === null
      ? null
      : await readFile(join(at.publicDir, 'pairing.json'), 'utf8').catch(() => null);
  response.statusCode = text === null ? 404 : 200;
  response.setHeader('Content-Type', 'application/json');
  response.setHeader('Cache-Control', 'no-store');
  response.setHeader('X-Content-Type-Options', 'nosniff');
  response.setHeader('Cross-Origin-Resource-Policy', 'same-origin');
  response.end(text ?? '{}');
}

/** A page of another address has no business here; programs say no origin. */
function isOwnPage({ headers }: IncomingMessage): boolean {
  if (headers.origin === undefined) return true;
  try {
    return new URL(headers.origin).host === headers.host;
  } catch {
    return false;
  }
}

/** Hands the request on as it came, and then every byte both ways. */
async function passOn(
  o: { readonly request: IncomingMessage; readonly socket: Duplex; readonly head: Buffer },
  find: Find,
): Promise<void> {
  const { request, socket, head } = o;
  // Whoever goes away meanwhile ends this connection and nothing else.
  socket.on('error', () => socket.destroy());
  const at = isOwnPage(request) ? await find() : null;
  if (at === null) {
    socket.end('HTTP/1.1 404 Not Found\r\nConnection: close\r\n\r\n');
    return;
  }
  const server = connect(at.wsPort, '127.0.0.1');
  server.setNoDelay(true);
  server.on('error', () => socket.destroy());
  server.on('close', () => socket.destroy());
  socket.on('close', () => server.destroy());
  const { rawHeaders } = request;
  const lines = rawHeaders.flatMap((name, index) =>
    index % 2 === 0 ? `${name}: ${rawHeaders[index + 1]}` : [],
  );
  server.write(`GET / HTTP/1.1\r\n${lines.join('\r\n')}\r\n\r\n`);
  server.write(head);
  socket.pipe(server).pipe(socket);
}

interface Served {
  readonly middlewares: {
    use(
      path: string,
      handle: (request: IncomingMessage, response: ServerResponse) => void,
    ): unknown;
  };
  readonly httpServer: {
    on(
      event: 'upgrade',
      listener: (request: IncomingMessage, socket: Duplex, head: Buffer) => void,
    ): unknown;
  } | null;
}

function serve({ middlewares, httpServer }: Served, find: Find): void {
  middlewares.use('/store/pairing', (_, response) => {
    void answerPairing(response, find);
  });
  httpServer?.on('upgrade', (request, socket, head) => {
    if (pathOf(request) === '/store') void passOn({ request, socket, head }, find);
  });
}

/** `find` says where the store is, asked at each request; the one of `npm run clinic` when left out. */
export const storePass = (find: Find = storeAtHand): Plugin => ({
  name: 'store-pass',
  configureServer: (server) => serve(server, find),
  configurePreviewServer: (server) => serve(server, find),
});
