import { useState } from 'react';
import { readBackLines } from '../../engine/read-back.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { useSession } from '../app/session-context.ts';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { chairWords, evidenceWords } from '../words/chair-words.ts';
import { stepOf } from '../words/offer-words.ts';
import { sceneOf } from './chair-model.ts';

interface Props {
  readonly running: RunningCase;
}

/** What to do in one line, where no clock runs; what is read aloud, with its values. */
export function ChairInstruction({ running }: Props) {
  const { protocol } = sceneOf(running);
  const top = running.view.offers[0];
  const step = top ? stepOf(protocol, top.step) : undefined;
  const cautions = protocol.cautions.filter((c) => step?.cautions?.includes(c.id));
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the focus.
    <section className="chair-instruction" aria-label={chairWords.instruction} tabIndex={0}>
      {step?.instruction !== undefined && (
        <p className="chair-instruction-words">{step.instruction}</p>
      )}
      <ReadBack running={running} />
      <Reading key={step?.id} running={running} />
      {step?.why !== undefined && <p className="chair-instruction-why">{step.why}</p>}
      {cautions.map((c) => (
        <p key={c.id} className="chair-instruction-caution">
          {c.words}
        </p>
      ))}
    </section>
  );
}

function evidenceOf(running: RunningCase) {
  const top = running.view.offers[0];
  const step = top ? stepOf(sceneOf(running).protocol, top.step) : undefined;
  return step?.action.kind === 'confirm' ? step.action.evidence : undefined;
}

function ReadBack({ running }: Props) {
  const evidence = evidenceOf(running);
  if (evidence?.kind !== 'read-back') return null;
  return (
    <ul className="chair-read-back">
      {readBackLines(running.log.state, evidence.of).map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

/** A reading or a remark that the step asks for; the bar records the step without it all the same. */
function Reading({ running }: Props) {
  const session = useSession();
  const [text, setText] = useState('');
  const evidence = evidenceOf(running);
  const offer = running.view.offers[0];
  if (!offer || !evidence) return null;
  const record = (value: string) =>
    session.do({ do: 'press', offer, evidence: evidenceWords.kept({ value, evidence }) });
  if (evidence.kind === 'choice') {
    return (
      <div className="chair-alternatives">
        {evidence.options.map((option) => (
          <Button key={option.id} size="chair" onPress={() => record(option.label)}>
            {option.label}
          </Button>
        ))}
      </div>
    );
  }
  if (evidence.kind !== 'reading' && evidence.kind !== 'note') return null;
  const value = Number(text.replace(',', '.'));
  const isOut =
    evidence.kind === 'reading' && text !== '' && !(value >= evidence.min && value <= evidence.max);
  return (
    <div className="chair-reading">
      <TextField
        label={evidence.label}
        value={text}
        onChange={setText}
        {...(evidence.kind === 'reading' ? { unit: evidence.unit, inputMode: 'decimal' } : {})}
        {...(isOut && evidence.kind === 'reading'
          ? { problem: evidenceWords.range({ min: evidence.min, max: evidence.max }) }
          : {})}
      />
      <Button
        size="chair"
        disabled={text.trim() === '' || isOut}
        onPress={() => record(text.trim())}
      >
        {evidenceWords.record}
      </Button>
    </div>
  );
}
