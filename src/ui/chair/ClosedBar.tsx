import { type ReactNode, useEffect } from 'react';
import { useLocation } from 'wouter';
import { chairWords } from '../../words/chair-words.ts';
import { PressBar } from '../parts/PressBar.tsx';
import { useApp, useTablet } from '../shared/session-context.ts';

/** The bar of a closed case. Nothing is left to record: bar, key and pedal lead to the record. */
export function ClosedBar(o: { readonly caseId: string; readonly undo: ReactNode }) {
  const [, navigate] = useLocation();
  const tablet = useTablet();
  const leftHanded = useApp((s) => s.settings.leftHanded);
  const open = () => navigate(`/record/${o.caseId}`);
  useEffect(() => tablet.door.onPress(open));
  return (
    <PressBar
      words={chairWords.toRecord}
      urgency="ready"
      leftHanded={leftHanded}
      onPress={open}
      undo={o.undo}
    />
  );
}
