import { useState } from 'react';
import { useLocation } from 'wouter';
import type { Material } from '../../runtime/stock/stock-types.ts';
import { lightWords } from '../../words/light-log-words.ts';
import { stockWords } from '../../words/material-stock-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useStock } from '../shared/materials-hooks.ts';
import { useApp, useSession } from '../shared/session-context.ts';
import { LightLog } from './lights/LightLog.tsx';
import { ScanSheet } from './scan/Scan.tsx';
import { MaterialsAhead } from './stock/MaterialsAhead.tsx';
import { MaterialsForm } from './stock/MaterialsForm.tsx';
import { MaterialsStock } from './stock/MaterialsStock.tsx';
import { fromLabel } from './stock/material-draft.ts';
import '../shared/materials.css';

type Open =
  | { readonly sheet: 'none' }
  | { readonly sheet: 'scan' }
  | { readonly sheet: 'form'; readonly from: Partial<Material>; readonly code: string | null };

/** What is on the shelf, and how the lights stand. */
export function Materials({ tab }: { readonly tab: 'stock' | 'light' }) {
  const [, navigate] = useLocation();
  const [open, setOpen] = useState<Open>({ sheet: 'none' });
  const close = () => setOpen({ sheet: 'none' });
  const isStock = tab === 'stock';
  return (
    <Frame
      place="materials"
      title={stockWords.title}
      lede={isStock ? stockWords.lede : lightWords.lede}
      actions={
        isStock && (
          <>
            <Button onPress={() => setOpen({ sheet: 'form', from: {}, code: null })}>
              {stockWords.add}
            </Button>
            <Button rank="main" onPress={() => setOpen({ sheet: 'scan' })}>
              {stockWords.scan}
            </Button>
          </>
        )
      }
    >
      <Segmented
        labelUnseen
        label={stockWords.tabs}
        value={tab}
        options={[
          { value: 'stock', label: stockWords.stock },
          { value: 'light', label: stockWords.light },
        ]}
        onChange={(next) => navigate(next === 'light' ? '/materials/light' : '/materials')}
      />
      <Damaged />
      {isStock && <MaterialsAhead />}
      {isStock ? <MaterialsStock /> : <LightLog />}
      {open.sheet === 'scan' && (
        <ScanSheet
          onClose={close}
          onTake={(scan) => setOpen({ sheet: 'form', from: fromLabel(scan), code: null })}
          onByHand={(printed) => setOpen({ sheet: 'form', from: {}, code: printed })}
        />
      )}
      {open.sheet === 'form' && <NewMaterial from={open.from} code={open.code} onClose={close} />}
    </Frame>
  );
}

function Damaged() {
  const damaged = useStock((s) => s.damaged);
  if (damaged === 0) return null;
  return <Banner tone="attention" words={stockWords.damaged(damaged)} />;
}

function NewMaterial(props: {
  readonly from: Partial<Material>;
  readonly code: string | null;
  readonly onClose: () => void;
}) {
  const session = useSession();
  const [id] = useState(() => crypto.randomUUID());
  const isReader = useApp((s) => s.standing !== 'writer');
  return (
    <MaterialsForm
      isNew
      before={{ ...props.from, id }}
      isBlocked={isReader}
      code={props.code}
      onClose={props.onClose}
      onSave={(material) => session.stock.receive(material)}
    />
  );
}
