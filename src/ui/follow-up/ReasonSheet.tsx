import { useState } from 'react';
import { followUpWords } from '../../words/follow-up-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { PeopleChoices } from '../shared/PeopleChoices.tsx';
import { useFirstFault } from '../shared/use-first-fault.ts';
import type { Deed, Said } from './use-follow-up-deeds.ts';

/** Asks why, and who says so, before something is done that stays told. */
export function ReasonSheet(o: {
  readonly title: string;
  readonly note: string;
  /** Offered as one tap. */
  readonly reasons?: readonly string[];
  /** Who is named until somebody changes it. */
  readonly who: string;
  readonly onDo: (said: Said) => Deed;
  readonly onClose: () => void;
}) {
  const [reason, setReason] = useState('');
  const [by, setBy] = useState(o.who);
  const [lost, setLost] = useState<string | null>(null);
  const { body, tries, fail } = useFirstFault<HTMLFormElement>();
  const said = { reason: reason.trim(), by: by.trim() };
  const press = async (): Promise<void> => {
    if (said.reason === '' || said.by === '') {
      fail();
      return;
    }
    const why = await o.onDo(said);
    if (why === null) o.onClose();
    else setLost(why);
  };
  const isAsked = tries > 0;
  return (
    <Sheet
      open
      title={o.title}
      onClose={o.onClose}
      foot={
        <Button rank="main" onPress={() => void press()}>
          {o.title}
        </Button>
      }
    >
      <form
        ref={body}
        className="recall"
        onSubmit={(event) => {
          event.preventDefault();
          void press();
        }}
      >
        {lost !== null && <Banner tone="attention" words={followUpWords.notSaved} advice={lost} />}
        <p>{o.note}</p>
        <TextField
          label={followUpWords.reason}
          value={reason}
          onChange={setReason}
          problem={isAsked && said.reason === '' ? followUpWords.reasonMissing : undefined}
        />
        {o.reasons !== undefined && (
          <div className="recall-items">
            {o.reasons.map((each) => (
              <Button key={each} on={reason === each} onPress={() => setReason(each)}>
                {each}
              </Button>
            ))}
          </div>
        )}
        <TextField
          label={followUpWords.by}
          value={by}
          onChange={setBy}
          problem={isAsked && said.by === '' ? followUpWords.byMissing : undefined}
        />
        <PeopleChoices named={[by]} onChoose={({ name }) => setBy(name)} />
      </form>
    </Sheet>
  );
}
