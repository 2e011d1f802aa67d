/** Deflating as the app asks the platform for it, done at once: the platform's own answers when it likes. */
import { deflateRawSync, inflateRawSync } from 'node:zlib';

interface Packing {
  readonly run: (bytes: Uint8Array) => Uint8Array;
}

export class SimulatedDeflating implements Packing {
  readonly run = (bytes: Uint8Array): Uint8Array => new Uint8Array(deflateRawSync(bytes));
}

export class SimulatedInflating implements Packing {
  readonly run = (bytes: Uint8Array): Uint8Array => new Uint8Array(inflateRawSync(bytes));
}

/** As much of a blob as is put through one of these. */
export class SimulatedBlob {
  readonly #bytes: Uint8Array;

  constructor([bytes]: readonly [Uint8Array]) {
    this.#bytes = bytes;
  }

  stream() {
    return { pipeThrough: ({ run }: Packing) => ({ getReader: () => this.#reader(run) }) };
  }

  #reader(run: Packing['run']) {
    let isDone = false;
    const read = async () => {
      if (isDone) return { done: true, value: undefined };
      isDone = true;
      return { done: false, value: run(this.#bytes) };
    };
    return { read, cancel: async () => undefined };
  }
}
