import { useState } from 'react';
import type { RunningCase } from '../../runtime/app-state.ts';
import { signWords } from '../../words/chair-sheet-words.ts';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { useTablet } from '../shared/session-context.ts';
import { isSigning, signLines } from './sign-model.ts';
import './sign-list.css';

/** Before the signature: what was missed, voided, not watched or skipped, each with a place for a word. */
export function SignList({ running }: { readonly running: RunningCase }) {
  const [openId, setOpenId] = useState<string | null>(null);
  // What was typed and not kept yet stands there again when its line is opened again.
  const [drafts, setDrafts] = useState<Readonly<Record<string, string>>>({});
  const draft = (id: string) => (words: string) => setDrafts({ ...drafts, [id]: words });
  if (!isSigning(running)) return null;
  const lines = signLines(running);
  if (lines.length === 0) return <p className="chair-instruction-why">{signWords.nothing}</p>;
  return (
    <ul className="sign-list" aria-label={signWords.title}>
      {lines.map((line) => (
        <li key={line.id}>
          <span>{line.words}</span>
          {line.said !== '' && <strong>{signWords.said(line.said)}</strong>}
          {openId === line.id ? (
            <Word
              about={line.id}
              words={drafts[line.id] ?? ''}
              onChange={draft(line.id)}
              onDone={() => {
                draft(line.id)('');
                setOpenId(null);
              }}
            />
          ) : (
            !running.isViewOnly && (
              <Button
                size="chair"
                name={signWords.addName(line.words)}
                onPress={() => setOpenId(line.id)}
              >
                {signWords.add}
              </Button>
            )
          )}
        </li>
      ))}
    </ul>
  );
}

const focusField = (form: HTMLFormElement | null): void => form?.querySelector('input')?.focus();

/** One line to type; kept with Enter or the button, left empty it says nothing. */
function Word(o: {
  readonly about: string;
  readonly words: string;
  readonly onChange: (words: string) => void;
  readonly onDone: () => void;
}) {
  const { about, words, onDone } = o;
  const { door } = useTablet();
  const keep = () => {
    const said = words.trim();
    if (said !== '' && door.do({ do: 'note', words: said, about }) !== null) return;
    onDone();
  };
  return (
    <form
      ref={focusField}
      data-own-enter=""
      onSubmit={(event) => {
        event.preventDefault();
        keep();
      }}
    >
      <TextField label={signWords.label} value={words} onChange={o.onChange} />
      <Button size="chair" type="submit">
        {signWords.keep}
      </Button>
    </form>
  );
}
