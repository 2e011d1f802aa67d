import { useState } from 'react';
import { TextField } from '../parts/Field.tsx';

/** A passphrase that is being chosen: typed twice, because nobody sees it. */
export function useNewPassphrase() {
  const [passphrase, setPassphrase] = useState('');
  const [again, setAgain] = useState('');
  return {
    passphrase,
    setPassphrase,
    again,
    setAgain,
    isRepeated: again === passphrase,
    isOther: again !== '' && again !== passphrase,
    clear: () => {
      setPassphrase('');
      setAgain('');
    },
  };
}

/** The two fields of {@link useNewPassphrase}. */
export function NewPassphraseFields(props: {
  readonly chosen: ReturnType<typeof useNewPassphrase>;
  readonly words: {
    readonly passphrase: string;
    readonly hint: string;
    readonly again: string;
    readonly other: string;
  };
}) {
  const { chosen, words } = props;
  return (
    <>
      <TextField
        label={words.passphrase}
        hint={words.hint}
        type="password"
        autoComplete="new-password"
        value={chosen.passphrase}
        onChange={chosen.setPassphrase}
      />
      <TextField
        label={words.again}
        type="password"
        autoComplete="new-password"
        problem={chosen.isOther ? words.other : undefined}
        value={chosen.again}
        onChange={chosen.setAgain}
      />
    </>
  );
}
