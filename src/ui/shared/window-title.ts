import { useEffect } from 'react';
import { appWords } from '../../words/app-words.ts';

/** Names the browser's window by what it shows, so that two windows of one tablet are told apart. */
export function useWindowTitle(page: string): void {
  useEffect(() => {
    document.title = appWords.windowTitle(page);
  }, [page]);
}
