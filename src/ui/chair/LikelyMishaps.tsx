import { commandOf } from '../../engine/at-once.ts';
import { layoutOf } from '../../engine/layout.ts';
import { wayBackQuestion } from '../../engine/way-back-asked.ts';
import type { WayBackOffer } from '../../engine/ways-back.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { mishapWords } from '../../words/at-hand-words.ts';
import { Button } from '../parts/Button.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { useTablet } from '../shared/session-context.ts';

interface Props {
  readonly running: RunningCase;
  readonly mishaps: readonly WayBackOffer[];
  /** Called where people say first which one it is, or what they know of a step that nobody pressed. */
  readonly onAsk: (offer: WayBackOffer) => void;
  /** Called when a way back was taken. */
  readonly onTaken?: () => void;
}

/** The likeliest of what may have gone wrong, by name: one tap takes its way back. */
export function LikelyMishaps({ running, mishaps, onAsk, onTaken }: Props) {
  const tablet = useTablet();
  const { spec } = namingOf(running);
  const take = (offer: WayBackOffer) => {
    const { state } = running.log;
    const question = wayBackQuestion({ state, layout: layoutOf(state) }, offer);
    if (offer.subjects.length > 1 || question !== null) onAsk(offer);
    else if (tablet.door.do(commandOf({ kind: 'way-back', ...offer })) === null) onTaken?.();
  };
  return mishaps.map((offer) => (
    <Button key={offer.wayBack.id} size="chair" onPress={() => take(offer)}>
      {mishapWords(offer, spec)}
    </Button>
  ));
}
