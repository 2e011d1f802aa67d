import { formatPercent } from '../../words/number.ts';
import { setUpWords } from '../../words/set-up-words.ts';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { SetUpAnaesthesia } from './SetUpAnaesthesia.tsx';
import type { DraftPartProps } from './set-up-drafts.ts';
import { baselineShare } from './set-up-model.ts';

/** The room and the curing light as the clinic measured them. */
export function SetUpRoom({ draft, change, problemAt }: DraftPartProps) {
  const share = baselineShare(draft);
  return (
    <Section title={setUpWords.room}>
      <div className="set-up-fields">
        <TextField
          label={setUpWords.temperature}
          unit="°C"
          width="short"
          inputMode="decimal"
          value={draft.temperature}
          onChange={(temperature) => change({ ...draft, temperature })}
          problem={problemAt('case.room.temperatureC')}
        />
        <TextField
          label={setUpWords.lux}
          hint={setUpWords.luxHint}
          unit="lx"
          width="short"
          inputMode="numeric"
          value={draft.lux}
          onChange={(lux) => change({ ...draft, lux })}
          problem={problemAt('case.room.lux')}
        />
        <TextField
          label={setUpWords.light}
          hint={setUpWords.lightHint}
          value={draft.light}
          onChange={(light) => change({ ...draft, light })}
          problem={problemAt('case.light.label')}
        />
        <TextField
          label={setUpWords.tip}
          unit="mm"
          width="short"
          inputMode="decimal"
          value={draft.tip}
          onChange={(tip) => change({ ...draft, tip })}
          problem={problemAt('case.light.tipDiameterMm')}
        />
        <TextField
          label={setUpWords.irradiance}
          unit="mW/cm²"
          width="short"
          inputMode="numeric"
          readBack={share === null ? undefined : setUpWords.ofBaseline(formatPercent(share))}
          value={draft.irradiance}
          onChange={(irradiance) => change({ ...draft, irradiance })}
          problem={problemAt('case.light.irradianceMwPerCm2')}
        />
        <TextField
          label={setUpWords.baseline}
          hint={setUpWords.baselineHint}
          unit="mW/cm²"
          width="short"
          inputMode="numeric"
          value={draft.baseline}
          onChange={(baseline) => change({ ...draft, baseline })}
          problem={problemAt('case.light.baselineMwPerCm2')}
        />
        <TextField
          label={setUpWords.programmes}
          hint={setUpWords.programmesHint}
          unit="s"
          value={draft.programmes}
          onChange={(programmes) => change({ ...draft, programmes })}
          problem={problemAt('case.light.programmesS')}
        />
        <TextField
          label={setUpWords.readOn}
          type="date"
          value={draft.readOn}
          onChange={(readOn) => change({ ...draft, readOn })}
          problem={problemAt('case.light.readOn')}
        />
      </div>
    </Section>
  );
}

/** What was asked and what else should be known. */
export function SetUpRemarks({ draft, change, problemAt }: DraftPartProps) {
  return (
    <Section title={setUpWords.remarks}>
      <div className="set-up-fields">
        <TextField
          label={setUpWords.allergies}
          hint={setUpWords.allergiesHint}
          lines={2}
          value={draft.allergies}
          onChange={(allergies) => change({ ...draft, allergies })}
          problem={problemAt('case.allergies')}
        />
        <SetUpAnaesthesia draft={draft} change={change} problemAt={problemAt} />
        <TextField
          label={setUpWords.note}
          lines={2}
          value={draft.note}
          onChange={(note) => change({ ...draft, note })}
          problem={problemAt('case.note')}
        />
      </div>
    </Section>
  );
}
