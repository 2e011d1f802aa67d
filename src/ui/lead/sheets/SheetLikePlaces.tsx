import { useDeferredValue, useMemo } from 'react';
import type { DraftLine, SheetDraft } from '../../../protocol/sheet-draft.ts';
import { withLikePlaces } from '../../../protocol/sheet-spots.ts';
import { sheetWords } from '../../../words/product-sheet-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Section } from '../../parts/Page.tsx';
import { useApp } from '../../shared/session-context.ts';

/** Protocols whose steps are named as those at which the numbers stand: all their places at once. */
export function SheetLikePlaces(props: {
  readonly draft: SheetDraft;
  readonly onLines: (lines: readonly DraftLine[]) => void;
}) {
  const { draft, onLines } = props;
  const { materialClass } = draft;
  // It may lag behind typing by a moment.
  const lines = useDeferredValue(draft.lines);
  const entries = useApp((s) => s.protocols);
  const found = useMemo(
    () =>
      entries.flatMap(({ protocol }) => {
        const like = withLikePlaces(protocol, { materialClass, lines });
        return like === null ? [] : [{ protocol, ...like }];
      }),
    [entries, materialClass, lines],
  );
  if (found.length === 0) return null;
  return (
    <Section title={sheetWords.like} lede={sheetWords.likeLede}>
      <ul className="desk-list">
        {found.map(({ protocol, added, lines: next }) => (
          <li key={protocol.id} className="desk-row">
            <p>{protocol.title}</p>
            <Button
              name={sheetWords.likeName({ count: added, title: protocol.title })}
              disabled={lines !== draft.lines}
              onPress={() => onLines(next)}
            >
              {sheetWords.likeDo(added)}
            </Button>
          </li>
        ))}
      </ul>
    </Section>
  );
}
