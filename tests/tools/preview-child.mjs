/**
 * Serves a built application in a process of its own, so that a test can take the server away as
 * abruptly as a dead access point does. Arguments: the folder, the port, 0 for any free one, and the
 * headers as JSON.
 */
import { preview } from 'vite';

const [outDir, port, headers] = process.argv.slice(2);
const server = await preview({
  configFile: false,
  logLevel: 'error',
  build: { outDir },
  preview: {
    headers: JSON.parse(headers),
    host: '127.0.0.1',
    port: Number(port),
    strictPort: true,
  },
});
process.send({ port: server.httpServer.address().port });
// The parent is gone: nobody would stop this server any more.
process.on('disconnect', () => process.exit());
