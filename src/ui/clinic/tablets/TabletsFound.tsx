import { useState } from 'react';
import { PASSPHRASE_LENGTH_MIN } from '../../../runtime/lead/lead-passphrase.ts';
import { sharingWords } from '../../../words/sharing-words.ts';
import { CautionNote } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Section } from '../../parts/Page.tsx';
import { chosenFaultWords } from './form-faults.ts';
import { TabletsForm } from './TabletsForm.tsx';
import { useSharing } from './use-sharing.ts';

/** The first tablet of a clinic chooses the passphrase that seals the lead's box. */
export function TabletsFound(o: { readonly onLeave: () => void }) {
  const sharing = useSharing();
  const [passphrase, setPassphrase] = useState('');
  const [again, setAgain] = useState('');
  const [isTried, setTried] = useState(false);
  const fault = chosenFaultWords(passphrase);
  const differs =
    fault === undefined && again !== passphrase ? sharingWords.passphraseFaults.differ : undefined;
  return (
    <Section title={sharingWords.found} lede={sharingWords.foundLede}>
      <CautionNote>{sharingWords.foundLost}</CautionNote>
      <TabletsForm
        send={sharingWords.foundDo}
        isRight={fault === undefined && differs === undefined}
        onTry={() => setTried(true)}
        onSend={() => sharing.found({ passphrase })}
      >
        <TextField
          label={sharingWords.passphrase}
          hint={sharingWords.passphraseHint(PASSPHRASE_LENGTH_MIN)}
          type="password"
          autoComplete="new-password"
          value={passphrase}
          onChange={setPassphrase}
          problem={isTried ? fault : undefined}
        />
        <TextField
          label={sharingWords.passphraseAgain}
          type="password"
          autoComplete="new-password"
          value={again}
          onChange={setAgain}
          problem={isTried ? differs : undefined}
        />
      </TabletsForm>
      <div>
        <Button rank="quiet" onPress={o.onLeave}>
          {sharingWords.stop}
        </Button>
      </div>
    </Section>
  );
}
