import { useState } from 'react';
import { MS_PER_HOUR, MS_PER_MINUTE, MS_PER_SECOND } from '../../base/units.ts';
import { gapInDoubt } from '../../engine/gap-in-doubt.ts';
import type { Gap } from '../../engine/types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { chairWords } from '../../words/chair-words.ts';
import { gapWords } from '../../words/clock-words.ts';
import { formatWords } from '../../words/duration.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { Stepper } from '../parts/Segmented.tsx';
import { useTablet } from '../shared/session-context.ts';

/** Lengths that people can tell without a clock, in ms: the longer, the coarser. */
const GAP_LENGTHS_MS: readonly number[] = [
  0,
  ...[5, 10, 15, 20, 30, 45].map((s) => s * MS_PER_SECOND),
  ...[1, 1.5, 2, 3, 4, 5, 7, 10, 15, 20, 30, 45].map((min) => min * MS_PER_MINUTE),
  ...[1, 1.5, 2, 3, 4, 6, 8, 12, 24, 48].map((h) => h * MS_PER_HOUR),
];

const lengthWords = (ms: number): string => (ms === 0 ? chairWords.gapNone : formatWords(ms));

/** The tablet's clock does not tell: people say how long it was. Nothing is said for them. */
function UnknownLength({ gap }: { readonly gap: Gap }) {
  const { door } = useTablet();
  const [chosen, setChosen] = useState<number | null>(null);
  const last = GAP_LENGTHS_MS.length - 1;
  const lengthMs = chosen === null ? undefined : GAP_LENGTHS_MS[chosen];
  return (
    <>
      <Stepper
        label={chairWords.gapLength}
        shown={lengthMs === undefined ? '?' : lengthWords(lengthMs)}
        onLess={() => setChosen(chosen === null ? 0 : Math.max(0, chosen - 1))}
        onMore={() => setChosen(chosen === null ? 1 : Math.min(last, chosen + 1))}
        atLeast={chosen === 0}
        atMost={chosen === last}
      />
      {lengthMs !== undefined && (
        <Button size="chair" onPress={() => door.do({ do: 'settle-gap', gap: gap.seq, lengthMs })}>
          {chairWords.gapSay}
        </Button>
      )}
    </>
  );
}

/** The clock tells at most how long it was: people say whether that is so. */
function TrustedLength({ gap }: { readonly gap: Gap }) {
  const { door } = useTablet();
  const settle = (lengthMs: number) => door.do({ do: 'settle-gap', gap: gap.seq, lengthMs });
  return (
    <>
      <Button size="chair" onPress={() => settle(gap.hiMs)}>
        {chairWords.gapTrustClock}
      </Button>
      <Button size="chair" onPress={() => settle(gap.loMs)}>
        {chairWords.gapOnlyMoved}
      </Button>
    </>
  );
}

/** Asks about a time in which nobody watched the clocks, while a clock runs over one. */
export function ChairGap({ running }: { readonly running: RunningCase }) {
  const gap = gapInDoubt(running.log.state.gaps);
  const hasOpenClock = running.view.clocks.some((c) => c.elapsed.hiMs > c.elapsed.loMs);
  if (gap === undefined || !hasOpenClock) return null;
  return (
    <Banner
      tone="attention"
      words={gapWords(gap)}
      advice={gap.untrusted ? chairWords.gapUnknownAdvice : chairWords.gapAdvice}
      action={
        running.isViewOnly ? undefined : gap.untrusted ? (
          <UnknownLength key={gap.seq} gap={gap} />
        ) : (
          <TrustedLength key={gap.seq} gap={gap} />
        )
      }
    />
  );
}
