import { useState } from 'react';
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
  const leave = async (): Promise<void> => {
    setBusy(true);
    await sharing.leave().finally(() => setBusy(false));
    setOpen(false);
  };
  return (
    <div>
      <Button rank="quiet" disabled={isReader} onPress={() => setOpen(true)}>
        {sharingWords.leave}
      </Button>
      <Sheet open={isOpen} title={sharingWords.leaveTitle} onClose={() => setOpen(false)}>
        {owed > 0 && <Banner tone="attention" words={sharingWords.leaveOwed(owed)} />}
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
