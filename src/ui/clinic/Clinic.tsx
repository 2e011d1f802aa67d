import { useState } from 'react';
import type { Settings } from '../../runtime/app-state.ts';
import { formatQuantity } from '../../words/number.ts';
import { settingWords } from '../../words/setting-words.ts';
import { Banner, CautionNote } from '../parts/Banner.tsx';
import { Facts } from '../parts/Facts.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Check, Segmented, Stepper } from '../parts/Segmented.tsx';
import { choicesOf, NOTATIONS } from '../shared/choices.ts';
import { Frame } from '../shared/Frame.tsx';
import { useApp, useSession } from '../shared/session-context.ts';
import { ZoneNotice } from '../shared/ZoneNotice.tsx';
import { ClinicAmber } from './ClinicAmber.tsx';
import { ClinicEmergency } from './ClinicEmergency.tsx';
import { ClinicFiles, ClinicHours } from './ClinicFiles.tsx';
import { ClinicHelp } from './ClinicHelp.tsx';
import { ClinicKeys } from './ClinicKeys.tsx';
import { ClinicPeople } from './ClinicPeople.tsx';
import { ClinicReading } from './ClinicReading.tsx';
import { ClinicSound } from './ClinicSound.tsx';
import { ClinicStorage } from './ClinicStorage.tsx';
import { ClinicTablets } from './ClinicTablets.tsx';
import { ClinicZone } from './ClinicZone.tsx';
import { ScreenSize } from './ScreenSize.tsx';
import type { SettingsPartProps } from './settings-part.ts';
import './clinic.css';

const THEMES = ['auto', 'light', 'dark'] as const;

const DISTANCE_STEP_M = 0.25;
const DISTANCE_M_MIN = 0.5;
const DISTANCE_M_MAX = 4;

/** How this tablet looks, sounds and keeps what it is told. */
export function Clinic() {
  const session = useSession();
  const settings = useApp((s) => s.settings);
  const [isLost, setLost] = useState(false);
  const change = (part: Partial<Settings>): void => {
    // What was changed since this was drawn stays changed.
    const now = session.store.getState().settings;
    void session.saveSettings({ ...now, ...part }).then((kept) => setLost(!kept.ok));
  };
  const props = { settings, onChange: change };
  return (
    <Frame place="clinic" title={settingWords.title} lede={settingWords.lede}>
      {isLost && (
        <Banner tone="attention" words={settingWords.notKept} advice={settingWords.notKeptTodo} />
      )}
      <ZoneNotice />
      <div className="clinic">
        <Who {...props} />
        <ClinicPeople />
        <ClinicTablets />
        <ClinicEmergency {...props} />
        <ClinicSound {...props} />
        <Look {...props} />
        <ScreenSize {...props} />
        <ClinicReading settings={settings} />
        <Pedal {...props} />
        <ClinicFiles {...props} />
        <ClinicHours {...props} />
        <ClinicStorage />
        <ClinicHelp />
      </div>
      <Section title={settingWords.cautions}>
        <div className="clinic-cautions">
          {settingWords.cautionLines.map((line) => (
            <CautionNote key={line}>{line}</CautionNote>
          ))}
        </div>
      </Section>
    </Frame>
  );
}

function Who({ settings, onChange }: SettingsPartProps) {
  return (
    <Section title={settingWords.who}>
      <div className="clinic-fields">
        <TextField
          label={settingWords.clinic}
          hint={settingWords.clinicHint}
          value={settings.clinic}
          onChange={(clinic) => onChange({ clinic })}
        />
        <ClinicZone settings={settings} onChange={onChange} />
        <Segmented
          label={settingWords.notation}
          value={settings.notation}
          options={choicesOf(NOTATIONS, settingWords.notations)}
          onChange={(notation) => onChange({ notation })}
        />
      </div>
    </Section>
  );
}

function Look({ settings, onChange }: SettingsPartProps) {
  const { distanceM } = settings;
  const move = (byM: number): void => {
    const next = Math.min(DISTANCE_M_MAX, Math.max(DISTANCE_M_MIN, distanceM + byM));
    onChange({ distanceM: next });
  };
  return (
    <Section title={settingWords.screen}>
      <div className="clinic-fields">
        <Segmented
          label={settingWords.theme}
          value={settings.theme}
          options={choicesOf(THEMES, settingWords.themes)}
          onChange={(theme) => onChange({ theme })}
        />
        <Check
          label={settingWords.amber}
          note={settingWords.amberNote}
          checked={settings.amber}
          onChange={(amber) => onChange({ amber })}
        />
        <ClinicAmber />
        <Check
          label={settingWords.leftHanded}
          note={settingWords.leftHandedNote}
          checked={settings.leftHanded}
          onChange={(leftHanded) => onChange({ leftHanded })}
        />
        <Stepper
          label={settingWords.distance}
          hint={settingWords.distanceHint}
          shown={formatQuantity({ value: distanceM, unit: 'm', digits: 2 })}
          atLeast={distanceM <= DISTANCE_M_MIN}
          atMost={distanceM >= DISTANCE_M_MAX}
          onLess={() => move(-DISTANCE_STEP_M)}
          onMore={() => move(DISTANCE_STEP_M)}
        />
      </div>
    </Section>
  );
}

function Pedal(props: SettingsPartProps) {
  return (
    <Section title={settingWords.pedal} lede={settingWords.pedalLede}>
      <Facts
        facts={[
          {
            id: 'press',
            label: settingWords.pedalDo,
            value: settingWords.pedalKeys,
            note: settingWords.pedalNote,
          },
          { id: 'undo', label: settingWords.undoDo, value: settingWords.undoKeys },
        ]}
      />
      <ClinicKeys {...props} />
    </Section>
  );
}
