/**
 * Serves a built application in a process of its own, so that a test can take the server away as
 * abruptly as a dead access point does. Arguments: the folder, the port, 0 for any free one, the
 * headers as JSON, and where the clinic's store is, as JSON, `null` for none.
 */
import { tsImport } from 'tsx/esm/api';
import { preview } from 'vite';

const [outDir, port, headers, store = 'null'] = process.argv.slice(2);
const at = JSON.parse(store);
const plugins = [];
if (at !== null) {
  const { storePass } = await tsImport('../../.ci/vite/store-pass.ts', import.meta.url);
  plugins.push(storePass(() => Promise.resolve(at)));
}
const server = await preview({
  configFile: false,
  logLevel: 'error',
  plugins,
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
