import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import { casesWithLot } from '../../../runtime/cases/cases-list-facts.ts';
import { sameLot } from '../../../runtime/stock/same-lot.ts';
import type { Material } from '../../../runtime/stock/stock-types.ts';
import type { Times } from '../../../words/date-words.ts';
import { stockProblemWords, stockWords } from '../../../words/material-stock-words.ts';
import { materialWarningWords } from '../../../words/material-warning-words.ts';
import { Banner, EmptyState } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { type Fact, Facts } from '../../parts/Facts.tsx';
import { TextField } from '../../parts/Field.tsx';
import { Section } from '../../parts/Page.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { StateMark } from '../../parts/StateMark.tsx';
import { Frame } from '../../shared/Frame.tsx';
import { useCasesList, useStock } from '../../shared/materials-hooks.ts';
import { stockRow } from '../../shared/materials-model.ts';
import { useApp, useSession, useTimes } from '../../shared/session-context.ts';
import { MaterialsForm } from './MaterialsForm.tsx';
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
            action={<Link href="/materials">{stockWords.back}</Link>}
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
      actions={<Link href="/materials">{stockWords.back}</Link>}
    >
      {lost !== null && <Banner tone="attention" words={stockWords.notSaved} advice={lost} />}
      <p className="stock-state stock-verdict" data-mark={row.mark}>
        <StateMark shape={row.mark} />
        <span>{materialWarningWords.all([row.words, ...row.more])}</span>
      </p>
      <Actions material={material} onLost={setLost} />
      <div className="stock-lot">
        <Section title={stockWords.entry}>
          <Facts facts={factsOf(material, times)} />
          <p className="lw-quiet">{stockWords.govern}</p>
          <Remove material={material} onLost={setLost} />
        </Section>
        <LotCases lot={material.lot} />
      </div>
    </Frame>
  );
}

function factsOf(material: Material, times: Times): readonly Fact[] {
  const words = stockWords.facts;
  const { scanned, recalled, takenOutWallMs, warmUpMinutes = 0, useWithinDays } = material;
  const fact = (id: keyof typeof words, value: string | undefined, note?: string): Fact[] =>
    value === undefined || value === '' ? [] : [{ id, label: words[id], value, note }];
  const row = stockRow(material, Date.now(), times);
  const out =
    takenOutWallMs === undefined ? undefined : stockWords.outAt(times.moment(takenOutWallMs));
  return [
    ...fact('lot', material.lot),
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
  const [open, setOpen] = useState<'none' | 'edit' | 'recall'>('none');
  const isReader = useApp((s) => s.standing !== 'writer');
  const save = async (next: Material): Promise<void> => {
    const kept = await stock.saveMaterial(next);
    if (!kept.ok) o.onLost(stockProblemWords(kept.error));
  };
  const { goneOnWallMs, recalled, ...rest } = material;
  const isGone = goneOnWallMs !== undefined;
  const today = times.isoDay(Date.now());
  return (
    <div className="stock-actions">
      {material.refrigerated && !isGone && (
        <Button
          rank="main"
          disabled={isReader}
          onPress={() => void save({ ...material, takenOutWallMs: Date.now() })}
        >
          {stockWords.takenOut}
        </Button>
      )}
      {material.openedOn === undefined && !isGone && (
        <Button disabled={isReader} onPress={() => void save({ ...material, openedOn: today })}>
          {stockWords.openedToday}
        </Button>
      )}
      <Button disabled={isReader} onPress={() => setOpen('edit')}>
        {stockWords.edit}
      </Button>
      <Button disabled={isReader} onPress={() => setOpen('recall')}>
        {recalled === undefined ? stockWords.recall : stockWords.recallEnd}
      </Button>
      <Button
        disabled={isReader}
        onPress={() =>
          void save({
            ...rest,
            ...(recalled === undefined ? {} : { recalled }),
            ...(isGone ? {} : { goneOnWallMs: Date.now() }),
          })
        }
      >
        {isGone ? stockWords.notUsedUp : stockWords.usedUp}
      </Button>
      {open === 'edit' && (
        <MaterialsForm
          isNew={false}
          before={material}
          isBlocked={isReader}
          code={null}
          onClose={() => setOpen('none')}
          onSave={(next) => stock.saveMaterial(next)}
        />
      )}
      {open === 'recall' && (
        <Recall material={material} onClose={() => setOpen('none')} onLost={o.onLost} />
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

/** Sets or takes away the recall mark of every entry with this lot. */
function Recall(o: {
  readonly material: Material;
  readonly onClose: () => void;
  readonly onLost: (why: string) => void;
}) {
  const { stock } = useSession();
  const all = useStock((s) => s.materials);
  const [reason, setReason] = useState('');
  const isMarked = o.material.recalled !== undefined;
  const mark = async (): Promise<void> => {
    for (const { recalled: _, ...rest } of all.filter((m) => sameLot(m.lot, o.material.lot))) {
      const recalled = { onWallMs: Date.now(), reason: reason.trim() };
      const kept = await stock.saveMaterial(isMarked ? rest : { ...rest, recalled });
      if (!kept.ok) o.onLost(stockProblemWords(kept.error));
    }
    o.onClose();
  };
  return (
    <Sheet
      open
      title={isMarked ? stockWords.recallEnd : stockWords.recall}
      onClose={o.onClose}
      foot={
        <Button
          rank="grave"
          disabled={!isMarked && reason.trim() === ''}
          onPress={() => void mark()}
        >
          {isMarked ? stockWords.recallEnd : stockWords.recallDo}
        </Button>
      }
    >
      <p>{isMarked ? stockWords.recallEndNote : stockWords.recallNote}</p>
      {!isMarked && (
        <TextField label={stockWords.recallReason} lines={2} value={reason} onChange={setReason} />
      )}
    </Sheet>
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
