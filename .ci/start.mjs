/**
 * Builds the application and serves it on this machine. The port is fixed, because a browser keeps
 * the data of each port apart.
 */
import { build, preview } from 'vite';

const PORT = 4173;

process.env.NODE_ENV = 'production';
await build({ logLevel: 'warn' });
const server = await preview({
  logLevel: 'warn',
  preview: { host: '127.0.0.1', port: PORT, strictPort: false },
});
const { port } = server.httpServer.address();
console.log(`Lutewatch is at http://localhost:${port}/`);
if (port !== PORT) {
  console.log(`Port ${PORT} is taken. This address has records of its own, apart from that one's.`);
}
console.log('Stop it with Ctrl+C.');
