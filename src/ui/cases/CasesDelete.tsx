import { useState } from 'react';
import type { CaseFacts } from '../../runtime/cases/cases-list-facts.ts';
import type { LivesOfDeleted } from '../../runtime/follow-up/forget-follow-up.ts';
import { caseListWords } from '../../words/case-list-words.ts';
import { notKeptWords } from '../../words/opening-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { PeopleChoices } from '../shared/PeopleChoices.tsx';
import { useApp, useSession } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';

const LIVES: readonly LivesOfDeleted[] = ['taken', 'left'];

/** Deletes one exported case; who and why stay behind. */
export function CasesDelete(o: { readonly facts: CaseFacts; readonly onClose: () => void }) {
  const { casesList, followUps } = useSession();
  const { caseId } = o.facts;
  const followed = useLoaded(async () => (await followUps()).livesOf(caseId), [caseId, followUps]);
  // Where that cannot be told, people are asked all the same.
  const standing = followed.state === 'failed' ? 'followed' : (followed.value ?? null);
  const isFollowed = standing === null ? null : standing === 'followed';
  const [lives, setLives] = useState<LivesOfDeleted | null>(null);
  const isAlone = useApp((s) => s.sharing.standing === 'alone');
  const isShared = !isAlone && o.facts.mode === 'patient';
  const [by, setBy] = useState('');
  const [reason, setReason] = useState('');
  const [lost, setLost] = useState<string | null>(null);
  const [isBusy, setBusy] = useState(false);
  const remove = async (): Promise<void> => {
    const about = { caseId, by: by.trim(), reason: reason.trim() };
    setBusy(true);
    const done = await casesList
      .deleteCase(lives === null ? about : { ...about, lives })
      .catch(() => null);
    setBusy(false);
    if (done?.ok === true) o.onClose();
    else setLost(notKeptWords({ code: done?.error.code ?? '' }));
  };
  return (
    <Sheet
      open
      title={caseListWords.deleteTitle}
      onClose={o.onClose}
      foot={
        <Button
          rank="grave"
          disabled={
            isBusy ||
            by.trim() === '' ||
            reason.trim() === '' ||
            isFollowed === null ||
            (isFollowed && lives === null)
          }
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
      {standing === 'left-before' && <p>{caseListWords.deleteLivesBefore}</p>}
      {isFollowed === true && (
        <>
          <Segmented<LivesOfDeleted | ''>
            label={caseListWords.deleteLives}
            options={LIVES.map((value) => ({ value, label: caseListWords.deleteLivesAs[value] }))}
            value={lives ?? ''}
            onChange={(value) => setLives(value === '' ? null : value)}
          />
          {lives !== null && <p>{caseListWords.deleteLivesNote[lives]}</p>}
        </>
      )}
      <TextField label={caseListWords.deleteBy} value={by} onChange={setBy} />
      <PeopleChoices named={[by]} onChoose={({ name }) => setBy(name)} />
      <TextField label={caseListWords.deleteWhy} lines={2} value={reason} onChange={setReason} />
    </Sheet>
  );
}
