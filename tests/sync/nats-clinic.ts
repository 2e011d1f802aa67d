/** A clinic on a real server as the contract asks for one; how its stores connect is up to the test. */
import { adminConnection, nodeConnect } from '../../src/cli/clinic/run-server.ts';
import { keeperLogin } from '../../src/sync/accounts.ts';
import { putOutAtServer } from '../../src/sync/put-out-at-server.ts';
import type { StoreLogin } from '../../src/sync/server-keys.ts';
import type { ClinicStore, StreamName } from '../../src/sync/store-types.ts';
import type { TestClinic, TestTablet } from '../tools/nats-server.ts';
import { type ClinicUnderTest, done } from './contract.ts';

export async function putOutUser(clinic: TestClinic, user: string): Promise<void> {
  await done(
    putOutAtServer(clinic.seeds, {
      address: `127.0.0.1:${clinic.port}`,
      connect: nodeConnect,
      site: clinic.site,
      users: [user],
    }),
  );
}

export async function eraseAt(
  clinic: Pick<TestClinic, 'seeds' | 'port'>,
  stream: StreamName,
  seq: number,
): Promise<void> {
  const login = await keeperLogin(clinic.seeds);
  const keeper = await adminConnection({ port: clinic.port, login, name: 'keeper' });
  const subject = `$JS.API.STREAM.MSG.DELETE.${stream}`;
  const answer = await keeper.request(subject, JSON.stringify({ seq }));
  await keeper.close();
  if (!answer.string().includes('"success":true')) throw new Error(answer.string());
}

export function underTest(
  clinic: TestClinic,
  open: (login: StoreLogin, name: string) => ClinicStore,
): ClinicUnderTest {
  const tablets = new Map<string, TestTablet>();
  return {
    site: clinic.site,
    async open(device) {
      const tablet = tablets.get(device) ?? (await clinic.tablet(device));
      tablets.set(device, tablet);
      return open(tablet.login, device);
    },
    openPairing: () => Promise.resolve(open(clinic.folder.clinic.pairing, 'pairing')),
    putOut: (device) => putOutUser(clinic, tablets.get(device)?.user ?? ''),
    erase: (stream, seq) => eraseAt(clinic, stream, seq),
    end: clinic.end,
  };
}
