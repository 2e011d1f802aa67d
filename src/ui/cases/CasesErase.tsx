import { useState } from 'react';
import { caseListWords } from '../../words/case-list-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { useApp, useSession } from '../shared/session-context.ts';

type Outcome =
  | { readonly state: 'none' | 'goes' }
  | { readonly state: 'done'; readonly keys: number; readonly entries: number }
  | { readonly state: 'failed'; readonly code: string };

function whyNot(code: string): string {
  const { other, ...reasons } = caseListWords.notErasedWhy;
  return Object.entries(reasons).find(([known]) => known === code)?.[1] ?? other;
}

/** Erases in the clinic's store what is left there of deleted cases; shown where there is one. */
export function CasesErase() {
  const { sharing } = useSession();
  const isShared = useApp((s) => s.sharing.standing === 'paired' && s.standing === 'writer');
  const [passphrase, setPassphrase] = useState('');
  const [outcome, setOutcome] = useState<Outcome>({ state: 'none' });
  if (!isShared || !sharing) return null;
  const erase = async (): Promise<void> => {
    setOutcome({ state: 'goes' });
    const done = await (await sharing()).eraseDeleted({ passphrase });
    setPassphrase('');
    setOutcome(
      done.ok ? { state: 'done', ...done.value } : { state: 'failed', code: done.error.code },
    );
  };
  const goes = outcome.state === 'goes';
  return (
    <Section title={caseListWords.eraseTitle}>
      <p>{caseListWords.eraseNote}</p>
      {outcome.state === 'done' && <Banner tone="plain" words={caseListWords.erased(outcome)} />}
      {outcome.state === 'failed' && (
        <Banner tone="attention" words={caseListWords.notErased} advice={whyNot(outcome.code)} />
      )}
      <TextField
        label={caseListWords.erasePassphrase}
        value={passphrase}
        onChange={setPassphrase}
        type="password"
        autoComplete="current-password"
      />
      <Button
        rank="grave"
        disabled={passphrase === '' || goes}
        onPress={() => void erase().catch(() => setOutcome({ state: 'failed', code: 'other' }))}
      >
        {goes ? caseListWords.erasing : caseListWords.eraseDo}
      </Button>
    </Section>
  );
}
