import { type ReactNode, useEffect, useRef, useState } from 'react';
import { openingTexts } from '../../../words/opening-words.ts';
import { sharingProblemWords, sharingWords } from '../../../words/sharing-words.ts';
import { Button } from '../../parts/Button.tsx';
import { type Send, useIsReader } from './use-sharing.ts';

const WRONG = '[aria-invalid="true"]';

/**
 * A form that does one slow thing at a time. A press leads to the first field that is wrong; what was not
 * done is told in one line.
 */
export function TabletsForm(props: {
  readonly send: string;
  readonly rank?: 'main' | 'plain' | 'grave';
  /** Whether all that was typed may be sent; a press says otherwise what is wrong. */
  readonly isRight: boolean;
  /** Called at each press, before anything is sent: from then on faults are told. */
  readonly onTry: () => void;
  readonly onSend: Send;
  readonly children: ReactNode;
}) {
  const form = useRef<HTMLFormElement>(null);
  const isReader = useIsReader();
  const [tries, setTries] = useState(0);
  const [isBusy, setBusy] = useState(false);
  const [wrong, setWrong] = useState<string | null>(null);
  useEffect(() => {
    if (tries > 0) form.current?.querySelector<HTMLElement>(WRONG)?.focus();
  }, [tries]);
  const press = async (): Promise<void> => {
    props.onTry();
    setWrong(null);
    if (!props.isRight) return setTries((count) => count + 1);
    setBusy(true);
    const sent = await props
      .onSend()
      .catch(() => null)
      .finally(() => setBusy(false));
    if (sent === null) setWrong(openingTexts.tryAgain);
    else setWrong(sent.ok ? null : sharingProblemWords(sent.error));
  };
  return (
    <form
      ref={form}
      className="tablets-form"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        if (!isBusy && !isReader) void press();
      }}
    >
      {props.children}
      {wrong !== null && (
        <p className="lw-field-problem" role="alert">
          {wrong}
        </p>
      )}
      <div className="tablets-send">
        <Button type="submit" rank={props.rank ?? 'main'} disabled={isBusy || isReader}>
          {props.send}
        </Button>
        <span role="status">{isBusy ? sharingWords.working : ''}</span>
      </div>
    </form>
  );
}
