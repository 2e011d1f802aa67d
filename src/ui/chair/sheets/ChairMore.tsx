import { useLocation } from 'wouter';
import type { RunningCase } from '../../../runtime/app-state.ts';
import { extraWords, sheetWords, stopWords, wipeWords } from '../../../words/chair-sheet-words.ts';
import { chairWords } from '../../../words/chair-words.ts';
import { chairMaterialWords } from '../../../words/material-chair-words.ts';
import { penWords } from '../../../words/pen-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { useApp, useSession } from '../../shared/session-context.ts';
import { atHand } from '../at-hand-model.ts';
import { openMixes } from '../chair-model.ts';
import { LikelyMishaps } from '../LikelyMishaps.tsx';
import type { SheetName } from './sheet-name.ts';

const always = (): readonly { readonly name: SheetName; readonly words: string }[] => [
  { name: 'went-wrong', words: chairWords.wentWrong },
  { name: 'other-steps', words: chairWords.otherSteps },
  { name: 'why', words: extraWords.why },
  { name: 'shade', words: extraWords.shade },
  { name: 'anaesthesia', words: extraWords.anaesthesia },
  { name: 'people', words: extraWords.people },
  { name: 'numbering', words: extraWords.numbering },
  { name: 'stop-visit', words: stopWords.title },
  { name: 'order', words: extraWords.order },
  { name: 'aside', words: extraWords.aside },
  { name: 'note', words: chairWords.note },
  { name: 'wipe', words: wipeWords.open },
];

/** Everything that is not the next press. What fits the moment stands first. */
export function MoreSheet(o: {
  readonly running: RunningCase;
  readonly onOpen: (name: SheetName) => void;
  readonly onClose: () => void;
}) {
  const session = useSession();
  const [, navigate] = useLocation();
  const { mode, drill } = o.running.log.state.opened;
  const isRehearsal = mode === 'rehearsal';
  const isDrill = drill !== undefined;
  const hasSlots = o.running.log.state.opened.protocol.slots.length > 0;
  const { isViewOnly, log } = o.running;
  const hasOthers = useApp((s) =>
    s.sharing.tablets.some((t) => !t.isThis && t.standing === 'paired'),
  );
  const mayGive = hasOthers && !isRehearsal && !isViewOnly && log.state.closed === null;
  const mishaps = o.running.isViewOnly ? [] : (atHand(o.running)?.mishaps ?? []);
  const items = [
    ...(openMixes(o.running).length > 0 ? [{ name: 'bead', words: extraWords.bead } as const] : []),
    ...(hasSlots ? [{ name: 'materials', words: chairMaterialWords.open } as const] : []),
    ...always(),
    ...(mayGive ? [{ name: 'pen', words: penWords.give } as const] : []),
    ...(isRehearsal && !isDrill ? [{ name: 'speed', words: chairWords.speed } as const] : []),
  ];
  return (
    <Sheet open title={sheetWords.more} onClose={o.onClose} width="wide">
      {mishaps.length > 0 && (
        <section className="chair-sheet-grid" aria-label={sheetWords.wentWrong}>
          <LikelyMishaps
            running={o.running}
            mishaps={mishaps}
            onAsk={() => o.onOpen('went-wrong')}
            onTaken={o.onClose}
          />
        </section>
      )}
      <div className="chair-sheet-grid">
        {items.map(({ name, words }) => (
          <Button key={name} size="chair" onPress={() => o.onOpen(name)}>
            {words}
          </Button>
        ))}
        <Button size="chair" onPress={() => window.open('/far-view', 'lutewatch-far-view')}>
          {extraWords.farView}
        </Button>
        <Button
          size="chair"
          rank="quiet"
          onPress={() => {
            session.leaveChair();
            navigate('/');
          }}
        >
          {chairWords.leave}
        </Button>
      </div>
      <p>{chairWords.leaveNote}</p>
    </Sheet>
  );
}
