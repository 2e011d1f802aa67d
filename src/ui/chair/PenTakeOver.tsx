import { useState } from 'react';
import { penWords } from '../../words/pen-words.ts';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Sheet } from '../parts/Sheet.tsx';

/** Takes a case from a tablet that is not heard of: says what may be missing, and asks why. */
export function PenTakeOver(o: {
  readonly name: string;
  /** "heard 12 min ago". */
  readonly lastContact: string;
  readonly onTake: (reason: string) => void;
  readonly onClose: () => void;
}) {
  const [reason, setReason] = useState('');
  const [isTaking, setIsTaking] = useState(false);
  const why = reason.trim();
  return (
    <Sheet open title={penWords.takeOverTitle(o.name)} onClose={o.onClose}>
      <p>
        <strong>{penWords.lineOf({ where: o.name, heard: o.lastContact })}</strong>
      </p>
      <p>{penWords.mayLose}</p>
      <p>{penWords.clocksNow}</p>
      <TextField label={penWords.why} value={reason} onChange={setReason} />
      <Button
        size="chair"
        disabled={why === '' || isTaking}
        onPress={() => {
          setIsTaking(true);
          o.onTake(why);
        }}
      >
        {penWords.takeOverNow}
      </Button>
    </Sheet>
  );
}
