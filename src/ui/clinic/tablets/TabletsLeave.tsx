import { useState } from 'react';
import { openingTexts } from '../../../words/opening-words.ts';
import { sharingWords } from '../../../words/sharing-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { useIsReader, useShared, useSharing } from './use-sharing.ts';

/** This tablet takes part no more; asked twice, because coming back needs a code. */
export function TabletsLeave() {
  const sharing = useSharing();
  const owed = useShared((s) => s.owed);
  const isReader = useIsReader();
  const [isOpen, setOpen] = useState(false);
  const [isBusy, setBusy] = useState(false);
  const [isLost, setLost] = useState(false);
  const leave = async (): Promise<void> => {
    setBusy(true);
    setLost(false);
    try {
      await sharing.leave();
      setOpen(false);
    } catch {
      setLost(true);
    } finally {
      setBusy(false);
    }
  };
  return (
    <div>
      <Button rank="quiet" disabled={isReader} onPress={() => setOpen(true)}>
        {sharingWords.leave}
      </Button>
      <Sheet open={isOpen} title={sharingWords.leaveTitle} onClose={() => setOpen(false)}>
        {owed > 0 && <Banner tone="attention" words={sharingWords.leaveOwed(owed)} />}
        {isLost && <p role="alert">{openingTexts.tryAgain}</p>}
        <ul className="tablets-lines">
          {sharingWords.leaveLines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
        <div>
          <Button rank="grave" disabled={isBusy} onPress={() => void leave()}>
            {sharingWords.leaveDo}
          </Button>
        </div>
      </Sheet>
    </div>
  );
}
