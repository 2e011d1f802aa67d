import { lazy, useMemo, useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { Problem } from '../../../base/problem.ts';
import { holdsPen } from '../../../engine/pen.ts';
import type { Anchorage, AnchorFact } from '../../../export/anchor.ts';
import type { RecordSource } from '../../../export/export-source.ts';
import type { Session } from '../../../runtime/session.ts';
import { timesIn } from '../../../words/date-words.ts';
import { languageTag } from '../../../words/language.ts';
import { notKeptWords } from '../../../words/opening-words.ts';
import { penWords } from '../../../words/pen-words.ts';
import { recordWords } from '../../../words/record-words.ts';
import { todayWords } from '../../../words/today-words.ts';
import { toldLog } from '../../../words/told-protocol.ts';
import { Arch } from '../../parts/Arch.tsx';
import { Banner, EmptyState } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { Facts } from '../../parts/Facts.tsx';
import { Late } from '../../parts/Late.tsx';
import { Section } from '../../parts/Page.tsx';
import { BrokenChains } from '../../shared/BrokenChains.tsx';
import { CaseNotOpened } from '../../shared/CaseNotOpened.tsx';
import { Frame } from '../../shared/Frame.tsx';
import { useApp, useSession } from '../../shared/session-context.ts';
import { type Loaded, useLoaded } from '../../shared/use-loaded.ts';
import { RecordTimeline } from '../picture/RecordTimeline.tsx';
import { RecordShare } from '../share/RecordShare.tsx';
import { type CaseReading, chainWords } from './chain-model.ts';
import { RecordChain } from './RecordChain.tsx';
import { RecordExposures } from './RecordExposures.tsx';
import { RecordLateNote } from './RecordLateNote.tsx';
import { RecordMaterials } from './RecordMaterials.tsx';
import { RecordNotes } from './RecordNotes.tsx';
import { RecordSteps } from './RecordSteps.tsx';
import { RecordTablets } from './RecordTablets.tsx';
import { RecordWindows } from './RecordWindows.tsx';
import { type RecordModel, recordModel } from './record-model.ts';
import './record.css';
import './record-print.css';

const RecordDamaged = lazy(async () => ({
  default: (await import('./RecordDamaged.tsx')).RecordDamaged,
}));

const RecordAtStore = lazy(async () => ({
  default: (await import('./RecordAtStore.tsx')).RecordAtStore,
}));

const RecordFollowUp = lazy(async () => ({
  default: (await import('./RecordFollowUp.tsx')).RecordFollowUp,
}));

const NO_ENDS: NonNullable<RecordSource['secondEnds']> = [];

type Read = Awaited<ReturnType<Session['readRecord']>>;

/** Reads the case now and again whenever the journal has more of it. */
function useRecord(caseId: string): Loaded<Read> {
  const session = useSession();
  const entries = useApp((s) => s.cases.find((c) => c.caseId === caseId)?.entries ?? 0);
  return useLoaded(() => session.readRecord(caseId), [session, caseId], [entries]);
}

/** The record of one case on one page, for the screen and for paper. */
export function Record({ caseId }: { readonly caseId: string }) {
  const read = useRecord(caseId);
  if (read.state === 'loading') {
    return (
      <Frame place="record" title={recordWords.title} lede={recordWords.reading}>
        {null}
      </Frame>
    );
  }
  const found = read.value;
  if (!found?.ok) {
    return (
      <Frame place="record" title={recordWords.title}>
        <Lost caseId={caseId} />
        <AtStore caseId={caseId} />
        <EmptyState
          words={recordWords.missing}
          advice={found && notKeptWords(found.error)}
          action={<Link href="/">{todayWords.title}</Link>}
        />
      </Frame>
    );
  }
  return <RecordPage key={caseId} caseId={caseId} {...found.value} />;
}

function Lost({ caseId }: { readonly caseId: string }) {
  const isDamaged = useApp((s) => s.damage.cases.some((one) => one.caseId === caseId));
  return <Late>{isDamaged && <RecordDamaged caseId={caseId} />}</Late>;
}

function AtStore({ caseId }: { readonly caseId: string }) {
  const isSome = useApp((s) => s.sharing.storeOnly.count > 0);
  return <Late>{isSome && <RecordAtStore caseId={caseId} />}</Late>;
}

function RecordPage(props: {
  readonly caseId: string;
  readonly log: Extract<Read, { ok: true }>['value']['log'];
  readonly reading: CaseReading;
  readonly secondEnds?: RecordSource['secondEnds'];
  readonly anchor: AnchorFact | null;
  readonly anchorage?: Anchorage | null;
}) {
  const { log, reading, anchor, anchorage, secondEnds = NO_ENDS } = props;
  const clinicZone = useApp((s) => s.settings.zone);
  const source = useMemo((): RecordSource => {
    const { entries, apart, verdict } = reading;
    const chain = { entries, apart, verification: verdict };
    return {
      ...{ log: toldLog(log), ...chain, clinicZone, secondEnds },
      ...(anchor === null ? {} : { anchor }),
      ...(anchorage === undefined ? {} : { anchorage }),
    };
  }, [log, reading, anchor, anchorage, clinicZone, secondEnds]);
  const model = useMemo(() => recordModel(source), [source]);
  const times = timesIn({ zone: model.record.zone.name, language: languageTag() });
  const ownId = useApp((s) => s.settings.tablet);
  const isShared = useApp((s) => s.sharing.standing !== 'alone');
  const isOnOther = isShared && !holdsPen(log.state.pen, ownId);
  return (
    <Frame
      place="record"
      title={model.title}
      lede={recordWords.lede[model.mode](model.chartRef)}
      actions={<Actions caseId={props.caseId} isClosed={model.isClosed} isOnOther={isOnOther} />}
    >
      <article className="record">
        <Lost caseId={props.caseId} />
        <BrokenChains caseId={props.caseId} />
        {model.isClosed && model.mode === 'patient' && (
          <div className="record-follow-up lw-screen-only">
            <Late>
              <RecordFollowUp caseId={props.caseId} />
            </Late>
          </div>
        )}
        <Head model={model} />
        <Breaches model={model} />
        <RecordTimeline source={source} facts={model.record} />
        <RecordMaterials lines={model.materials} />
        <RecordExposures tables={model.exposures} />
        <RecordWindows windows={model.windows} />
        <RecordSteps stages={model.stages} columns={model.columns} />
        <RecordNotes model={model} />
        <RecordTablets facts={model.record} times={times} />
        {model.isClosed && (
          <RecordLateNote caseId={props.caseId} people={model.record.people} log={log} />
        )}
        <RecordChain reading={reading} anchor={source.anchor} record={model.record} />
        <RecordShare caseId={props.caseId} source={source} />
      </article>
    </Frame>
  );
}

function Actions(o: {
  readonly caseId: string;
  readonly isClosed: boolean;
  readonly isOnOther: boolean;
}) {
  const { caseId, isClosed, isOnOther } = o;
  const session = useSession();
  const [, navigate] = useLocation();
  const [refused, setRefused] = useState<Problem | null>(null);
  const goOn = async (): Promise<void> => {
    const resumed = await session.resumeCase(caseId);
    if (resumed.ok) navigate('/chair');
    else setRefused(resumed.error);
  };
  return (
    <div className="record-actions lw-screen-only">
      {!isClosed && (
        <Button onPress={() => void goOn()}>
          {isOnOther ? penWords.lookOn : recordWords.goOn}
        </Button>
      )}
      <Button onPress={() => window.print()}>{recordWords.print}</Button>
      {refused !== null && <CaseNotOpened why={refused} onAgain={() => void goOn()} />}
    </div>
  );
}

function Head({ model }: { readonly model: RecordModel }) {
  const { isWhole } = model.record.chain;
  return (
    <>
      {!isWhole && (
        <Banner
          tone="broken"
          words={chainWords(model.record.chain)}
          advice={recordWords.chainBadWhere}
        />
      )}
      {model.mode === 'rehearsal' && (
        <Banner
          tone="attention"
          words={model.isDrill ? recordWords.drill : recordWords.rehearsal}
        />
      )}
      {!model.isClosed && <Banner tone="plain" words={recordWords.stillOpen} />}
      <div className="record-head">
        <div className="record-what">
          <h2>{recordWords.what}</h2>
          <Facts facts={model.facts} />
        </div>
        <div className="record-where">
          <h2>{recordWords.where}</h2>
          <Arch teeth={model.teeth} />
          <h3>{recordWords.units}</h3>
          <Facts facts={model.units} />
          {model.mixes.length > 0 && (
            <>
              <h3>{recordWords.portions}</h3>
              <Facts facts={model.mixes} />
            </>
          )}
        </div>
      </div>
    </>
  );
}

function Breaches({ model }: { readonly model: RecordModel }) {
  const broken = model.breaches.filter(({ perhaps }) => !perhaps);
  const perhaps = model.breaches.filter((breach) => breach.perhaps);
  return (
    <>
      {broken.length + perhaps.length === 0 && (
        <Section title={recordWords.breaches}>
          <p>{recordWords.noBreaches}</p>
        </Section>
      )}
      {broken.length > 0 && (
        <Section title={recordWords.breaches}>
          <BreachList breaches={broken} />
        </Section>
      )}
      {perhaps.length > 0 && (
        <Section title={recordWords.mayBeBroken} lede={recordWords.mayBeBrokenLede}>
          <BreachList breaches={perhaps} />
        </Section>
      )}
    </>
  );
}

function BreachList({ breaches }: Pick<RecordModel, 'breaches'>) {
  return (
    <ul className="record-breaches">
      {breaches.map((breach) => (
        <li key={breach.id} data-perhaps={breach.perhaps}>
          <span>
            {breach.words}
            {breach.said !== undefined && <span className="record-note">{breach.said}</span>}
          </span>
          <span className="record-moment">{breach.at}</span>
        </li>
      ))}
    </ul>
  );
}
