import { emergencyWords } from '../../words/emergency-words.ts';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import type { SettingsPartProps } from './settings-part.ts';

/** What stands at the head of every emergency card. */
export function ClinicEmergency({ settings, onChange }: SettingsPartProps) {
  const { setting } = emergencyWords;
  return (
    <Section title={setting.title} lede={setting.lede}>
      <div className="clinic-fields">
        <TextField
          label={setting.number}
          hint={setting.numberHint}
          value={settings.emergencyNumber}
          onChange={(emergencyNumber) => onChange({ emergencyNumber })}
        />
        <TextField
          label={setting.protocol}
          hint={setting.protocolHint}
          lines={4}
          value={settings.emergencyProtocol}
          onChange={(emergencyProtocol) => onChange({ emergencyProtocol })}
        />
        <TextField
          label={setting.poison}
          hint={setting.poisonHint}
          value={settings.poisonNumber}
          onChange={(poisonNumber) => onChange({ poisonNumber })}
        />
      </div>
    </Section>
  );
}
