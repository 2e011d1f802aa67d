import { MemoryHub } from '../../src/sync/memory-store.ts';
import { contractOf } from './contract.ts';

contractOf('the store in memory', () => {
  const hub = new MemoryHub();
  return Promise.resolve({
    site: 'site-1',
    open: (device) => Promise.resolve(hub.open(device)),
    openPairing: () => Promise.resolve(hub.open(null)),
    putOut: (device) => Promise.resolve(hub.putOut(device)),
    erase: (stream, seq) => Promise.resolve(hub.erase(stream, seq)),
    end: () => Promise.resolve(),
  });
});
