import { useCallback, useEffect, useState } from 'react';
import type { CaseFacts } from '../../../runtime/cases/cases-list-facts.ts';
import { notFetchedWords, storeOnlyWords } from '../../../words/store-only-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { useSession } from '../../shared/session-context.ts';

type Step =
  | { readonly at: 'unknown' }
  | { readonly at: 'fetching'; readonly done: number; readonly of: number }
  | { readonly at: 'failed'; readonly code: string };

/** Fetches a case that lies on the clinic's store alone, and says how far that is; nothing of any other case. */
export function RecordAtStore({ caseId }: { readonly caseId: string }) {
  const session = useSession();
  const [line, setLine] = useState<CaseFacts | null>(null);
  const [step, setStep] = useState<Step>({ at: 'unknown' });
  const fetch = useCallback(
    async (signal?: AbortSignal): Promise<void> => {
      const tell = (next: Step): void => {
        if (!signal?.aborted) setStep(next);
      };
      try {
        const sharing = await session.sharing?.();
        const found = (await sharing?.storeOnly())?.find((each) => each.caseId === caseId);
        if (sharing === undefined || found === undefined) return tell({ at: 'unknown' });
        if (!signal?.aborted) setLine(found);
        tell({ at: 'fetching', done: 0, of: 0 });
        const onProgress = (o: { done: number; of: number }): void =>
          tell({ at: 'fetching', ...o });
        const brought = await sharing.bringHere({ caseId, onProgress });
        if (!brought.ok) return tell({ at: 'failed', code: brought.error.code });
        await session.refreshLists();
      } catch {
        tell({ at: 'failed', code: 'not-kept' });
      }
    },
    [session, caseId],
  );
  useEffect(() => {
    const asking = new AbortController();
    setLine(null);
    setStep({ at: 'unknown' });
    void fetch(asking.signal);
    return () => asking.abort();
  }, [fetch]);
  if (line === null || step.at === 'unknown') return null;
  const title = [line.title, line.chartRef].filter((part) => part !== '').join(', ');
  if (step.at === 'fetching') {
    return (
      <Banner
        tone="plain"
        words={`${title}. ${storeOnlyWords.fetching}`}
        advice={step.of > 0 ? storeOnlyWords.progress(step) : undefined}
      />
    );
  }
  return (
    <Banner
      tone="attention"
      words={`${title}. ${storeOnlyWords.notFetched}`}
      advice={`${notFetchedWords(step.code)} ${storeOnlyWords.nothingLost}`}
      action={<Button onPress={() => void fetch()}>{storeOnlyWords.again}</Button>}
    />
  );
}
