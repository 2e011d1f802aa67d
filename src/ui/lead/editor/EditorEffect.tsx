import { useEffect, useState } from 'react';
import { useLocation } from 'wouter';
import type { Problem } from '../../../base/problem.ts';
import type { PlanEffect } from '../../../plan/effect.ts';
import type { CaseFile } from '../../../protocol/case-types.ts';
import { checkProtocol } from '../../../protocol/check-protocol.ts';
import { diffProtocols } from '../../../protocol/diff.ts';
import { type EditHistory, reasonedRemovals } from '../../../protocol/edit-history.ts';
import type { Protocol } from '../../../protocol/types.ts';
import { protocolHash } from '../../../runtime/lead/lead-documents.ts';
import { formatSignedSeconds, formatWords } from '../../../words/duration.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { formatPercent } from '../../../words/number.ts';
import { Button } from '../../parts/Button.tsx';
import { SelectField } from '../../parts/Field.tsx';
import { Section } from '../../parts/Page.tsx';
import { Table } from '../../parts/Table.tsx';
import { CaseNotOpened } from '../../shared/CaseNotOpened.tsx';
import { shortHash } from '../../shared/protocol-model.ts';
import { useApp, usePlanner, useSession } from '../../shared/session-context.ts';
import { ChangeList } from './ChangeList.tsx';
import { changeRow } from './editor-change-model.ts';
import type { OpenDraft } from './open-draft.ts';

const SAMPLES = 400;

/** What is compared: a draft, or what would become one. */
interface Compared extends Pick<OpenDraft, 'base' | 'protocol'> {
  readonly saved: { readonly history: EditHistory };
}

/** What the draft changes: in words, side by side, and on a prepared case. */
export function EditorEffect({ draft }: { readonly draft: Compared }) {
  const { base, protocol } = draft;
  const reasons = new Map(
    reasonedRemovals(draft.saved.history).map(({ part, id, reason }) => [`${part}/${id}`, reason]),
  );
  const compared = { before: base.protocol, after: protocol, reasons };
  const rows = diffProtocols(base.protocol, protocol).map((change) => changeRow(change, compared));
  const hash = shortHash(base.hash);
  const unconfirmed =
    base.isStart === true
      ? editorWords.differenceStart(hash)
      : editorWords.differenceTemplate(hash);
  const against = base.isConfirmed
    ? editorWords.differenceTo({ revision: base.protocol.revision, hash })
    : unconfirmed;
  return (
    <>
      <Section title={editorWords.difference} lede={against}>
        {rows.length === 0 ? (
          <p className="lw-aside">{editorWords.noDifference}</p>
        ) : (
          <ChangeList rows={rows} />
        )}
      </Section>
      <OnCases draft={draft} />
    </>
  );
}

function OnCases({ draft }: { readonly draft: Compared }) {
  const prepared = useApp((s) => s.prepared);
  const { protocol } = draft;
  const touched = prepared.filter((spec) => spec.protocol === protocol.id);
  const [chosen, setChosen] = useState(touched[0]?.id ?? '');
  const spec = touched.find((file) => file.id === chosen) ?? touched[0];
  return (
    <>
      <Section title={editorWords.effect} lede={editorWords.effectLede}>
        {spec === undefined ? (
          <p className="lw-aside">{editorWords.effectNone}</p>
        ) : (
          <>
            <SelectField
              label={editorWords.effectCase}
              value={spec.id}
              options={touched.map(({ id, title }) => ({ value: id, label: title }))}
              onChange={setChosen}
            />
            <EffectTable spec={spec} before={draft.base.protocol} after={protocol} />
            <Rehearse draft={draft} spec={spec} />
          </>
        )}
      </Section>
      <Section title={editorWords.touches} lede={editorWords.touchesLede}>
        <ul className="editor-changes" aria-label={editorWords.touches}>
          {touched.map((file) => (
            <li key={file.id}>
              {editorWords.touched({ title: file.title, chart: file.chartRef })}
            </li>
          ))}
          {touched.length === 0 && <li>{editorWords.touchesNone}</li>}
        </ul>
      </Section>
    </>
  );
}

