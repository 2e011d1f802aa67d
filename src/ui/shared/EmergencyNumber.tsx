import { useState } from 'react';
import { emergencyWords } from '../../words/emergency-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { useApp, useSession } from './session-context.ts';

/** Asks for the emergency number as long as this tablet has none; nothing waits for the answer. */
export function EmergencyNumber() {
  const session = useSession();
  const settings = useApp((s) => s.settings);
  const [number, setNumber] = useState('');
  const { setting } = emergencyWords;
  if (settings.emergencyNumber !== '') return null;
  const save = (): void => {
    void session.saveSettings({ ...settings, emergencyNumber: number.trim() });
  };
  return (
    <>
      <Banner tone="attention" words={setting.missing} advice={setting.missingTodo} />
      <TextField
        label={setting.number}
        hint={setting.numberHint}
        value={number}
        onChange={setNumber}
      />
      <div>
        <Button disabled={number.trim() === ''} onPress={save}>
          {setting.save}
        </Button>
      </div>
    </>
  );
}
