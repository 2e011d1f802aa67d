import type { RunningCase } from '../../runtime/app-state.ts';
import { formatQuantity } from '../../words/number.ts';
import { sizeWords } from '../../words/size-words.ts';
import { StateMark } from '../parts/StateMark.tsx';
import { useApp } from './session-context.ts';
import { tooFarFor } from './size-model.ts';
import { useChairSizes } from './use-chair-sizes.ts';

/** Says in the chair that this screen is too small for the reading distance, and how near it can be read. */
export function SizeNotice({ running }: { readonly running: RunningCase }) {
  const distanceM = useApp((s) => s.settings.distanceM);
  const sizes = useChairSizes(null, `${running.log.records.length} ${distanceM}`);
  const nearM = tooFarFor(sizes, distanceM);
  if (nearM === null) return null;
  return (
    <p className="chair-size" role="status">
      <StateMark shape="broken" />
      {sizeWords.tooSmall({
        distance: formatQuantity({ value: distanceM, unit: 'm', digits: 2 }),
        near: formatQuantity({ value: nearM, unit: 'm', digits: 1 }),
      })}
    </p>
  );
}
