import type { RunningCase } from '../../../runtime/app-state.ts';
import { extraWords } from '../../../words/chair-sheet-words.ts';
import { chairWords } from '../../../words/chair-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { useTablet } from '../../shared/session-context.ts';

const NUMBERINGS = ['fdi', 'universal', 'palmer'] as const;

/** How the teeth of this case are named from now on; a press like any other, and in the record. */
export function NumberingSheet(o: { readonly running: RunningCase; readonly onClose: () => void }) {
  const tablet = useTablet();
  const { notation } = o.running.log.state;
  return (
    <Sheet open title={extraWords.numbering} onClose={o.onClose}>
      <p>{extraWords.numberingLede}</p>
      <div className="chair-sheet-grid">
        {NUMBERINGS.map((to) => (
          <Button
            key={to}
            size="chair"
            on={to === notation}
            onPress={() => {
              if (to === notation || !tablet.door.do({ do: 'change-numbering', notation: to }))
                o.onClose();
            }}
          >
            {chairWords.numberings[to]}
          </Button>
        ))}
      </div>
    </Sheet>
  );
}
