import { useMemo, useState } from 'react';
import type { SheetChange } from '../../../protocol/sheet-changes.ts';
import type { ProtocolEntry } from '../../../runtime/app-state.ts';
import { type SheetEffect, withChanges } from '../../../runtime/lead/sheet-take-over.ts';
import { basisWords } from '../../../words/basis-words.ts';
import { figureLabel } from '../../../words/figure-words.ts';
import { leadProblemWords } from '../../../words/lead-words.ts';
import { sheetWords } from '../../../words/product-sheet-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { Disclosure } from '../../parts/Facts.tsx';
import { Section } from '../../parts/Page.tsx';
import { Check } from '../../parts/Segmented.tsx';
import { EditorEffect } from '../editor/EditorEffect.tsx';
import { shownValue } from '../editor/editor-model.ts';
import { useLead } from '../use-lead.ts';
import '../editor/editor.css';

interface ProtocolProps {
  readonly effect: SheetEffect;
  /** Those that are ticked. */
  readonly chosen: readonly SheetChange[];
  readonly entry: ProtocolEntry | undefined;
  readonly onTick: (changes: readonly SheetChange[], isOn: boolean) => void;
}

/** What a sheet would change in one protocol, before and after, and who has to confirm it. */
export function SheetProtocol(props: ProtocolProps) {
  const { effect, chosen, entry } = props;
  const keeper = useLead((s) => s.keeper) ?? '';
  const changed = effect.changes.filter(({ isNumberChanged }) => isNumberChanged);
  const same = effect.changes.filter(({ isNumberChanged }) => !isNumberChanged);
  const confirmers = new Set(
    effect.changes.flatMap(({ before }) =>
      before?.basis.kind === 'instructions' ? [before.basis.confirmedBy] : [],
    ),
  );
  const approved = entry?.approval ?? null;
  if (approved !== null) confirmers.add(approved.by);
  return (
    <Section
      title={effect.inForce.title}
      lede={sheetWords.who({ keeper, before: [...confirmers] })}
    >
      {effect.draft !== null && <p className="lw-aside">{sheetWords.intoDraft}</p>}
      <Ticks {...props} changes={changed} />
      {same.length > 0 && (
        <Disclosure summary={sheetWords.onlyDocument(same.length)}>
          <Ticks {...props} changes={same} />
        </Disclosure>
      )}
      <OnCases effect={effect} chosen={chosen} isConfirmed={approved !== null} />
    </Section>
  );
}

function changeWords({ title, spot, before, after, isNumberChanged }: SheetChange): string {
  const label = figureLabel(spot.key);
  const shown = shownValue(spot.key, after.value);
  if (!isNumberChanged) return sheetWords.unchanged({ title, label, shown });
  const was = before === null ? sheetWords.noNumber : shownValue(spot.key, before.value);
  return sheetWords.changed({ title, label, before: was, after: shown });
}

function Ticks(props: ProtocolProps & { readonly changes: readonly SheetChange[] }) {
  const { effect, chosen, changes, onTick } = props;
  return changes.map((change) => {
    const { line, spot, before } = change;
    const { asWritten, page = '' } = line;
    return (
      <Check
        key={`${line.id} ${spot.id} ${spot.key}`}
        label={changeWords(change)}
        note={
          <>
            <span className="sheet-note">{sheetWords.quoted({ words: asWritten, page })}</span>
            {change.clashes && <span className="sheet-note">{sheetWords.clash}</span>}
            {before !== null && (
              <span className="sheet-note">
                {sheetWords.governed(basisWords(before.basis, effect.inForce.sources).line)}
              </span>
            )}
          </>
        }
        checked={chosen.includes(change)}
        onChange={(isOn) => onTick([change], isOn)}
      />
    );
  });
}

/** The difference and the cases, as the editor shows them; worked out when it is asked for. */
function OnCases(props: {
  readonly effect: SheetEffect;
  readonly chosen: readonly SheetChange[];
  readonly isConfirmed: boolean;
}) {
  const { effect, chosen, isConfirmed } = props;
  const [isShown, setShown] = useState(false);
  const { inForce, hash } = effect;
  return (
    <>
      <div>
        <Button
          on={isShown}
          name={sheetWords.effectName(inForce.title)}
          onPress={() => setShown(!isShown)}
        >
          {isShown ? sheetWords.effectHide : sheetWords.effect}
        </Button>
      </div>
      {isShown && (
        <Effect effect={effect} chosen={chosen} base={{ protocol: inForce, hash, isConfirmed }} />
      )}
    </>
  );
}

function Effect(props: {
  readonly effect: SheetEffect;
  readonly chosen: readonly SheetChange[];
  readonly base: { readonly protocol: SheetEffect['inForce']; hash: string; isConfirmed: boolean };
}) {
  const { effect, chosen, base } = props;
  const history = useMemo(() => withChanges(effect, chosen), [effect, chosen]);
  if (!history.ok) return <Banner tone="attention" words={leadProblemWords(history.error)} />;
  const { value } = history;
  return <EditorEffect draft={{ base, protocol: value.protocol, saved: { history: value } }} />;
}
