import { absoluteUri, procedureCodes } from '../../export/export-clinic.ts';
import { dayHours } from '../../export/opening-hours.ts';
import type { Settings } from '../../runtime/app-state.ts';
import { filingWords } from '../../words/filing-words.ts';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Check } from '../parts/Segmented.tsx';
import { useApp } from '../shared/session-context.ts';
import type { SettingsPartProps } from './settings-part.ts';

const uriProblem = (text: string): string | undefined =>
  text.trim() === '' || absoluteUri(text) !== null ? undefined : filingWords.noUri;

function codesProblem({ procedureCodes: text }: Settings): string | undefined {
  const read = procedureCodes(text);
  return typeof read === 'number' ? filingWords.badLine(read) : undefined;
}

function systemProblem({ procedureSystem, procedureCodes: codes }: Settings): string | undefined {
  if (procedureSystem.trim() === '' && codes.trim() !== '') return filingWords.noSystem;
  return uriProblem(procedureSystem);
}

/** What the files that are handed on say of this clinic. */
export function ClinicFiles({ settings, onChange }: SettingsPartProps) {
  const protocols = useApp((s) => s.protocols);
  const kinds = [...new Set(protocols.flatMap(({ protocol }) => protocol.restorations))];
  return (
    <Section title={filingWords.title} lede={filingWords.lede}>
      <div className="clinic-fields">
        <TextField
          label={filingWords.chartSystem}
          hint={filingWords.chartSystemHint}
          problem={uriProblem(settings.chartSystem)}
          value={settings.chartSystem}
          onChange={(chartSystem) => onChange({ chartSystem })}
        />
        <TextField
          label={filingWords.procedureSystem}
          hint={filingWords.procedureSystemHint}
          problem={systemProblem(settings)}
          value={settings.procedureSystem}
          onChange={(procedureSystem) => onChange({ procedureSystem })}
        />
        <TextField
          label={filingWords.procedureCodes}
          hint={filingWords.procedureCodesHint(kinds.toSorted().join(', '))}
          problem={codesProblem(settings)}
          lines={4}
          value={settings.procedureCodes}
          onChange={(procedureCodes) => onChange({ procedureCodes })}
        />
        <Check
          label={filingWords.byteOrderMark}
          note={filingWords.byteOrderMarkNote}
          checked={settings.byteOrderMark}
          onChange={(byteOrderMark) => onChange({ byteOrderMark })}
        />
      </div>
    </Section>
  );
}

const FRIDAY = 4;

/** When the clinic is open, for times that a calendar offers. */
export function ClinicHours({ settings, onChange }: SettingsPartProps) {
  const { days } = filingWords;
  const hours = days.map((_, i) => settings.openingHours[i] ?? '');
  const monday = hours[0] ?? '';
  return (
    <Section title={filingWords.hours} lede={filingWords.hoursLede}>
      <div className="clinic-fields">
        <p className="lw-field-hint">{filingWords.hoursHint}</p>
        <div className="clinic-hours">
          {days.map((day, i) => (
            <TextField
              key={day}
              label={day}
              problem={dayHours(hours[i] ?? '') === null ? filingWords.badHours : undefined}
              value={hours[i] ?? ''}
              onChange={(text) => onChange({ openingHours: hours.with(i, text) })}
            />
          ))}
        </div>
        <div>
          <Button
            disabled={monday.trim() === '' || dayHours(monday) === null}
            onPress={() =>
              onChange({ openingHours: hours.map((own, i) => (i <= FRIDAY ? monday : own)) })
            }
          >
            {filingWords.asMonday}
          </Button>
        </div>
      </div>
    </Section>
  );
}
