import { useMemo } from 'react';
import type { DraftLine } from '../../../protocol/sheet-draft.ts';
import { isSameSpot } from '../../../protocol/sheet-places.ts';
import { type ProposedSpot, proposedSpots } from '../../../protocol/sheet-spots.ts';
import type { Protocol } from '../../../protocol/types.ts';
import { figureLabel } from '../../../words/figure-words.ts';
import { sheetLineTitle, sheetWords } from '../../../words/product-sheet-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Disclosure } from '../../parts/Facts.tsx';
import { Check } from '../../parts/Segmented.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { useApp } from '../../shared/session-context.ts';
import { shownValue } from '../editor/editor-model.ts';

interface Offered {
  readonly protocol: Protocol;
  readonly spots: readonly ProposedSpot[];
}

/** Where a line stands: the fitting numbers of every protocol with this class first, to be ticked. */
export function SheetPlaces(props: {
  readonly line: DraftLine;
  readonly materialClass: string;
  readonly onChange: (line: DraftLine) => void;
  readonly onClose: () => void;
}) {
  const { line, materialClass, onChange, onClose } = props;
  const entries = useApp((s) => s.protocols);
  // Ticking moves nothing: the order is that of the moment at which the list was opened.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above.
  const offered = useMemo(
    () =>
      entries.flatMap(({ protocol }): Offered[] => {
        const spots = proposedSpots(protocol, { materialClass, line });
        return spots.length === 0 ? [] : [{ protocol, spots }];
      }),
    [],
  );
  const tick = (spots: readonly ProposedSpot[], isOn: boolean): void => {
    const others = line.spots.filter((s) => spots.every(({ place }) => !isSameSpot(s, place.spot)));
    onChange({
      ...line,
      spots: isOn ? [...others, ...spots.map(({ place }) => place.spot)] : others,
    });
  };
  const same = offered
    .flatMap(({ spots }) => spots)
    .filter(({ fits, isSameValue }) => fits && isSameValue);
  return (
    <Sheet
      open
      width="wide"
      title={sheetWords.spotsTitle}
      onClose={onClose}
      foot={
        <Button rank="main" onPress={onClose}>
          {sheetWords.done}
        </Button>
      }
    >
      <p>
        <strong>{sheetLineTitle(line)}</strong>
      </p>
      <p className="lw-aside">{sheetWords.spotsLede}</p>
      {offered.length === 0 && <p>{sheetWords.spotsNone}</p>}
      {same.length > 1 && (
        <div>
          <Button onPress={() => tick(same, true)}>{sheetWords.spotsSame(same.length)}</Button>
        </div>
      )}
      {offered.map(({ protocol, spots }) => (
        <OfProtocol
          key={protocol.id}
          title={protocol.title}
          line={line}
          spots={spots}
          onTick={tick}
        />
      ))}
    </Sheet>
  );
}

function OfProtocol(props: {
  readonly title: string;
  readonly line: DraftLine;
  readonly spots: readonly ProposedSpot[];
  readonly onTick: (spots: readonly ProposedSpot[], isOn: boolean) => void;
}) {
  const { title, line, spots, onTick } = props;
  const checks = (some: readonly ProposedSpot[]) =>
    some.map((one) => {
      const { title: step, figure, spot: at } = one.place;
      const { id, key } = at;
      const label = figureLabel(key);
      const shown = figure === null ? sheetWords.noNumber : shownValue(key, figure.value);
      return (
        <Check
          key={`${id} ${key}`}
          label={sheetWords.spot({ title: step, label, shown })}
          checked={line.spots.some((spot) => isSameSpot(spot, at))}
          onChange={(isOn) => onTick([one], isOn)}
        />
      );
    });
  const first = spots.filter(({ fits, isBound }) => fits || isBound);
  const others = spots.filter((spot) => !first.includes(spot));
  return (
    <fieldset className="sheet-places">
      <legend>{title}</legend>
      {checks(first)}
      {others.length > 0 && (
        <Disclosure summary={sheetWords.spotsOther}>{checks(others)}</Disclosure>
      )}
    </fieldset>
  );
}
