import { useState } from 'react';
import type { CaseFacts } from '../../runtime/cases/cases-list-facts.ts';
import { caseListWords } from '../../words/case-list-words.ts';
import { notKeptWords } from '../../words/opening-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { PeopleChoices } from '../shared/PeopleChoices.tsx';
import { useApp, useSession } from '../shared/session-context.ts';

/** Deletes one exported case; who and why stay behind. */
export function CasesDelete(o: { readonly facts: CaseFacts; readonly onClose: () => void }) {
  const { casesList } = useSession();
  const isAlone = useApp((s) => s.sharing.standing === 'alone');
  const isShared = !isAlone && o.facts.mode === 'patient';
  const [by, setBy] = useState('');
  const [reason, setReason] = useState('');
  const [lost, setLost] = useState<string | null>(null);
  const remove = async (): Promise<void> => {
    const { caseId } = o.facts;
    const done = await casesList.deleteCase({ caseId, by: by.trim(), reason: reason.trim() });
    if (done.ok) o.onClose();
    else setLost(notKeptWords(done.error));
  };
  return (
    <Sheet
      open
      title={caseListWords.deleteTitle}
      onClose={o.onClose}
      foot={
        <Button
          rank="grave"
          disabled={by.trim() === '' || reason.trim() === ''}
          onPress={() => void remove()}
        >
          {caseListWords.deleteDo}
        </Button>
      }
    >
      {lost !== null && <Banner tone="attention" words={caseListWords.notDeleted} advice={lost} />}
      <p>
        <strong>{caseListWords.deleteWhat(o.facts)}</strong>
      </p>
      <p>{caseListWords.deleteNote}</p>
      {isShared && <p>{caseListWords.deleteNoteClinic}</p>}
      <TextField label={caseListWords.deleteBy} value={by} onChange={setBy} />
      <PeopleChoices named={[by]} onChoose={({ name }) => setBy(name)} />
      <TextField label={caseListWords.deleteWhy} lines={2} value={reason} onChange={setReason} />
    </Sheet>
  );
}
