import { serverSuite, startClinic } from '../tools/nats-server.ts';
import { contractOf } from './contract.ts';
import { underTest } from './nats-clinic.ts';

await serverSuite('over a real server', (server) => {
  contractOf('the store over a server', async () => {
    const clinic = await startClinic(server);
    return underTest(clinic, clinic.open);
  });
});
