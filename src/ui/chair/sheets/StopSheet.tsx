import { useState } from 'react';
import { stoppedProposals } from '../../../engine/stop-visit.ts';
import type { RunningCase } from '../../../runtime/app-state.ts';
import { stopWords } from '../../../words/chair-sheet-words.ts';
import { subjectsLabel } from '../../../words/subject-words.ts';
import { Button } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { namingOf } from '../../shared/arch-model.ts';
import { useTablet } from '../../shared/session-context.ts';

/** Stops the visit with one reason: what is unfinished is recorded as left, then the case is signed. */
export function StopSheet(o: { readonly running: RunningCase; readonly onClose: () => void }) {
  const tablet = useTablet();
  const [reason, setReason] = useState('');
  const isEmpty = reason.trim() === '';
  const { spec } = namingOf(o.running);
  const proposals = stoppedProposals(o.running.log.state);
  return (
    <Sheet open title={stopWords.title} onClose={o.onClose}>
      <p>{stopWords.lede}</p>
      {proposals.length > 0 && <p>{stopWords.first}</p>}
      {proposals.map(({ wayBack, subjects }) => (
        <p key={wayBack.id}>
          <strong>
            {stopWords.proposal({ title: wayBack.title, subject: subjectsLabel(subjects, spec) })}
          </strong>{' '}
          {wayBack.proposal}
        </p>
      ))}
      <TextField label={stopWords.reason} value={reason} onChange={setReason} />
      <Button
        size="chair"
        disabled={isEmpty}
        onPress={() => {
          if (!tablet.door.do({ do: 'stop-visit', reason: reason.trim() })) o.onClose();
        }}
      >
        {stopWords.stop}
      </Button>
    </Sheet>
  );
}
