import { adminConnection, nodeConnect } from '../../src/cli/clinic/run-server.ts';
import { keeperLogin } from '../../src/sync/accounts.ts';
import { putOutAtServer } from '../../src/sync/put-out-at-server.ts';
import { serverSuite, startClinic } from '../tools/nats-server.ts';
import { contractOf, done } from './contract.ts';

await serverSuite('over a real server', (server) => {
  contractOf('the store over a server', async () => {
    const clinic = await startClinic(server);
    const users = new Map<string, string>();
    const tablets = new Map<string, Awaited<ReturnType<typeof clinic.tablet>>>();
    return {
      site: clinic.site,
      async open(device) {
        const tablet = tablets.get(device) ?? (await clinic.tablet(device));
        tablets.set(device, tablet);
        users.set(device, tablet.user);
        return clinic.open(tablet.login, device);
      },
      openPairing: () => Promise.resolve(clinic.open(clinic.folder.clinic.pairing, 'pairing')),
      async putOut(device) {
        await done(
          putOutAtServer(clinic.seeds, {
            address: `127.0.0.1:${clinic.port}`,
            connect: nodeConnect,
            site: clinic.site,
            users: [users.get(device) ?? ''],
          }),
        );
      },
      async erase(stream, seq) {
        const login = await keeperLogin(clinic.seeds);
        const keeper = await adminConnection({ port: clinic.port, login, name: 'keeper' });
        const answer = await keeper.request(
          `$JS.API.STREAM.MSG.DELETE.${stream}`,
          JSON.stringify({ seq }),
        );
        await keeper.close();
        if (!answer.string().includes('"success":true')) throw new Error(answer.string());
      },
      end: clinic.end,
    };
  });
});
