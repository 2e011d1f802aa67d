import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import { explainBand, explainChair } from '../../plan/explain-plan.ts';
import type { Explanation } from '../../plan/explanation.ts';
import type { FullPlan } from '../../plan/make-plan.ts';
import { PUBLISHED_VISITS } from '../../plan/published-visits.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import { unitSubject } from '../../protocol/subjects.ts';
import type { Planning } from '../../runtime/planner/planner.ts';
import { formatWords } from '../../words/duration.ts';
import { formatPercent } from '../../words/number.ts';
import {
  bandTitle,
  barWords,
  carefulWords,
  heatWords,
  planWords,
  riskWords,
  visitsWords,
} from '../../words/plan-words.ts';
import { fitLines } from '../../words/set-up-words.ts';
import type { CaseNaming } from '../../words/step-texts.ts';
import { subjectLabel } from '../../words/subject-words.ts';
import { toldProtocol } from '../../words/told-protocol.ts';
import { Banner, CautionNote } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { Disclosure, Facts } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { ExplainedNumber } from '../shared/ExplainedNumber.tsx';
import { Frame } from '../shared/Frame.tsx';
import { MaterialsShelf } from '../shared/MaterialsShelf.tsx';
import { useApp, usePlanner } from '../shared/session-context.ts';
import { PlanAlternatives } from './PlanAlternatives.tsx';
import { PlanBeside } from './PlanBeside.tsx';
import { BandRow, PlanLanes, tightestBands } from './PlanPicture.tsx';
import { useOwnPaces } from './use-own-paces.ts';
import './plan.css';

const NOTHING: Planning = { plan: null, alternatives: [], left: null, failed: null };

/** The plan of a prepared case: a picture, the risk, other ways, and how each number came about. */
export function Plan({ id }: { readonly id: string }) {
  const prepared = useApp((s) => s.prepared.find((c) => c.id === id));
  const spec = useOwnPaces(prepared);
  const entry = useApp((s) => s.protocols.find((p) => p.protocol.id === prepared?.protocol));
  if (!prepared)
    return (
      <Frame place="today" title={planWords.title} lede={planWords.noCase}>
        {null}
      </Frame>
    );
  if (!entry) {
    return (
      <Frame place="today" title={planWords.title} lede={planWords.noProtocol}>
        {null}
      </Frame>
    );
  }
  if (!spec) {
    return (
      <Frame place="today" title={planWords.title} lede={planWords.working}>
        {null}
      </Frame>
    );
  }
  return <PlanOf key={id} naming={{ spec, protocol: toldProtocol(entry.protocol) }} />;
}

interface Shown {
  readonly of: CaseFile;
  readonly planning: Planning;
}

/**
 * Plans the case. `planning` is how far that is; `shown` is the last plan that was finished, so that
 * the page stays where it is while another way is worked out.
 */
