import { useState } from 'react';
import { canShare, saveFile, shareFile } from '../../runtime/cases/share.ts';
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import type { FollowUps } from '../../runtime/follow-up/follow-ups.ts';
import { followUpWords } from '../../words/follow-up-words.ts';
import { Button } from '../parts/Button.tsx';

/** Hands the recalls of a case that are to come to the calendar of the clinic: share sheet, else a file. */
export function RecallsCalendar(o: { readonly row: FollowUpRow; readonly followUps: FollowUps }) {
  const { caseId, patient } = o.row;
  const [words, setWords] = useState<string | null>(null);
  const hand = async (): Promise<void> => {
    const content = await o.followUps.calendarOf(caseId);
    if (content === null) {
      setWords(followUpWords.calendarNone);
      return;
    }
    const name = `${patient.replaceAll(/[^\p{L}\p{N}-]+/gu, '-')}-recalls.ics`;
    const file = { name, type: 'text/calendar', content };
    const isShared = canShare(navigator, file);
    if (!isShared) saveFile(file);
    if (isShared && !(await shareFile(navigator, file))) return;
    setWords(isShared ? followUpWords.calendarShared : followUpWords.calendarSaved);
  };
  return (
    <>
      <Button onPress={() => void hand()}>{followUpWords.calendar}</Button>
      {words !== null && <p role="status">{words}</p>}
    </>
  );
}
