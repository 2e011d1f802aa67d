import { useState } from 'react';
import { useApp, useDesk } from '../app/session-context.ts';
import { formatPercent } from '../format/number.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { Check, Stepper } from '../parts/Segmented.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { settingWords } from '../words/setting-words.ts';
import type { SettingsPartProps } from './settings-part.ts';

const VOLUME_STEP = 0.1;

type Answer = 'none' | 'asked' | 'heard' | 'unheard';

/** A test that only a person can answer: no tablet knows whether it was heard. */
function SoundTest() {
  const desk = useDesk();
  const [answer, setAnswer] = useState<Answer>('none');
  return (
    <div className="clinic-test">
      <Button
        onPress={() => {
          desk.soundTest();
          setAnswer('asked');
        }}
      >
        {settingWords.test}
      </Button>
      {answer === 'asked' && (
        <div className="clinic-asked">
          <p id="clinic-heard">{settingWords.heard}</p>
          <ButtonRow>
            <Button onPress={() => setAnswer('heard')}>{settingWords.heardYes}</Button>
            <Button onPress={() => setAnswer('unheard')}>{settingWords.heardNo}</Button>
          </ButtonRow>
        </div>
      )}
      <p role="status" className="clinic-answer" data-answer={answer}>
        {answer === 'heard' && settingWords.heardGood}
        {answer === 'unheard' && settingWords.heardBad}
      </p>
    </div>
  );
}

/** Loudness, the test, and spoken words. */
export function ClinicSound({ settings, onChange }: SettingsPartProps) {
  const sound = useApp((s) => s.tablet.sound);
  const { volume } = settings;
  const move = (by: number): void => {
    const next = Math.round((volume + by) / VOLUME_STEP) * VOLUME_STEP;
    onChange({ volume: Math.min(1, Math.max(0, Number(next.toFixed(1)))) });
  };
  return (
    <Section title={settingWords.sound}>
      <div className="clinic-fields">
        <p className="clinic-state">
          <StateMark shape={sound.state === 'on' ? 'full' : 'broken'} />
          {settingWords.soundStates[sound.state]}
        </p>
        <Stepper
          label={settingWords.volume}
          shown={formatPercent(volume)}
          atLeast={volume <= 0}
          atMost={volume >= 1}
          onLess={() => move(-VOLUME_STEP)}
          onMore={() => move(VOLUME_STEP)}
        />
        <SoundTest />
        <Check
          label={settingWords.spoken}
          note={settingWords.spokenNote}
          checked={settings.spoken}
          onChange={(spoken) => onChange({ spoken })}
        />
      </div>
    </Section>
  );
}