function usePlanning(naming: CaseNaming, run: number) {
  const planner = usePlanner();
  const [planning, setPlanning] = useState(NOTHING);
  const [done, setDone] = useState<Shown | null>(null);
  const [cancel, setCancel] = useState<() => void>(() => () => undefined);
  const [isCancelled, setCancelled] = useState(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new run starts the same plan again.
  useEffect(() => {
    setPlanning(NOTHING);
    setCancelled(false);
    const stop =
      planner?.plan(naming, (next) => {
        setPlanning(next);
        if (next.left === 0) setDone({ of: naming.spec, planning: next });
      }) ?? (() => undefined);
    setCancel(() => () => {
      stop();
      setCancelled(true);
    });
    return stop;
  }, [planner, naming.spec, naming.protocol, run]);
  const isWorking = planning.left !== 0 && planning.failed === null && !isCancelled;
  // A finished plan of what the case was before must not stay where nothing will take its place.
  const keepsOld = done !== null && (isWorking || (isCancelled && done.of === naming.spec));
  const shown = keepsOld ? done.planning : planning;
  return { planning, shown, cancel, isCancelled, isWorking };
}

function PlanOf({ naming }: { readonly naming: CaseNaming }) {
  const [run, setRun] = useState(0);
  const { planning, shown, cancel, isCancelled, isWorking } = usePlanning(naming, run);
  const { failed } = planning;
  const { plan } = shown;
  return (
    <Frame
      place="today"
      title={naming.spec.title}
      lede={naming.spec.chartRef}
      actions={
        isWorking ? (
          <Button onPress={cancel}>{planWords.cancel}</Button>
        ) : (
          <Button onPress={() => setRun(run + 1)}>{planWords.again}</Button>
        )
      }
    >
      {failed !== null && <Banner tone="broken" words={planWords.failed} advice={failed} />}
      {isCancelled && <Banner tone="plain" words={planWords.cancelled} />}
      {plan === null && isWorking && <Banner tone="plain" words={planWords.working} />}
      {plan !== null && <PlanBody plan={plan} naming={naming} planning={planning} shown={shown} />}
      <MaterialsShelf protocol={naming.protocol} scheduledFor={naming.spec.scheduledFor} />
      <p>
        <Link href="/">{planWords.backToToday}</Link>
      </p>
    </Frame>
  );
}

function PlanBody(o: {
  readonly plan: FullPlan;
  readonly naming: CaseNaming;
  readonly planning: Planning;
  readonly shown: Planning;
}) {
  const { plan, naming } = o;
  const { timeline, risk } = plan;
  const scale = { startMs: timeline.startMs, endMs: timeline.endMs };
  return (
    <>
      <Facts
        size="large"
        facts={[
          { id: 'p50', label: planWords.chairTime, value: formatWords(risk.chair.p50Ms) },
          { id: 'p90', label: planWords.chairP90, value: formatWords(risk.chair.p90Ms) },
          {
            id: 'risk',
            label: planWords.risk,
            value: riskWords({ share: risk.pAnyBroken, runs: risk.options.samples }),
          },
        ]}
      />
      <Disclosure summary={planWords.drawn}>{numbered(explainChair(risk), naming)}</Disclosure>
      <CautionNote>{planWords.caution}</CautionNote>
      {fitLines(plan.findings, naming.spec).map((line) => (
        <CautionNote key={line}>{line}</CautionNote>
      ))}
      <CautionNote source={visitSources()}>
        <strong>{planWords.visitsTitle}</strong> {visitsWords(naming.spec.units.length)}
      </CautionNote>
      <HeatNote plan={plan} naming={naming} />
      <CarefulPart plan={plan} naming={naming} />
      <Section title={planWords.lanes}>
        <PlanLanes timeline={timeline} naming={naming} scale={scale} />
      </Section>
      <PlanBeside plan={plan} naming={naming} />
      <Section title={planWords.windows}>
        <Bands plan={plan} naming={naming} />
      </Section>
      <Section
        title={planWords.alternatives}
        lede={
          o.planning.left === 0 || o.planning.left === null
            ? planWords.alternativesDone
            : planWords.alternativesLeft(o.planning.left)
        }
      >
        <PlanAlternatives planning={o.shown} naming={naming} />
        <Disclosure summary={planWords.compared}>
          {numbered(explainChair(risk).slice(-1), naming)}
        </Disclosure>
      </Section>
      <Section title={planWords.numbers}>
        <Numbers plan={plan} naming={naming} />
      </Section>
    </>
  );
}

/** Each paper once. */
const visitSources = (): string =>
  [...new Set(PUBLISHED_VISITS.map(({ source }) => source))].join('; ');

/** How rounds and portions were decided; nothing where people chose them all. */
function CarefulPart({ plan, naming }: { readonly plan: FullPlan; readonly naming: CaseNaming }) {
  const lines = carefulWords(plan.careful, naming);
  if (lines.length === 0) return null;
  const lede = planWords.carefulLede(formatPercent(plan.careful.riskMax));
  return (
    <Section title={planWords.carefulTitle} lede={lede}>
      <ul className="plan-careful">
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </Section>
  );
}

/** Units whose planned light reaches the marker by some published figure, the graver ones first. */
function HeatNote({ plan, naming }: { readonly plan: FullPlan; readonly naming: CaseNaming }) {
  const notes = (['above-marker', 'within-uncertainty'] as const).flatMap((level) => {
    const found = plan.heat.filter((h) => h.level === level);
    const units = found.map((h) => subjectLabel(h.subject, naming.spec));
    return units.length === 0 ? [] : [{ level, words: heatWords(level, units) }];
  });
  return notes.map(({ level, words }) => (
    <CautionNote key={level} source={planWords.heatSource}>
      <strong>{planWords.heat}</strong> {words}
    </CautionNote>
  ));
}

function Bands({ plan, naming }: { readonly plan: FullPlan; readonly naming: CaseNaming }) {
  const [openId, setOpenId] = useState<string | null>(null);
  const bars = new Map(plan.timeline.bars.map((b) => [b.id, b]));
  return (
    <div className="plan-bands">
      {tightestBands(plan.timeline).map((band) => (
        <div key={band.id}>
          <BandRow
            band={band}
            risk={plan.risk.bands.find((r) => r.id === band.id)}
            runs={plan.risk.options.samples}
            title={bandTitle(band.of, naming)}
            isOpen={openId === band.id}
            onToggle={() => setOpenId(openId === band.id ? null : band.id)}
          />
          {openId === band.id && (
            <div className="plan-held">
              {!band.canBeKept && <p>{planWords.cannotBeKept}</p>}
              <p>{planWords.heldBy}</p>
              <ol>
                {band.heldBy.flatMap((id) => {
                  const bar = bars.get(id);
                  if (!bar) return [];
                  const span = formatWords(bar.endMs - bar.startMs);
                  return [
                    <li key={id}>{planWords.held({ work: barWords(bar, naming), span })}</li>,
                  ];
                })}
              </ol>
              {numbered(
                explainBand(
                  band,
                  plan.risk.bands.find((r) => r.id === band.id),
                  plan.risk.options,
                ),
                naming,
              )}
            </div>
          )}
        </div>
      ))}
    </div>
  );
}

/** The explanations of the whole case first, then those of each unit behind one line. */
function Numbers({ plan, naming }: { readonly plan: FullPlan; readonly naming: CaseNaming }) {
  const unitOf = (e: Explanation): string | null => {
    const parts = e.id
      .split('/')
      .slice(1)
      .map((part) => part.replace(/^tooth:/, ''));
    const own = naming.spec.units.find((u) => parts.includes(u.id));
    const bears = own ?? naming.spec.units.find((u) => u.teeth.some((t) => parts.includes(t)));
    return bears?.id ?? null;
  };
  const shared = plan.explanations.filter((e) => unitOf(e) === null && !e.id.startsWith('chair/'));
  return (
    <div className="plan-numbers">
      {numbered(shared, naming)}
      {naming.spec.units.map((unit) => (
        <Disclosure
          key={unit.id}
          summary={planWords.unitNumbers(subjectLabel(unitSubject(unit.id), naming.spec))}
        >
          {numbered(
            plan.explanations.filter((e) => unitOf(e) === unit.id),
            naming,
          )}
        </Disclosure>
      ))}
    </div>
  );
}

/** One share of light serves several surfaces and is explained once. */
function numbered(list: readonly Explanation[], naming: CaseNaming) {
  const once = new Map(list.map((e) => [`${e.id} ${e.formula}`, e]));
  return [...once].map(([key, e]) => <ExplainedNumber key={key} e={e} naming={naming} />);
}
