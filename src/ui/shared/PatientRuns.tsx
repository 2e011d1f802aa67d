import { useLocation } from 'wouter';
import { openingTexts } from '../../words/opening-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { useSession } from './session-context.ts';

/** A patient's case runs: back to it, or it is put down by whoever presses that. */
export function PatientRuns({ onPutDown }: { readonly onPutDown: () => void }) {
  const session = useSession();
  const [, navigate] = useLocation();
  const putDown = () => {
    session.leaveCase();
    onPutDown();
  };
  return (
    <ButtonRow>
      <Button onPress={() => navigate('/chair')}>{openingTexts.toChair}</Button>
      <Button rank="grave" onPress={putDown}>
        {openingTexts.putDown}
      </Button>
    </ButtonRow>
  );
}
