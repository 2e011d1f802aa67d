import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { Problem } from '../../../base/problem.ts';
import type { Result } from '../../../base/result.ts';
import { casesWithLot } from '../../../runtime/cases/cases-list-facts.ts';
import { lastDayOf } from '../../../runtime/stock/last-day.ts';
import type { OpenedEntry } from '../../../runtime/stock/stock.ts';
import type { Material } from '../../../runtime/stock/stock-types.ts';
import type { Times } from '../../../words/date-words.ts';
import { stockProblemWords, stockWords } from '../../../words/material-stock-words.ts';
import { materialWarningWords } from '../../../words/material-warning-words.ts';
import { recallWords } from '../../../words/recall-words.ts';
import { Banner, EmptyState } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { type Fact, Facts } from '../../parts/Facts.tsx';
import { Section } from '../../parts/Page.tsx';
import { StateMark } from '../../parts/StateMark.tsx';
import { differingWords } from '../../shared/differing-model.ts';
import { Frame } from '../../shared/Frame.tsx';
import { useCasesList, useStock } from '../../shared/materials-hooks.ts';
import { callsPlace, RECALLS, stockRow } from '../../shared/materials-model.ts';
import { useApp, useSession, useTimes } from '../../shared/session-context.ts';
import { MaterialsForm } from './MaterialsForm.tsx';
import { MaterialsHistory } from './MaterialsHistory.tsx';
import { MaterialsRecall } from './MaterialsRecall.tsx';
import { SheetOfBox } from './SheetOfBox.tsx';
import { StockWho } from './StockWho.tsx';
import '../../shared/materials.css';

/** One lot: its entry, what speaks against it, and the cases that used it. */
export function MaterialsDetail({ id }: { readonly id: string }) {
  const material = useStock((s) => s.materials.find((m) => m.id === id));
  const isRead = useStock((s) => s.isRead);
  if (material === undefined) {
    return (
      <Frame place="materials" title={stockWords.title}>
        {isRead && (
          <EmptyState
            words={stockWords.missing}
            action={
              <Link className="lw-way" href="/materials">
                {stockWords.back}
              </Link>
            }
          />
        )}
      </Frame>
    );
  }
  return <Lot material={material} />;
}

function Lot({ material }: { readonly material: Material }) {
  const times = useTimes();
  const row = stockRow(material, Date.now(), times);
  const [lost, setLost] = useState<string | null>(null);
  return (
    <Frame
      place="materials"
      title={material.label}
      lede={material.materialClass}
      actions={
        <Link className="lw-way" href="/materials">
          {stockWords.back}
        </Link>
      }
    >
      {lost !== null && <Banner tone="attention" words={stockWords.notSaved} advice={lost} />}
      <p className="stock-state stock-verdict" data-mark={row.mark}>
        <StateMark shape={row.mark} />
        <span>{materialWarningWords.all([row.words, ...row.more])}</span>
      </p>
      <StockWho />
      <Actions material={material} onLost={setLost} />
      <div className="stock-lot">
        <Section title={stockWords.entry}>
          <Differs id={material.id} />
          <Facts facts={factsOf(material, times)} />
          {material.deviceIdentifier !== undefined && (
            <SheetOfBox deviceIdentifier={material.deviceIdentifier} />
          )}
          <p className="lw-quiet">{stockWords.govern}</p>
          <Remove material={material} onLost={setLost} />
        </Section>
        <MaterialsHistory id={material.id} />
        <LotCases lot={material.lot} />
      </div>
    </Frame>
  );
}

/** Fields that were written on two tablets that did not know of each other. */
function Differs({ id }: { readonly id: string }) {
  const differing = useStock((s) => s.differing.get(id));
  const times = useTimes();
  if (differing === undefined) return null;
  const lines = differing.map((field) => differingWords(field, times));
  return <Banner tone="attention" words={stockWords.differing} advice={lines.join(' ')} />;
}

function factsOf(material: Material, times: Times): readonly Fact[] {
  const words = stockWords.facts;
  const { scanned, recalled, takenOutWallMs, warmUpMinutes = 0, useWithinDays } = material;
  const fact = (id: keyof typeof words, value: string | undefined, note?: string): Fact[] =>
    value === undefined || value === '' ? [] : [{ id, label: words[id], value, note }];
  const row = stockRow(material, Date.now(), times);
  const last = lastDayOf(material);
  const out =
    takenOutWallMs === undefined ? undefined : stockWords.outAt(times.moment(takenOutWallMs));
  return [
    ...fact('lot', material.lot),
    ...fact(
      'useBy',
      last === null ? undefined : row.useBy,
      last?.because === 'opened' ? stockWords.useByOpened : stockWords.useByLabel,
    ),
    ...fact('expiry', material.expiry === undefined ? stockWords.noExpiry : row.expiry),
    ...fact('opened', row.opened),
    ...fact(
      'within',
      useWithinDays === undefined ? undefined : stockWords.withinDays(useWithinDays),
    ),
    ...fact('fridge', material.refrigerated ? stockWords.refrigerated : stockWords.room, out),
    ...fact('warm', material.refrigerated ? stockWords.warmUp(warmUpMinutes) : undefined),
    ...fact('device', material.deviceIdentifier),
    ...fact('serial', material.serial),
    ...fact('entry', scanned === undefined ? stockWords.byHand : stockWords.byCode(scanned.issuer)),
    ...fact('note', material.note),
    ...fact(
      'recalled',
      recalled === undefined
        ? undefined
        : stockWords.recalled({ on: times.moment(recalled.onWallMs), reason: recalled.reason }),
    ),
  ];
}

