import {
  oneDigit,
  outcomeWords,
  shareWords,
  twoDigits,
  whenWords,
  yearsWords,
} from '../../words/outcome-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { FollowUpExport } from '../shared/FollowUpExport.tsx';
import { OutcomesCases } from './OutcomesCases.tsx';
import { OutcomesCurve } from './OutcomesCurve.tsx';
import { CompetingTable, SpreadTable, YearsTable } from './OutcomesTable.tsx';
import { type PartProps, titled } from './part-props.ts';

/** Counts, or the curve and its table; rates by both customs; how completely it was followed. */
export function OutcomesYears({ model, isExample }: PartProps) {
  const { counts, curve, endPoint, rows, limits } = model;
  const title = titled(outcomeWords.curveTitle[endPoint], isExample);
  const titleFor = (name: string): string =>
    titled(
      outcomeWords.titleOf({ title: name, endPoint: outcomeWords.endPoints[endPoint] }),
      isExample,
    );
  const hasCompeting = rows.some(({ incidence }) => incidence !== null);
  return (
    <>
      {counts.lives > 0 && <Completeness {...{ model }} />}
      {curve === null ? (
        <Section title={title} lede={outcomeWords.small(counts.seen)}>
          {limits !== null && (
            <p className="outcomes-big">
              {outcomeWords.smallShare({
                failures: counts.failures,
                seen: counts.seen,
                low: shareWords(limits.low),
                high: shareWords(limits.high),
              })}
            </p>
          )}
          {counts.lives > 0 && (
            <p>
              {outcomeWords.smallExtremes({
                failures: counts.failures,
                ifAll: counts.failures + counts.notKnown,
                lives: counts.lives,
              })}
            </p>
          )}
          <OutcomesCases cases={model.cases} isExample={isExample} />
        </Section>
      ) : (
        <>
          <Section title={title} lede={outcomeWords.pictureHint}>
            {curve.hasFewPatients && <p>{outcomeWords.fewPatients(counts.patientsWithFailure)}</p>}
            {curve.fewAt !== null && (
              <Banner
                tone="attention"
                words={outcomeWords.fewAt({
                  when: whenWords(curve.fewAt.day),
                  atRisk: curve.fewAt.atRisk,
                })}
              />
            )}
            <OutcomesCurve key={endPoint} title={title} curve={curve} isExample={isExample} />
            <Disclosure summary={outcomeWords.casesOf(model.cases.length)}>
              <OutcomesCases cases={model.cases} isExample={isExample} />
            </Disclosure>
          </Section>
          <Section
            title={titleFor(outcomeWords.tableTitle)}
            lede={outcomeWords.curveTitle[endPoint]}
          >
            <YearsTable rows={rows} hasPatients={curve.hasFewPatients} />
            {counts.hasSeveral && <p className="lw-aside">{outcomeWords.several}</p>}
          </Section>
        </>
      )}
      <Rates model={model} title={titleFor(outcomeWords.ratesTitle)} />
      {curve !== null && (
        <Section title={titleFor(outcomeWords.followedTitle)} lede={outcomeWords.extremes}>
          <Followed model={model} />
          <SpreadTable rows={rows} />
          <p className="lw-aside">{outcomeWords.datingNote}</p>
          {model.followed.wantsCheck && (
            <p className="lw-aside">
              {outcomeWords.checkNote({ wide: model.followed.wide, of: model.followed.failures })}
            </p>
          )}
        </Section>
      )}
      {hasCompeting && (
        <Section title={titleFor(outcomeWords.competingTitle)} lede={outcomeWords.competingNote}>
          <CompetingTable rows={rows} />
        </Section>
      )}
      {!isExample && counts.lives > 0 && <FollowUpExport />}
    </>
  );
}

function Completeness({ model }: Pick<PartProps, 'model'>) {
  const { says, completeness } = model.followed;
  if (completeness === null || says === 'complete') return null;
  const share = shareWords(completeness);
  return (
    <Banner
      tone="attention"
      words={
        says === 'no-comparison'
          ? outcomeWords.tooIncomplete(share)
          : outcomeWords.incomplete(share)
      }
      advice={model.counts.notKnown > 0 ? outcomeWords.recallThem : undefined}
    />
  );
}

function Rates({ model, title }: Pick<PartProps, 'model'> & { readonly title: string }) {
  const { rate, rows, counts } = model;
  return (
    <Section title={title} lede={outcomeWords.ratesNote}>
      <ul className="outcomes-lines">
        {rows.flatMap(({ years, compound }) =>
          compound === null
            ? []
            : [
                <li key={years}>
                  {outcomeWords.rateCurve({
                    years: outcomeWords.years(years),
                    rate: shareWords(compound.compound),
                    plain: shareWords(compound.simpleDivision),
                  })}
                </li>,
              ],
        )}
        <li>
          {rate === null
            ? outcomeWords.rateNone
            : outcomeWords.rateExposure({
                failures: counts.failures,
                unitYears: oneDigit(counts.unitYears),
                rate: twoDigits(rate.per100),
                low: twoDigits(rate.low),
                high: twoDigits(rate.high),
              })}
        </li>
      </ul>
    </Section>
  );
}

function Followed({ model }: Pick<PartProps, 'model'>) {
  const { median, medianLife, completeness } = model.followed;
  return (
    <ul className="outcomes-lines">
      <li>
        {median === null
          ? outcomeWords.followedMedianNone
          : outcomeWords.followedMedian(yearsWords(median))}
      </li>
      <li>
        {completeness === null
          ? outcomeWords.completenessNone
          : outcomeWords.completeness(shareWords(completeness))}
      </li>
      <li>
        {medianLife === null
          ? outcomeWords.medianNone
          : outcomeWords.medianLife(yearsWords(medianLife))}
      </li>
    </ul>
  );
}
