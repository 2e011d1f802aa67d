/**
 * Owns the files of the journal's second home in the origin private file system. Only a worker may
 * write there synchronously, and only a synchronous write and flush says when the bytes are down.
 * Requests are served strictly one after the other.
 */
import type { FileAnswer, FileMessage, FileReply, FileRequest } from './second-home.ts';

declare const self: DedicatedWorkerGlobalScope;

const LINE_FEED = 0x0a;

interface OpenFile {
  readonly name: string;
  readonly handle: FileSystemSyncAccessHandle;
  end: number;
}

let open: OpenFile | null = null;
/** Comes with every request and never changes during the life of a worker. */
let directoryName = '';

const directory = async (): Promise<FileSystemDirectoryHandle> =>
  (await navigator.storage.getDirectory()).getDirectoryHandle(directoryName, { create: true });

function release(): void {
  open?.handle.close();
  open = null;
}

/** Opens for appending. A last line that was torn by a crash is closed, so that it stays alone. */
async function openFile(name: string): Promise<OpenFile> {
  if (open?.name === name) return open;
  release();
  const file = await (await directory()).getFileHandle(name, { create: true });
  const handle = await file.createSyncAccessHandle();
  const end = handle.getSize();
  open = { name, handle, end };
  const last = new Uint8Array(1);
  if (end > 0) handle.read(last, { at: end - 1 });
  if (end > 0 && last[0] !== LINE_FEED) writeAll(open, new Uint8Array([LINE_FEED]));
  return open;
}

/** Writes and flushes, or leaves the file as long as it was and throws. */
function writeAll(file: OpenFile, bytes: Uint8Array<ArrayBuffer>): void {
  try {
    const written = file.handle.write(bytes, { at: file.end });
    if (written !== bytes.length) throw new Error(`wrote ${written} of ${bytes.length} bytes`);
    file.handle.flush();
    file.end += bytes.length;
  } catch (cause) {
    file.handle.truncate(file.end);
    throw cause;
  }
}

async function list(): Promise<FileAnswer> {
  const files: { name: string; bytes: number }[] = [];
  for await (const [name, handle] of await directory()) {
    if (handle instanceof FileSystemFileHandle) {
      files.push({ name, bytes: (await handle.getFile()).size });
    }
  }
  return { call: 'list', files };
}

async function keep(name: string, bytes: Uint8Array<ArrayBuffer>): Promise<FileAnswer> {
  const file = await (await directory()).getFileHandle(name, { create: true });
  const handle = await file.createSyncAccessHandle();
  try {
    handle.truncate(0);
    writeAll({ name, handle, end: 0 }, bytes);
  } finally {
    handle.close();
  }
  return { call: 'keep' };
}

async function serve(request: FileRequest): Promise<FileAnswer> {
  switch (request.call) {
    case 'list':
      return list();
    case 'read': {
      const handle = await (await directory()).getFileHandle(request.name);
      const buffer = await (await handle.getFile()).arrayBuffer();
      return { call: 'read', bytes: new Uint8Array(buffer) };
    }
    case 'append': {
      const file = await openFile(request.name);
      writeAll(file, request.bytes);
      return { call: 'append', bytes: file.end };
    }
    case 'keep':
      return keep(request.name, request.bytes);
    case 'remove':
      if (open?.name === request.name) release();
      await (await directory()).removeEntry(request.name);
      return { call: 'remove' };
    case 'release':
      release();
      return { call: 'release' };
  }
}

let last: Promise<void> = Promise.resolve();

self.onmessage = ({ data }: MessageEvent<FileMessage>): void => {
  last = last.then(async () => {
    directoryName = data.directory;
    let reply: FileReply;
    try {
      reply = { id: data.id, answer: await serve(data.request) };
    } catch (cause) {
      reply = { id: data.id, failure: cause instanceof Error ? cause.message : String(cause) };
    }
    self.postMessage(reply);
  });
};
