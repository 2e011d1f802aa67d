import { type CSSProperties, useState } from 'react';
import { formatDecimal, formatQuantity } from '../../words/number.ts';
import { settingWords } from '../../words/setting-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { Segmented, Stepper } from '../parts/Segmented.tsx';
import {
  ASSUMED_PX_PER_MM,
  COARSE_STEP_PX,
  FINE_STEP_PX,
  movedWidth,
  pxPerMmOf,
  widthOf,
} from './calibration-model.ts';
import type { SettingsPartProps } from './settings-part.ts';

/** An outline that people make as wide as a bank card; from it follows the size of everything. */
export function ScreenSize({ settings, onChange }: SettingsPartProps) {
  const { pxPerMm } = settings;
  const [widthPx, setWidthPx] = useState(widthOf(pxPerMm ?? ASSUMED_PX_PER_MM));
  const [step, setStep] = useState<'fine' | 'coarse'>('coarse');
  const stepPx = step === 'fine' ? FINE_STEP_PX : COARSE_STEP_PX;
  return (
    <Section title={settingWords.calibrate} lede={settingWords.calibrateLede}>
      <div className="clinic-card-room">
        <div
          className="clinic-card"
          role="img"
          aria-label={settingWords.cardName}
          style={{ '--card-width': `${widthPx}px` } as CSSProperties}
        >
          <span>{settingWords.cardHint}</span>
        </div>
      </div>
      <div className="clinic-card-controls">
        <Stepper
          label={settingWords.cardWidth}
          shown={formatQuantity({ value: widthPx, unit: 'px', digits: 0 })}
          onLess={() => setWidthPx(movedWidth(widthPx, -stepPx))}
          onMore={() => setWidthPx(movedWidth(widthPx, stepPx))}
        />
        <Segmented
          label={settingWords.cardSteps}
          labelUnseen
          value={step}
          options={[
            { value: 'coarse', label: settingWords.coarsely },
            { value: 'fine', label: settingWords.finely },
          ]}
          onChange={setStep}
        />
        <ButtonRow>
          <Button onPress={() => onChange({ pxPerMm: pxPerMmOf(widthPx) })}>
            {settingWords.cardFits}
          </Button>
          {pxPerMm !== null && (
            <Button rank="quiet" onPress={() => onChange({ pxPerMm: null })}>
              {settingWords.forgetSize}
            </Button>
          )}
        </ButtonRow>
      </div>
      <p role="status">
        {pxPerMm === null
          ? settingWords.notCalibrated
          : settingWords.calibrated(formatDecimal({ value: pxPerMm, digits: 2 }))}
      </p>
      <p className="clinic-quiet">{settingWords.calibrateSource}</p>
    </Section>
  );
}
