import { useState } from 'react';
import { leadProblemWords } from '../../words/lead-words.ts';
import { secondWords } from '../../words/second-words.ts';
import { Check } from '../parts/Segmented.tsx';
import { useLead, useLeadDesk } from './use-lead.ts';

/** Whether each revision is confirmed by two people. The log says who asked for it, and when. */
export function SecondPerson() {
  const desk = useLeadDesk();
  const isAsked = useLead((s) => s.asksSecond);
  const [words, setWords] = useState<string | null>(null);
  // What was pressed shows at once; the log that decides it is written meanwhile.
  const [pressed, setPressed] = useState<boolean | null>(null);
  const ask = async (isOn: boolean): Promise<void> => {
    setPressed(isOn);
    const asked = await desk.askSecond(isOn);
    setPressed(null);
    setWords(asked.ok ? null : leadProblemWords(asked.error));
  };
  return (
    <>
      <Check
        label={secondWords.ask}
        note={secondWords.askNote}
        checked={pressed ?? isAsked}
        onChange={(isOn) => void ask(isOn)}
      />
      {words !== null && <p className="lw-field-problem">{words}</p>}
    </>
  );
}
