import type { RunningCase } from '../../runtime/app-state.ts';
import { lightLine } from './light-line-model.ts';

/** What the lamp is set to next and why; nothing where the light is not next. */
export function LightReason({ running }: { readonly running: RunningCase }) {
  const line = lightLine(running);
  return line === null ? null : <p>{line}</p>;
}
