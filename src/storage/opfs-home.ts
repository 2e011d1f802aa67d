/** The page's side of the files: sends requests to the worker that owns them and waits for answers. */
import { assert } from '../base/assert.ts';
import type { HeadsPlace } from './heads.ts';
import {
  type FileAnswer,
  type FileMessage,
  type FileReply,
  type FileRequest,
  parseSegmentName,
  type SecondHome,
  type SegmentFile,
  segmentName,
} from './second-home.ts';

/** A worker that has not answered for this long is taken for dead and replaced. */
const ANSWER_WITHIN_MS = 4000;
/** Reading years of records back takes longer than adding a line. */
const READING_WITHIN_MS = 30_000;

type Answer<C extends FileRequest['call']> = Extract<FileAnswer, { call: C }>;

interface Waiting {
  readonly resolve: (answer: FileAnswer) => void;
  readonly reject: (cause: Error) => void;
}

/** The worker as a caller sees it; a new one is started after each failure. */
function fileWorker(directory: string) {
  let worker: Worker | null = null;
  let nextId = 0;
  const waiting = new Map<number, Waiting>();

  function stop(cause: Error): void {
    worker?.terminate();
    worker = null;
    for (const { reject } of waiting.values()) reject(cause);
    waiting.clear();
  }

  function start(): Worker {
    const started = new Worker(new URL('./opfs.worker.ts', import.meta.url), { type: 'module' });
    started.onmessage = ({ data }: MessageEvent<FileReply>) => {
      const asked = waiting.get(data.id);
      waiting.delete(data.id);
      if ('answer' in data) asked?.resolve(data.answer);
      else asked?.reject(new Error(data.failure));
    };
    started.onerror = () => stop(new Error('the file worker failed'));
    return started;
  }

  function ask(request: FileRequest): Promise<FileAnswer> {
    worker ??= start();
    const id = nextId;
    nextId += 1;
    const asked = worker;
    return new Promise<FileAnswer>((resolve, reject) => {
      const slow = request.call === 'read' || request.call === 'list';
      const timer = setTimeout(
        () => stop(new Error('the file worker is silent')),
        slow ? READING_WITHIN_MS : ANSWER_WITHIN_MS,
      );
      const settle =
        <T>(then: (value: T) => void) =>
        (value: T): void => {
          clearTimeout(timer);
          then(value);
        };
      waiting.set(id, { resolve: settle(resolve), reject: settle(reject) });
      const message: FileMessage = { id, directory, request };
      asked.postMessage(message);
    });
  }

  return { ask, stop };
}

/** True where the platform has the origin private file system and workers to write it. */
export function hasPrivateFiles(): boolean {
  return typeof Worker === 'function' && typeof navigator.storage?.getDirectory === 'function';
}

/** Written in turn: a write that is torn leaves the other one as it was. */
const HEADS = ['heads-0.json', 'heads-1.json'] as const;

/**
 * The second home in one directory of the origin private file system, and beside its files a place for
 * the lengths of the cases. Every failure is a rejection.
 */
export function createOpfsHome(
  directory = 'lutewatch-journal',
): SecondHome & { readonly heads: HeadsPlace } {
  const worker = fileWorker(directory);

  async function ask<C extends FileRequest['call']>(
    call: C,
    request: Extract<FileRequest, { call: C }>,
  ): Promise<Answer<C>> {
    const answer = await worker.ask(request);
    assert(isAnswerTo(answer, call), `the file worker answers ${call} in kind`);
    return answer;
  }

  let written = 0;
  const heads: HeadsPlace = {
    async read() {
      const { files } = await ask('list', { call: 'list' });
      const names = HEADS.filter((name) => files.some((file) => file.name === name));
      const found = await Promise.all(names.map((name) => ask('read', { call: 'read', name })));
      return found.map(({ bytes }) => new TextDecoder().decode(bytes));
    },
    async write(text) {
      // The first text of a run goes into both: what an earlier run left must not outlive it.
      const names = written === 0 ? HEADS : HEADS.filter((_, i) => i === written % 2);
      for (const name of names) {
        await ask('keep', { call: 'keep', name, bytes: new TextEncoder().encode(text) });
      }
      // A disk that is full takes one of the two at most: the other is not tried before that one is whole.
      written += 1;
    },
  };

  return {
    heads,
    async list() {
      const { files } = await ask('list', { call: 'list' });
      return files.flatMap(toSegment).sort((a, b) => (a.name < b.name ? -1 : 1));
    },
    async read(name) {
      return (await ask('read', { call: 'read', name })).bytes;
    },
    async append({ epoch, part, bytes }) {
      const name = segmentName({ epoch, part });
      return { name, bytes: (await ask('append', { call: 'append', name, bytes })).bytes };
    },
    async remove(name) {
      await ask('remove', { call: 'remove', name });
    },
    async release() {
      await ask('release', { call: 'release' });
      worker.stop(new Error('the file worker was let go'));
    },
  };
}

function isAnswerTo<C extends FileRequest['call']>(
  answer: FileAnswer,
  call: C,
): answer is Answer<C> {
  return answer.call === call;
}

function toSegment(file: { readonly name: string; readonly bytes: number }): SegmentFile[] {
  const named = parseSegmentName(file.name);
  return named === null ? [] : [{ ...file, ...named }];
}
