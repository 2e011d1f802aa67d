import type { RunningCase } from '../../runtime/app-state.ts';
import { lotOf } from '../../runtime/stock/stock-warnings.ts';
import { chairMaterialWords } from '../../words/material-chair-words.ts';
import { materialWarningWords, warningWords } from '../../words/material-warning-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { type AskedSlot, askedSlots } from '../shared/materials-chair-model.ts';
import { useStock } from '../shared/materials-hooks.ts';
import { useTablet, useTimes } from '../shared/session-context.ts';

/**
 * What has to be said about the materials that the next step asks for: which lot it is, or what
 * speaks against it. Silent while the clinic keeps no stock list. One line a time.
 */
export function MaterialsNotice(o: {
  readonly running: RunningCase;
  readonly onChoose: () => void;
}) {
  const materials = useStock((s) => s.materials);
  const times = useTimes();
  if (materials.length === 0 || o.running.isViewOnly) return null;
  const [first] = askedSlots(o.running, materials, Date.now(), times);
  return first === undefined ? null : <Asked asked={first} onChoose={o.onChoose} />;
}

function Asked(o: { readonly asked: AskedSlot; readonly onChoose: () => void }) {
  const tablet = useTablet();
  const times = useTimes();
  const { id, label, named, warnings, only } = o.asked;
  const against = materialWarningWords.all(warnings.map(warningWords));
  const choose = (
    <Button size="chair" onPress={o.onChoose}>
      {chairMaterialWords.chooseLot}
    </Button>
  );
  if (named !== null) {
    const words = chairMaterialWords.against({ slot: label, lot: named.lot, words: against });
    return <Banner tone="attention" words={words} action={choose} />;
  }
  // One touch names a lot only when nothing grave speaks against it.
  const isGrave = warnings.some((w) => w.code !== 'still-cold');
  const name = only !== null && !isGrave && (
    <Button
      size="chair"
      onPress={() => {
        const material = lotOf(only, Date.now(), times);
        tablet.door.do({ do: 'name-material', slot: id, material });
      }}
    >
      {chairMaterialWords.named(only)}
    </Button>
  );
  return (
    <Banner
      tone={warnings.length > 0 ? 'attention' : 'plain'}
      words={chairMaterialWords.which(label)}
      advice={against === '' ? undefined : against}
      action={name || choose}
    />
  );
}
