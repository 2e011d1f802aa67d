/**
 * Reads label codes in pictures, outside the page's own thread: one picture can take a quarter of a
 * second on a slow tablet, and a clock may be running. The decoder comes from this app's own files.
 */
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import type { Pixels } from './scanner-messages.ts';
import {
  type DecodeReply,
  type DecodeRequest,
  type DecoderMessage,
  decoderOptions,
} from './scanner-messages.ts';
import { FURTHER_LOOKS } from './scanner-pixels.ts';

declare const self: DedicatedWorkerGlobalScope;

const tell = (reply: DecodeReply): void => self.postMessage(reply);
const causeOf = (cause: unknown): string => (cause instanceof Error ? cause.message : `${cause}`);

/** Loads the decoder; its address is told by the page, which knows the files of this build. */
async function load(decoderUrl: string): Promise<void> {
  try {
    await prepareZXingModule({
      overrides: { locateFile: () => decoderUrl },
      fireImmediately: true,
    });
    tell({ id: 0, kind: 'ready' });
  } catch (cause) {
    tell({ id: 0, kind: 'failed', cause: causeOf(cause) });
  }
}

async function textsIn({ width, height, data }: Pixels, isStill: boolean): Promise<string[]> {
  const found = await readBarcodes(new ImageData(data, width, height), decoderOptions({ isStill }));
  const sound = found.filter((code) => code.isValid);
  return sound.map((code) => `${code.symbologyIdentifier}${code.text}`);
}

let frames = 0;

/** As it is, then as it may be easier to read. */
async function lookAt(image: Pixels, isStill: boolean): Promise<string[]> {
  const texts = await textsIn(image, isStill);
  if (texts.length > 0) return texts;
  const turn = frames % FURTHER_LOOKS.length;
  if (!isStill) frames += 1;
  // One look a frame, so that an empty table does not keep a slow tablet busy.
  const looks = isStill ? FURTHER_LOOKS : FURTHER_LOOKS.slice(turn, turn + 1);
  for (const look of looks) {
    const found = await textsIn(look(image), isStill);
    if (found.length > 0) return found;
  }
  return [];
}

async function decode(request: DecodeRequest): Promise<void> {
  const { id, width, height, pixels, isStill } = request;
  try {
    const texts = await lookAt({ width, height, data: pixels }, isStill);
    tell({ id, kind: 'read', texts });
  } catch (cause) {
    tell({ id, kind: 'failed', cause: causeOf(cause) });
  }
}

self.addEventListener('message', (event: MessageEvent<DecoderMessage>) => {
  const message = event.data;
  if (message.kind === 'load') void load(message.decoderUrl);
  else void decode(message);
});
