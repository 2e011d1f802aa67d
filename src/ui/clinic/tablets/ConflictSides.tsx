import { type ReactNode, useState } from 'react';
import type { Result } from '../../../base/result.ts';
import type { Conflict, Teller } from '../../../runtime/sharing/conflicts.ts';
import { conflictWords } from '../../../words/conflict-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { Section } from '../../parts/Page.tsx';
import { useApp, useTimes } from '../../shared/session-context.ts';
import { nameOf } from './tablet-names.ts';
import { useIsReader, useShared } from './use-sharing.ts';

export type ConflictOf<K extends Conflict['kind']> = Extract<Conflict, { readonly kind: K }>;

export type OnSettled = (words: string) => void;

/** Two or more sides beside each other; each with who said it, on which tablet and when. */
export function Sides(o: {
  readonly kind: Conflict['kind'];
  readonly title: string;
  readonly sides: readonly (Teller & { readonly shown: ReactNode })[];
  /** Chooses a side by its place; left out where the choice is made elsewhere. */
  readonly choose?: (at: number) => Promise<Result<unknown, unknown>>;
  readonly onSettled?: OnSettled;
  readonly children?: ReactNode;
}) {
  const { title, sides, choose } = o;
  const isReader = useIsReader();
  const [isBusy, setBusy] = useState(false);
  const [isLost, setLost] = useState(false);
  const press = async (at: number): Promise<void> => {
    if (choose === undefined) return;
    setBusy(true);
    const kept = await choose(at)
      .catch(() => null)
      .finally(() => setBusy(false));
    setLost(kept?.ok !== true);
    if (kept?.ok === true) o.onSettled?.(conflictWords.chosen(title));
  };
  return (
    <Section title={title} lede={conflictWords.kinds[o.kind]}>
      {isLost && <Banner tone="attention" words={conflictWords.lost} />}
      <ul className="tablets-sides">
        {sides.map(({ shown, ...teller }, at) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the sides of one conflict keep their order.
          <li key={at} className="tablets-side">
            <div className="tablets-side-value">{shown}</div>
            <Who teller={teller} />
            {choose !== undefined && (
              <Button
                disabled={isBusy || isReader}
                name={conflictWords.chooseName({ n: at + 1, title })}
                onPress={() => void press(at)}
              >
                {conflictWords.choose}
              </Button>
            )}
          </li>
        ))}
      </ul>
      {o.children}
    </Section>
  );
}

function Who({ teller }: { readonly teller: Teller }) {
  const tablets = useShared((s) => s.tablets);
  const own = useApp((s) => s.settings.tablet);
  const times = useTimes();
  const named = teller.tablet === '' ? conflictWords.unknownTablet : nameOf(tablets, teller.tablet);
  const isKnown = tablets.some(
    ({ device, tablet: id }) => device === teller.tablet || id === teller.tablet,
  );
  const ownName = isKnown ? conflictWords.thisTablet(named) : conflictWords.own;
  const tablet = teller.tablet !== '' && teller.tablet === own ? ownName : named;
  const when = times.moment(teller.atWallMs);
  const { by } = teller;
  const words =
    by === null || by === ''
      ? conflictWords.sideOn({ tablet, when })
      : conflictWords.sideBy({ tablet, by, when });
  return <p className="lw-quiet">{words}</p>;
}
