import { useLayoutEffect, useRef } from 'react';
import { sharingWords } from '../../../words/sharing-words.ts';
import { Field } from '../../parts/Field.tsx';
import { caretAfter, codeCharacters, inGroups } from './code-entry.ts';

/** The code in its groups while it is typed or pasted; the caret stays where it was among the characters. */
export function CodeField(props: {
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly problem: string | undefined;
}) {
  const input = useRef<HTMLInputElement>(null);
  const caret = useRef<number | null>(null);
  useLayoutEffect(() => {
    if (caret.current === null) return;
    input.current?.setSelectionRange(caret.current, caret.current);
    caret.current = null;
  });
  return (
    <Field label={sharingWords.code} hint={sharingWords.codeHint} problem={props.problem}>
      {(control) => (
        <input
          {...control}
          ref={input}
          type="text"
          className="lw-input tablets-code-input"
          autoComplete="off"
          autoCapitalize="characters"
          autoCorrect="off"
          spellCheck={false}
          value={props.value}
          onChange={({ target }) => {
            const at = target.selectionStart ?? target.value.length;
            caret.current = caretAfter(codeCharacters(target.value.slice(0, at)).length);
            props.onChange(inGroups(codeCharacters(target.value)));
          }}
        />
      )}
    </Field>
  );
}
