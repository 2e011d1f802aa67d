import { useState } from 'react';
import type { Material } from '../../../runtime/stock/stock-types.ts';
import { stockWords } from '../../../words/material-stock-words.ts';
import { recallProblemWords, recallWords } from '../../../words/recall-words.ts';
import { Button } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { useSession } from '../../shared/session-context.ts';

/**
 * Marks a lot at the shelf: at once, without the desk, with a reason or without. Taking the mark away is
 * for the lead's desk.
 */
export function MaterialsRecall(o: {
  readonly material: Material;
  readonly onClose: () => void;
  readonly onLost: (why: string) => void;
}) {
  const session = useSession();
  const [typed, setTyped] = useState('');
  const mark = async (): Promise<void> => {
    const { lot } = o.material;
    const reason = typed.trim();
    const { stock } = session;
    const person = stock.state.getState().by;
    const marked = await stock.recallLot({ lot, reason });
    if (!marked.ok) o.onLost(recallProblemWords(marked.error));
    o.onClose();
    if (!marked.ok) return;
    const desk = await session.lead();
    const noted = await desk.recalls.noteFromShelf({ lot, reason, person });
    if (!noted.ok) o.onLost(recallProblemWords(noted.error));
  };
  return (
    <Sheet
      open
      title={stockWords.recall}
      onClose={o.onClose}
      foot={
        <Button rank="grave" onPress={() => void mark()}>
          {stockWords.recallDo}
        </Button>
      }
    >
      <p>{recallWords.shelfNote}</p>
      <TextField label={recallWords.shelfReason} lines={2} value={typed} onChange={setTyped} />
    </Sheet>
  );
}
