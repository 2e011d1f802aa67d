import { useState } from 'react';
import { type EntryDeed, editorWords } from '../../../words/editor-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Section } from '../../parts/Page.tsx';
import type { EntryDeeds } from './editor-moves.ts';

/** What a row says of its entry. */
export interface EntryTexts {
  /** Short, for the names of its buttons. */
  readonly name: string;
  readonly words: string;
  readonly note: string;
  /** Why it cannot be removed; null when it can. */
  readonly refusal: string | null;
}

interface EntryRow extends EntryTexts, EntryDeeds {
  readonly id: string;
  readonly onEdit: () => void;
}

/** A list of entries that can be changed, removed and added, each by name. */
export function EditorEntries(props: {
  readonly title: string;
  readonly lede: string;
  readonly rows: readonly EntryRow[];
  readonly add: string;
  /** Left out while nothing can be added. */
  readonly onAdd: (() => void) | undefined;
}) {
  const { title, lede, rows, add, onAdd } = props;
  const [refused, setRefused] = useState<string | null>(null);
  return (
    <Section title={title} lede={lede}>
      <ul className="editor-items" aria-label={title}>
        {rows.map((row) => (
          <li key={row.id}>
            <div>
              <p>{row.words}</p>
              <p className="numbers-note">{row.note}</p>
            </div>
            <Deeds row={row} onRefused={() => setRefused(row.id)} />
            {refused === row.id && row.refusal !== null && (
              <p className="lw-field-problem editor-refusal" role="alert">
                {row.refusal}
              </p>
            )}
          </li>
        ))}
      </ul>
      <div>
        <Button disabled={onAdd === undefined} onPress={onAdd}>
          {add}
        </Button>
      </div>
    </Section>
  );
}

function Deeds(props: { readonly row: EntryRow; readonly onRefused: () => void }) {
  const { row, onRefused } = props;
  const name = (deed: EntryDeed): string => editorWords.named[deed](row.name);
  const moves = [
    { deed: 'up', move: row.onUp },
    { deed: 'down', move: row.onDown },
  ] as const;
  return (
    <div className="editor-deeds">
      {moves.map(({ deed, move }) => (
        <Button
          key={deed}
          rank="quiet"
          name={name(deed)}
          disabled={move === null}
          onPress={move ?? undefined}
        >
          {editorWords[deed]}
        </Button>
      ))}
      <Button
        rank="quiet"
        name={name('remove')}
        onPress={row.refusal === null ? row.onRemove : onRefused}
      >
        {editorWords.remove}
      </Button>
      <Button rank="quiet" name={name('edit')} onPress={row.onEdit}>
        {editorWords.edit}
      </Button>
    </div>
  );
}
