import { useState } from 'react';
import { useLocation } from 'wouter';
import { quickCardWords } from '../../words/quick-card-words.ts';
import { noticeWords } from '../../words/tour-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { useIsRunning, useSession } from '../shared/session-context.ts';
import { beginTour } from '../shared/tour.ts';

/** The first look again, and the card for beside the chair. */
export function ClinicHelp() {
  const session = useSession();
  const [, navigate] = useLocation();
  const isRunning = useIsRunning();
  const [isLost, setLost] = useState(false);
  const begin = async (): Promise<void> => {
    if (await beginTour(session)) navigate('/chair');
    else setLost(true);
  };
  return (
    <Section title={noticeWords.help} lede={noticeWords.helpLede}>
      <ButtonRow>
        <Button disabled={isRunning} onPress={() => void begin()}>
          {noticeWords.tourDo}
        </Button>
        <Button onPress={() => navigate('/clinic/card')}>{quickCardWords.open}</Button>
      </ButtonRow>
      {isLost && <p role="alert">{noticeWords.tourLost}</p>}
      {isRunning && <p className="clinic-quiet">{noticeWords.tourRunning}</p>}
    </Section>
  );
}
