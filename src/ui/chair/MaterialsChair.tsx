import { useState } from 'react';
import type { RunningCase } from '../../runtime/app-state.ts';
import type { Material } from '../../runtime/stock/stock-types.ts';
import { lotOf } from '../../runtime/stock/stock-warnings.ts';
import { chairMaterialWords } from '../../words/material-chair-words.ts';
import { materialWarningWords } from '../../words/material-warning-words.ts';
import { Button } from '../parts/Button.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import {
  type ChairSlot,
  chairSlots,
  isGraveLot,
  lotMarks,
} from '../shared/materials-chair-model.ts';
import { useStock } from '../shared/materials-hooks.ts';
import { stockRow } from '../shared/materials-model.ts';
import { useTablet, useTimes } from '../shared/session-context.ts';
import '../shared/materials.css';

/** Names the lots of a running case: one touch for each place of the protocol. */
export function MaterialsChair(o: { readonly running: RunningCase; readonly onClose: () => void }) {
  const materials = useStock((s) => s.materials);
  const slots = chairSlots(o.running, materials);
  return (
    <Sheet open width="wide" title={chairMaterialWords.title} onClose={o.onClose}>
      <p>{chairMaterialWords.lede}</p>
      <ul className="chair-lots">
        {slots.map((slot) => (
          <Slot key={slot.id} slot={slot} />
        ))}
      </ul>
    </Sheet>
  );
}

function Slot({ slot }: { readonly slot: ChairSlot }) {
  const tablet = useTablet();
  const times = useTimes();
  const [isChanging, setChanging] = useState(false);
  const { named } = slot;
  const take = (material: Material): void => {
    const lot = lotOf(material, Date.now(), times);
    const refused = tablet.door.do({ do: 'name-material', slot: slot.id, material: lot });
    if (refused === null) setChanging(false);
  };
  return (
    <li>
      <p className="chair-lot-head">
        <strong>{slot.isNow ? chairMaterialWords.askedNow(slot.label) : slot.label}</strong>
        <span className="lw-quiet">
          {slot.isOptional ? chairMaterialWords.optional(slot.materialClass) : slot.materialClass}
        </span>
      </p>
      {named !== null && (
        <p className="stock-state" data-mark={isGraveLot(named) ? 'broken' : 'full'}>
          <StateMark shape={isGraveLot(named) ? 'broken' : 'full'} />
          <span>
            {chairMaterialWords.named(named)}
            {lotMarks(named).map((words) => (
              <span key={words} className="stock-more">
                {words}
              </span>
            ))}
          </span>
        </p>
      )}
      {named === null && slot.choices.length === 0 && (
        <p className="lw-quiet">{chairMaterialWords.nothing}</p>
      )}
      {named !== null && !isChanging && slot.choices.length > 0 && (
        <div>
          <Button onPress={() => setChanging(true)}>{chairMaterialWords.change}</Button>
        </div>
      )}
      {(named === null || isChanging) && <Choices slot={slot} onTake={take} />}
    </li>
  );
}

function Choices(o: { readonly slot: ChairSlot; readonly onTake: (material: Material) => void }) {
  const times = useTimes();
  return (
    <div className="chair-lot-choices">
      {o.slot.choices.map((material) => {
        const row = stockRow(material, Date.now(), times);
        const { label, lot } = material;
        return (
          <div key={material.id} className="chair-lot-choice">
            <Button
              size="chair"
              name={chairMaterialWords.choose({ label, lot, slot: o.slot.label })}
              onPress={() => o.onTake(material)}
            >
              {chairMaterialWords.named({ label, lot })}
            </Button>
            {row.mark !== 'full' && (
              <span className="stock-state" data-mark={row.mark}>
                <StateMark shape={row.mark} />
                {materialWarningWords.all([row.words, ...row.more])}
              </span>
            )}
          </div>
        );
      })}
    </div>
  );
}
