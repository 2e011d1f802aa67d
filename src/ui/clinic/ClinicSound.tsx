import { formatPercent } from '../../words/number.ts';
import { settingWords } from '../../words/setting-words.ts';
import { soundMemoryWords } from '../../words/sound-words.ts';
import { Section } from '../parts/Page.tsx';
import { Check, Stepper } from '../parts/Segmented.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { SoundTest } from '../shared/SoundTest.tsx';
import { useApp, useTablet, useTimes } from '../shared/session-context.ts';
import { soundMemory } from '../shared/sound-memory.ts';
import type { SettingsPartProps } from './settings-part.ts';

const VOLUME_STEP = 0.1;

/** Volume, the test, and spoken words. */
export function ClinicSound({ settings, onChange }: SettingsPartProps) {
  const sound = useApp((s) => s.tablet.sound);
  const tablet = useTablet();
  const { volume } = settings;
  const memory = soundMemory(settings, { nowMs: tablet.wallNowMs() });
  const known = soundMemoryWords(memory, useTimes());
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
        <p className="clinic-state">
          <StateMark shape={memory.state === 'fresh' ? 'full' : 'empty'} />
          <span>
            {known.words}
            {known.advice !== null && <span className="clinic-quiet"> {known.advice}</span>}
          </span>
        </p>
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
