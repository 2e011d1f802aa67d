import { useState } from 'react';
import { soundWords } from '../../words/sound-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { useApp, useSession, useTablet } from './session-context.ts';
import { answered } from './sound-memory.ts';
import './sound-test.css';

/** A test that only a person can answer: no tablet knows whether it was heard. The answer is kept. */
export function SoundTest({ rank = 'plain' }: { readonly rank?: 'plain' | 'quiet' }) {
  const tablet = useTablet();
  const session = useSession();
  const settings = useApp((s) => s.settings);
  const [step, setStep] = useState<'idle' | 'asked' | 'unheard'>('idle');
  const answer = (by: 'dentist' | 'assistant' | null): void => {
    setStep(by === null ? 'unheard' : 'idle');
    void session.saveSettings(answered(settings, { by, nowMs: tablet.wallNowMs() }));
  };
  return (
    <div className="sound-test">
      <Button
        rank={rank}
        onPress={() => {
          tablet.soundTest();
          setStep('asked');
        }}
      >
        {soundWords.test}
      </Button>
      {step === 'asked' && (
        <div className="sound-asked">
          <p>{soundWords.asked}</p>
          <ButtonRow>
            <Button onPress={() => answer('assistant')}>{soundWords.assistant}</Button>
            <Button onPress={() => answer('dentist')}>{soundWords.dentist}</Button>
            <Button onPress={() => answer(null)}>{soundWords.nobody}</Button>
          </ButtonRow>
        </div>
      )}
      <p role="status" className="sound-answer" data-answer={step}>
        {step === 'unheard' && soundWords.nobodyTodo}
      </p>
    </div>
  );
}
