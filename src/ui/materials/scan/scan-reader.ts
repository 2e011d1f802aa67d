/** The decoder for as long as the scan sheet is open, and what is said about it. */
import { useEffect, useRef } from 'react';
import { isDecoderKept, keepDecoder } from '../../../runtime/scanner/scanner-asset.ts';
import { type Decoder, openDecoder } from '../../../runtime/scanner/scanner-decoder.ts';
import { scanWords } from '../../../words/scan-words.ts';
import { useLoaded } from '../../shared/use-loaded.ts';

export interface CodeReader {
  readonly decode: Decoder['decode'];
  readonly words: string;
}

const cacheStorage = (): CacheStorage | undefined => ('caches' in window ? caches : undefined);

const keepForDays = async (): Promise<boolean> =>
  (await isDecoderKept(cacheStorage())) || keepDecoder(cacheStorage());

/** Starts the worker at the first picture, and has the decoder kept for days without a network. */
export function useCodeReader(): CodeReader {
  const decoder = useRef<Decoder | null>(null);
  const { state, value: isKept } = useLoaded(keepForDays, []);
  useEffect(
    () => () => {
      decoder.current?.close();
      decoder.current = null;
    },
    [],
  );
  return {
    decode: (pixels, o) => {
      decoder.current ??= openDecoder();
      return decoder.current.decode(pixels, o);
    },
    words:
      state === 'loading'
        ? scanWords.decoderLoading
        : isKept
          ? scanWords.decoderSaved
          : scanWords.decoderMissing,
  };
}
