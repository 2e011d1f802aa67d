/** The built application over the store of a clinic that waits for its first tablet. */
import { join } from 'node:path';
import { writePairingDoor } from '../../src/cli/clinic/clinic-folder.ts';
import type { FoundServer } from '../../src/cli/clinic/find-server.ts';
import { foundClinic } from '../../src/cli/clinic/found-clinic.ts';
import { type Served, serveBuilt } from './built-app.ts';
import type { TestClinic } from './nats-server.ts';

export interface ServedClinic {
  readonly served: Served;
  /** The lines of the terminal so far. Its questions are answered with yes. */
  readonly said: readonly string[];
}

export async function serveClinic(clinic: TestClinic, server: FoundServer): Promise<ServedClinic> {
  const said: string[] = [];
  const { folder, port, webSocketPort: wsPort } = clinic;
  await writePairingDoor(folder, server);
  const served = await serveBuilt({ store: { wsPort, publicDir: join(folder.dir, 'public') } });
  const say = (line: string): void => void said.push(line);
  void foundClinic({ folder, server, port, say, ask: async () => true });
  return { served, said };
}
