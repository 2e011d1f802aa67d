import type { RunningCase } from '../../runtime/app-state.ts';
import { cautionsInHand, shortForms } from '../shared/cautions-model.ts';
import { ShortCautions } from '../shared/ShortCautions.tsx';

/** The short cautions of what is in the hands, for as long as it is, whatever clock runs. */
export function ChairCautions({ running }: { readonly running: RunningCase }) {
  return <ShortCautions lines={shortForms(cautionsInHand(running))} />;
}
