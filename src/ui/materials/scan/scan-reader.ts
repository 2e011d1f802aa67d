/** The decoder for as long as the scan sheet is open, and what is said about it. */
import { useEffect, useRef, useState } from 'react';
import { isDecoderKept, keepDecoder } from '../../../runtime/scanner/scanner-asset.ts';
import { type Decoder, openDecoder } from '../../../runtime/scanner/scanner-decoder.ts';
import { scanWords } from '../../../words/material-stock-words.ts';

export interface CodeReader {
  readonly decode: Decoder['decode'];
  readonly words: string;
}

const cacheStorage = (): CacheStorage | undefined => ('caches' in window ? caches : undefined);

/** Starts the worker at the first picture, and has the decoder kept for days without a network. */
export function useCodeReader(): CodeReader {
  const decoder = useRef<Decoder | null>(null);
  const [isKept, setKept] = useState<boolean | null>(null);
  useEffect(() => {
    let isCurrent = true;
    const tell = (kept: boolean): void => {
      if (isCurrent) setKept(kept);
    };
    void isDecoderKept(cacheStorage()).then(async (kept) => {
      if (kept) tell(true);
      else tell(await keepDecoder(cacheStorage()));
    });
    return () => {
      isCurrent = false;
      decoder.current?.close();
      decoder.current = null;
    };
  }, []);
  return {
    decode: (pixels, o) => {
      decoder.current ??= openDecoder();
      return decoder.current.decode(pixels, o);
    },
    words:
      isKept === null
        ? scanWords.decoderLoading
        : isKept
          ? scanWords.decoderKept
          : scanWords.decoderMissing,
  };
}