function Rehearse({ draft, spec }: { readonly draft: Compared; readonly spec: CaseFile }) {
  const session = useSession();
  const [, navigate] = useLocation();
  const [refused, setRefused] = useState<Problem | null>(null);
  const rehearse = async (): Promise<void> => {
    const entry = {
      protocol: draft.protocol,
      hash: protocolHash(draft.protocol),
      approval: null,
      origin: 'own' as const,
    };
    const opened = await session.openCase({ spec, mode: 'rehearsal', speed: 10, draft: entry });
    if (opened.ok) navigate('/chair');
    else if ('place' in opened.error) setRefused(opened.error);
  };
  return (
    <div>
      <Button onPress={() => void rehearse()}>{editorWords.rehearse}</Button>
      {refused !== null && <CaseNotOpened why={refused} onAgain={() => void rehearse()} />}
    </div>
  );
}

interface Sides {
  readonly spec: CaseFile;
  readonly before: Protocol;
  readonly after: Protocol;
}

const hasFaults = (protocol: Protocol): boolean =>
  checkProtocol(protocol).some((finding) => finding.level === 'error');

/** Plans in the planning thread, because a large case takes a noticeable while. */
function usePlanEffect({ spec, before, after }: Sides): PlanEffect | 'busy' | 'faults' {
  const planner = usePlanner();
  const [effect, setEffect] = useState<PlanEffect | 'busy' | 'faults'>('busy');
  useEffect(() => {
    const isFaulty = hasFaults(before) || hasFaults(after);
    setEffect(isFaulty ? 'faults' : 'busy');
    if (isFaulty) return undefined;
    return planner?.compare({ spec, before, after, seed: 1, samples: SAMPLES }, setEffect);
  }, [planner, spec, before, after]);
  return effect;
}

interface EffectRow {
  readonly id: string;
  readonly what: string;
  readonly before: string;
  readonly after: string;
  readonly change: string;
}

const orNone = (ms: number | null): string => (ms === null ? '' : formatWords(ms));
/** What came up in no draw is told as rare, not as never. */
const shareWords = (share: number): string => formatPercent(share === 0 ? Number.EPSILON : share);
const orShare = (share: number | null): string => (share === null ? '' : shareWords(share));

function times(id: string, what: string, ms: { before: number | null; after: number | null }) {
  const isBoth = ms.before !== null && ms.after !== null;
  const change = isBoth ? formatSignedSeconds((ms.after ?? 0) - (ms.before ?? 0)) : '';
  return { id, what, before: orNone(ms.before), after: orNone(ms.after), change };
}

function effectRows(effect: PlanEffect): readonly EffectRow[] {
  const { chairMs, chairP90Ms, pAnyBroken, windows } = effect;
  const risky = windows.filter(({ pBroken }) => (pBroken.before ?? 0) + (pBroken.after ?? 0) > 0);
  return [
    times('chair', editorWords.chairTime, chairMs),
    times('p90', editorWords.chairP90, chairP90Ms),
    ...windows.map((w) => times(`slack ${w.id}`, editorWords.slackOf(w.title), w.slackMs)),
    {
      id: 'any',
      what: editorWords.anyBroken,
      before: shareWords(pAnyBroken.before),
      after: shareWords(pAnyBroken.after),
      change: '',
    },
    ...risky.map((w) => ({
      id: `risk ${w.id}`,
      what: editorWords.brokenOf(w.title),
      before: orShare(w.pBroken.before),
      after: orShare(w.pBroken.after),
      change: '',
    })),
  ];
}

function EffectTable(props: Sides) {
  const effect = usePlanEffect(props);
  if (effect === 'busy') return <p className="lw-aside">{editorWords.effectBusy}</p>;
  if (effect === 'faults') return <p className="lw-aside">{editorWords.effectFaults}</p>;
  return (
    <Table
      caption={editorWords.effect}
      captionUnseen
      rows={effectRows(effect)}
      rowId={(row) => row.id}
      columns={[
        { id: 'what', label: editorWords.what, heads: true, cell: (row) => row.what },
        { id: 'before', label: editorWords.before, figures: true, cell: (row) => row.before },
        { id: 'after', label: editorWords.afterwards, figures: true, cell: (row) => row.after },
        { id: 'change', label: editorWords.byHowMuch, figures: true, cell: (row) => row.change },
      ]}
    />
  );
}
