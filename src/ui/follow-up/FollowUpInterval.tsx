import { useState } from 'react';
import { RECALL_MONTHS } from '../../outcomes/recalls.ts';
import { followUpWords } from '../../words/follow-up-words.ts';
import { Stepper } from '../parts/Segmented.tsx';
import { useApp, useSession } from '../shared/session-context.ts';

/** How often the clinic asks for its patients after the first year. */
export function FollowUpInterval({ onKept }: { readonly onKept: () => void }) {
  const session = useSession();
  const months = useApp((s) => s.settings.recallMonths);
  const [isLost, setLost] = useState(false);
  const turn = async (by: number): Promise<void> => {
    // From what holds now, not from what is drawn: a quick second tap counts too.
    const { settings } = session.store.getState();
    const { min, max } = RECALL_MONTHS;
    const recallMonths = Math.min(max, Math.max(min, settings.recallMonths + by));
    const kept = await session.saveSettings({ ...settings, recallMonths });
    setLost(!kept.ok);
    onKept();
  };
  return (
    <div>
      <Stepper
        label={followUpWords.interval}
        hint={followUpWords.intervalHint}
        shown={followUpWords.months(months)}
        onLess={() => void turn(-1)}
        onMore={() => void turn(1)}
        atLeast={months <= RECALL_MONTHS.min}
        atMost={months >= RECALL_MONTHS.max}
      />
      {isLost && <p role="alert">{followUpWords.notSaved}</p>}
    </div>
  );
}
