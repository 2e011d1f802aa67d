import { once } from 'node:events';
import { connect as connectTo, createServer, type Socket } from 'node:net';

/** A way to the server that can swallow everything without a word, as a dead access point does. */
export async function blackHole(port: number) {
  const sockets = new Set<Socket>();
  let isHole = false;
  const proxy = createServer((socket) => {
    sockets.add(socket);
    socket.on('error', () => undefined);
    // Even a greeting does not come through.
    if (isHole) return;
    const server = connectTo(port, '127.0.0.1');
    sockets.add(server);
    server.on('error', () => undefined);
    for (const [from, to] of [
      [socket, server],
      [server, socket],
    ] as const) {
      from.on('data', (data) => {
        if (!isHole) to.write(data);
      });
      from.on('close', () => {
        if (!isHole) to.destroy();
      });
    }
  }).listen(0, '127.0.0.1');
  await once(proxy, 'listening');
  const address = proxy.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return {
    port: address.port,
    open: () => {
      isHole = true;
    },
    close: () => {
      isHole = false;
    },
    end: () => {
      for (const socket of sockets) socket.destroy();
      proxy.close();
    },
  };
}
