import type { ReaderOptions } from 'zxing-wasm/reader';

export interface Pixels {
  readonly width: number;
  readonly height: number;
  /** RGBA, row by row; handed over, not copied. */
  readonly data: Uint8ClampedArray<ArrayBuffer>;
}

/** What the page and the worker that reads codes in pictures say to each other. */
export interface DecodeRequest {
  readonly kind: 'decode';
  readonly id: number;
  readonly width: number;
  readonly height: number;
  /** RGBA, row by row. */
  readonly pixels: Uint8ClampedArray<ArrayBuffer>;
  /** Looks longer, for a still picture. */
  readonly isStill: boolean;
}

export type DecoderMessage =
  | DecodeRequest
  /** Comes first, once. */
  | { readonly kind: 'load'; readonly decoderUrl: string };

export type DecodeReply =
  | { readonly id: number; readonly kind: 'ready' }
  | { readonly id: number; readonly kind: 'read'; readonly texts: readonly string[] }
  | { readonly id: number; readonly kind: 'failed'; readonly cause: string };

/**
 * How the decoder looks for label codes: those that a device label is printed in, Code 39 without
 * its full-ASCII mode, which HIBC does not use. The separators of GS1 stay in the text.
 */
export function decoderOptions(o: { readonly isStill: boolean }): ReaderOptions {
  return {
    formats: ['DataMatrix', 'QRCode', 'Code128', 'Code39Std'],
    textMode: 'Plain',
    tryHarder: true,
    tryRotate: true,
    tryInvert: o.isStill,
    tryDownscale: true,
    maxNumberOfSymbols: 4,
  };
}
