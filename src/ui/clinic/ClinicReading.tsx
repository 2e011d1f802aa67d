import { useRef } from 'react';
import type { Settings } from '../../runtime/app-state.ts';
import { formatQuantity } from '../../words/number.ts';
import { ChairClock } from '../parts/ChairClock.tsx';
import { Facts } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import '../parts/step.css';
import { sizeWords } from '../../words/size-words.ts';
import { tooFarFor, wantedMm } from '../shared/size-model.ts';
import { useChairSizes } from '../shared/use-chair-sizes.ts';

const SAMPLE = {
  kind: 'dwell',
  elapsedLoMs: 12_000,
  elapsedHiMs: 12_000,
  floorMs: 15_000,
  targetMs: 20_000,
  rimMs: 30_000,
} as const;

const mm = (value: number): string => formatQuantity({ value, unit: 'mm', digits: 1 });
const metres = (value: number, digits: number): string =>
  formatQuantity({ value, unit: 'm', digits });

/** Seconds and step as they stand in the chair, and whether they can be read from the distance. */
export function ClinicReading({ settings }: { readonly settings: Settings }) {
  const sample = useRef<HTMLDivElement>(null);
  const { distanceM, pxPerMm } = settings;
  const sizes = useChairSizes(sample, `${distanceM} ${pxPerMm}`);
  const nearM = tooFarFor(sizes, distanceM);
  const wanted = wantedMm(distanceM);
  const fact = (id: string, label: string, o: { is: number | null; wanted: number }) =>
    o.is === null
      ? []
      : [{ id, label, value: sizeWords.heights({ is: mm(o.is), wanted: mm(o.wanted) }) }];
  return (
    <Section title={sizeWords.sample} lede={sizeWords.sampleLede}>
      <div className="clinic-sample" ref={sample} role="img" aria-label={sizeWords.sample}>
        {/* No heading: the page has its own. */}
        <div className="lw-step">
          <p className="lw-step-line">
            {sizeWords.sampleStep}{' '}
            <span className="lw-step-subject">{sizeWords.sampleSubject}</span>
          </p>
        </div>
        <ChairClock label={sizeWords.sampleLabel} {...SAMPLE} />
      </div>
      <p className="clinic-state" role="status">
        <StateMark shape={nearM === null ? 'full' : 'broken'} />
        {nearM === null
          ? sizeWords.bigEnough(metres(distanceM, 2))
          : sizeWords.tooSmall({ distance: metres(distanceM, 2), near: metres(nearM, 1) })}
      </p>
      <Facts
        facts={[
          ...fact('seconds', sizeWords.seconds, { is: sizes.secondsMm, wanted: wanted.seconds }),
          ...fact('step', sizeWords.step, { is: sizes.stepMm, wanted: wanted.step }),
        ]}
      />
      <p className="clinic-quiet">{sizeWords.source}</p>
    </Section>
  );
}
