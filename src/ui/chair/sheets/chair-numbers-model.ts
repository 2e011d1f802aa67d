import type { Explanation } from '../../../plan/explanation.ts';
import type { SubjectId } from '../../../protocol/subjects.ts';
import { bareId } from '../../../protocol/subjects.ts';
import type { Protocol } from '../../../protocol/types.ts';

/**
 * Which explained numbers stand behind one step: its round, its pace, the light of these units, and
 * the windows that it opens or closes or that run beside it. The mixes belong to every window of a working time.
 */
export function numbersOf(o: {
  readonly all: readonly Explanation[];
  readonly protocol: Protocol;
  readonly step: string;
  /** The units, and the teeth where the step is done to teeth. */
  readonly units: readonly SubjectId[];
  /** Ids of the windows that are open now: their clocks are on the screen. */
  readonly open: readonly string[];
}): readonly Explanation[] {
  const { step } = o;
  const units = new Set(o.units.map(bareId));
  const windows = o.protocol.windows.filter(
    (w) => w.from.step === step || w.to.step === step || o.open.includes(w.id),
  );
  const ids = new Set(windows.map((w) => w.id));
  const isWorking = windows.some((w) => w.protects === 'working');
  const isLight = o.protocol.steps.find((s) => s.id === step)?.action.kind === 'expose';
  return o.all.filter(({ id }) => {
    const [kind = '', of = '', unit = ''] = id.split('/');
    if (kind === 'window') return ids.has(of);
    if (kind === 'mixes') return isWorking;
    // Told by class of material where classes differ.
    if (kind === 'rounds') return of === step;
    if (kind === 'transmittance' || kind === 'heat')
      return isLight && units.has(of.replace(/^tooth:/, ''));
    return of === step && (unit === '' || units.has(unit));
  });
}
