import { useRef, useState } from 'react';
import type { CaseLog } from '../../../engine/log.ts';
import type { PersonFact } from '../../../export/record-types.ts';
import { recordWords } from '../../../words/record-words.ts';
import { Button } from '../../parts/Button.tsx';
import { Disclosure } from '../../parts/Facts.tsx';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { useApp, useSession } from '../../shared/session-context.ts';

/** Adds a note to a signed case; what was recorded is not touched. */
export function RecordLateNote(o: {
  readonly caseId: string;
  readonly people: readonly PersonFact[];
  readonly log: CaseLog;
}) {
  const { caseId, people, log } = o;
  const session = useSession();
  const isRunning = useApp((s) => s.running?.caseId === caseId);
  const isReader = useApp((s) => s.standing !== 'writer');
  const [words, setWords] = useState('');
  const [by, setBy] = useState(people[0]?.id ?? '');
  const [failed, setFailed] = useState(false);
  const isAdding = useRef(false);
  const add = async (): Promise<void> => {
    // A second press would write the note once more.
    if (isAdding.current) return;
    isAdding.current = true;
    // A signed case that still stands in the chair would not see what is written behind its back.
    if (isRunning) session.leaveCase();
    const added = await session.casesList
      .addNote({ caseId, words, by, known: log })
      .catch(() => null);
    isAdding.current = false;
    setFailed(added?.ok !== true);
    if (added?.ok === true) setWords('');
  };
  return (
    <div className="lw-screen-only">
      <Disclosure summary={recordWords.addNote}>
        <form
          className="record-late-note"
          onSubmit={(event) => {
            event.preventDefault();
            void add();
          }}
        >
          <TextField
            label={recordWords.noteWords}
            hint={recordWords.addNoteLede}
            value={words}
            onChange={setWords}
            lines={2}
          />
          <SelectField
            label={recordWords.noteBy}
            value={by}
            options={people.map((p) => ({ value: p.id, label: p.label }))}
            onChange={setBy}
          />
          <Button type="submit" disabled={isReader || words.trim() === ''}>
            {recordWords.noteDo}
          </Button>
          {failed && <p role="alert">{recordWords.noteNotSaved}</p>}
        </form>
      </Disclosure>
    </div>
  );
}
