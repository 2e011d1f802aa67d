/** The page's end of the worker that reads codes in pictures. */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { decoderUrl, workerUrl } from './scanner-asset.ts';
import type { DecodeReply, DecoderMessage, Pixels } from './scanner-messages.ts';

export interface Decoder {
  /** Resolves once the decoder is there; a tablet without a network may not have it yet. */
  readonly ready: Promise<Result<null, Problem>>;
  /** The texts of all label codes in a picture, each with its symbology identifier. */
  decode(
    pixels: Pixels,
    o: { readonly isStill: boolean },
  ): Promise<Result<readonly string[], Problem>>;
  /** Lets go of the worker and its memory. */
  close(): void;
}

/** The part of a worker that is used. */
interface DecoderWorker {
  postMessage(message: DecoderMessage, transfer: Transferable[]): void;
  addEventListener(type: 'message', listener: (event: MessageEvent<DecodeReply>) => void): void;
  addEventListener(type: 'error', listener: (event: Event) => void): void;
  terminate(): void;
}

function spawn(): DecoderWorker {
  return new Worker(workerUrl, { type: 'module' });
}

const failed = (cause: string) =>
  err(problem('decoder', 'the decoder of label codes', cause, 'no-decoder'));

/** Starts the worker. One picture is read at a time; the caller waits for its answer. */
export function openDecoder(start: () => DecoderWorker = spawn): Decoder {
  const worker = start();
  const waiting = new Map<number, (reply: DecodeReply) => void>();
  let lastId = 0;
  const answer = (id: number): Promise<DecodeReply> =>
    new Promise((resolve) => waiting.set(id, resolve));
  const first = answer(0);
  worker.addEventListener('message', ({ data }) => {
    waiting.get(data.id)?.(data);
    waiting.delete(data.id);
  });
  worker.addEventListener('error', () => {
    for (const [id, resolve] of waiting) resolve({ id, kind: 'failed', cause: 'worker' });
    waiting.clear();
  });
  worker.postMessage({ kind: 'load', decoderUrl }, []);
  return {
    ready: first.then((reply) => (reply.kind === 'failed' ? failed(reply.cause) : ok(null))),
    async decode({ width, height, data }, { isStill }) {
      lastId += 1;
      const id = lastId;
      const answered = answer(id);
      worker.postMessage({ kind: 'decode', id, width, height, pixels: data, isStill }, [
        data.buffer,
      ]);
      const reply = await answered;
      if (reply.kind === 'read') return ok(reply.texts);
      return failed(reply.kind === 'failed' ? reply.cause : reply.kind);
    },
    close: () => worker.terminate(),
  };
}
