import { useState } from 'react';
import type { FlagLooked } from '../../outcomes/review-types.ts';
import { flagWords } from '../../words/outcome-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { useApp } from '../shared/session-context.ts';
import type { PartProps } from './part-props.ts';

interface FlagLookProps extends Pick<PartProps, 'read' | 'isExample'> {
  readonly flag: Pick<FlagLooked, 'chart' | 'of' | 'flaggedOn'>;
}

/** Somebody notes what was looked at; the chart begins again. */
export function FlagLook({ flag, read, isExample }: FlagLookProps) {
  const isReader = useApp((s) => s.standing !== 'writer');
  const [isOpen, setOpen] = useState(false);
  const [note, setNote] = useState('');
  const [problem, setProblem] = useState<'missing' | 'not-kept' | null>(null);
  const save = async (): Promise<void> => {
    if (note.trim() === '') {
      setProblem('missing');
      return;
    }
    const kept = await read.followUps?.noteFlagLooked({
      flag: { ...flag, note: note.trim() },
      by: null,
    });
    setProblem(kept?.ok ? null : 'not-kept');
    if (kept?.ok) setOpen(false);
  };
  if (!isOpen) {
    return (
      <Button disabled={isReader || isExample} onPress={() => setOpen(true)}>
        {flagWords.look}
      </Button>
    );
  }
  return (
    <div className="outcomes-form">
      <TextField
        label={flagWords.lookTitle}
        hint={flagWords.lookHint}
        value={note}
        lines={3}
        problem={problem === 'missing' ? flagWords.lookMissing : undefined}
        onChange={setNote}
      />
      {problem === 'not-kept' && <Banner tone="broken" words={flagWords.lookNotKept} />}
      <Button rank="main" onPress={() => void save()}>
        {flagWords.lookSave}
      </Button>
    </div>
  );
}