function Actions(o: { readonly material: Material; readonly onLost: (why: string) => void }) {
  const { material } = o;
  const { stock } = useSession();
  const times = useTimes();
  const [open, setOpen] = useState<'none' | 'recall' | OpenedEntry>('none');
  const isReader = useApp((s) => s.standing !== 'writer');
  const tell = async (said: Promise<Result<null, Problem>>): Promise<void> => {
    const kept = await said;
    if (!kept.ok) o.onLost(stockProblemWords(kept.error));
  };
  const { id, recalled } = material;
  const isGone = material.goneOnWallMs !== undefined;
  const today = times.isoDay(Date.now());
  return (
    <div className="stock-actions">
      {material.refrigerated && !isGone && (
        <Button rank="main" disabled={isReader} onPress={() => void tell(stock.takenOut(id))}>
          {stockWords.takenOut}
        </Button>
      )}
      {material.openedOn === undefined && !isGone && (
        <Button disabled={isReader} onPress={() => void tell(stock.openedOn(id, today))}>
          {stockWords.openedToday}
        </Button>
      )}
      <Button disabled={isReader} onPress={() => setOpen(stock.opened(material))}>
        {stockWords.edit}
      </Button>
      {recalled === undefined ? (
        <Button disabled={isReader} onPress={() => setOpen('recall')}>
          {stockWords.recall}
        </Button>
      ) : (
        <>
          <Link className="lw-way" href={callsPlace(material.lot)}>
            {recallWords.calls}
          </Link>
          <Link className="lw-way" href={RECALLS}>
            {recallWords.toDesk}
          </Link>
        </>
      )}
      <Button
        disabled={isReader}
        onPress={() => void tell(isGone ? stock.backOnShelf(id) : stock.usedUp(id))}
      >
        {isGone ? stockWords.notUsedUp : stockWords.usedUp}
      </Button>
      {typeof open === 'object' && (
        <MaterialsForm
          isNew={false}
          before={open.before}
          isBlocked={isReader}
          code={null}
          onClose={() => setOpen('none')}
          onSave={(next) => stock.correct(open, next)}
        />
      )}
      {open === 'recall' && (
        <MaterialsRecall material={material} onClose={() => setOpen('none')} onLost={o.onLost} />
      )}
    </div>
  );
}

function Remove(o: { readonly material: Material; readonly onLost: (why: string) => void }) {
  const { stock } = useSession();
  const [, navigate] = useLocation();
  const isReader = useApp((s) => s.standing !== 'writer');
  const remove = async (): Promise<void> => {
    const kept = await stock.removeMaterial(o.material.id);
    if (kept.ok) navigate('/materials');
    else o.onLost(stockProblemWords(kept.error));
  };
  return (
    <div className="stock-remove">
      <Button rank="quiet" disabled={isReader} onPress={() => void remove()}>
        {stockWords.remove}
      </Button>
      <span className="lw-quiet">{stockWords.removeNote}</span>
    </div>
  );
}

function LotCases({ lot }: { readonly lot: string }) {
  const list = useCasesList();
  const times = useTimes();
  const uses = casesWithLot(list.facts, lot);
  return (
    <Section title={stockWords.cases}>
      {!list.isRead && <p className="lw-quiet">{stockWords.casesReading(list)}</p>}
      {list.isRead && uses.length === 0 && <p className="lw-quiet">{stockWords.noCases}</p>}
      <ul className="stock-cases">
        {uses.map(({ facts, used }) => (
          <li key={facts.caseId}>
            <Link href={`/record/${facts.caseId}`}>{facts.title}</Link>
            <span>{facts.chartRef}</span>
            <span className="lw-quiet">{times.moment(facts.openedWallMs)}</span>
            {used.length === 0 && <span className="lw-quiet">{recallWords.noted}</span>}
            {used.map((u) => (
              <span key={u.slot} className="lw-quiet">
                {stockWords.caseUse({ slot: u.slotLabel, steps: u.steps })}
              </span>
            ))}
          </li>
        ))}
      </ul>
    </Section>
  );
}
