import { lazy, useEffect, useState } from 'react';
import { readBackLines } from '../../engine/read-back.ts';
import type { Light } from '../../protocol/case-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { chairWords, evidenceWords } from '../../words/chair-words.ts';
import { instructionOf, stepOf } from '../../words/offer-words.ts';
import { readBackWords } from '../../words/read-back-words.ts';
import { subjectLabel } from '../../words/subject-words.ts';
import { Button } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Late } from '../parts/Late.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { cautionsNamed, isFirstTime } from '../shared/cautions-model.ts';
import { useSession, useTablet } from '../shared/session-context.ts';
import { listInHand, wayBackAtBar } from './chair-model.ts';
import { firstLine } from './first-line.ts';
import { isPassAsked } from './pass-model.ts';
import { againstBaseline, isOutside, type TypedEvidence, typedWords } from './typed-model.ts';
import { whyLine } from './why-line.ts';

const ChairList = lazy(async () => ({ default: (await import('./ChairList.tsx')).ChairList }));
const PassAsked = lazy(async () => ({ default: (await import('./ChairPass.tsx')).PassAsked }));
const SignList = lazy(async () => ({ default: (await import('./SignList.tsx')).SignList }));

interface Props {
  readonly running: RunningCase;
}

/** What to do, where no clock runs: in one line, or line by line where several things stand on a list. */
export function ChairInstruction({ running }: Props) {
  const isPass = isPassAsked(running);
  if (!isPass && listInHand(running) === null) return <Instruction running={running} />;
  return <Late>{isPass ? <PassAsked running={running} /> : <ChairList running={running} />}</Late>;
}

/** What to do in one line; what is read aloud, with its values. */
function Instruction({ running }: Props) {
  const naming = namingOf(running);
  const { protocol } = naming;
  const top = running.view.attention.inHand;
  const step = top ? stepOf(protocol, top.step) : undefined;
  const instruction =
    wayBackAtBar(running)?.wayBack.proposal ?? (top ? instructionOf(top, naming) : undefined);
  const cautions = isFirstTime(running) ? cautionsNamed(protocol, step?.cautions ?? []) : [];
  const first = firstLine(running);
  // What is asked first takes the place of the reason.
  const why = first === null ? whyLine(step?.why) : null;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the focus.
    <section className="chair-instruction" aria-label={chairWords.instruction} tabIndex={0}>
      {first !== null && <p className="chair-instruction-first">{first}</p>}
      {instruction !== undefined && <p className="chair-instruction-words">{instruction}</p>}
      <ReadBack running={running} />
      <AskedEvidence key={step?.id} running={running} />
      <Late>
        <SignList running={running} />
      </Late>
      {why !== null && <p className="chair-instruction-why">{why}</p>}
      {cautions.map((c) => (
        <p key={c.id} className="chair-instruction-caution">
          {c.words}
        </p>
      ))}
    </section>
  );
}

function evidenceOf(running: RunningCase) {
  const top = running.view.attention.inHand;
  const step = top ? stepOf(namingOf(running).protocol, top.step) : undefined;
  return step && 'evidence' in step.action ? step.action.evidence : undefined;
}

function ReadBack({ running }: Props) {
  const evidence = evidenceOf(running);
  if (evidence?.kind !== 'read-back') return null;
  const lines = readBackLines(running.log.state, evidence.of, {
    now: running.view.at,
    subjects: running.view.attention.inHand?.subjects ?? [],
  });
  const nameOf = (subject: string) => subjectLabel(subject, namingOf(running).spec);
  return (
    <ul className="chair-read-back">
      {readBackWords(lines, { nameOf }).map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

interface TypedProps {
  readonly step: string;
  readonly evidence: TypedEvidence;
  readonly light: Light;
}

function TypedField({ step, evidence, light }: TypedProps) {
  const session = useSession();
  const [text, setText] = useState('');
  // A field that is gone must not speak for the next step.
  useEffect(() => () => session.keepTyped(null), [session]);
  const change = (next: string) => {
    setText(next);
    const isEmpty = next.trim() === '';
    const told = typedWords(next, evidence, light);
    session.keepTyped(isEmpty ? null : { step, evidence: told });
  };
  const share = againstBaseline(text, evidence, light);
  return (
    <div className="chair-reading">
      <TextField
        label={evidence.label}
        value={text}
        onChange={change}
        {...(evidence.kind === 'reading' ? { unit: evidence.unit, inputMode: 'decimal' } : {})}
        {...(isOutside(text, evidence) && evidence.kind === 'reading'
          ? { problem: evidenceWords.range({ min: evidence.min, max: evidence.max }) }
          : {})}
      />
      {text.trim() !== '' && (
        <p className="chair-instruction-why">
          {share === null ? evidenceWords.typed : evidenceWords.typedOf(share)}
        </p>
      )}
    </div>
  );
}

/** A reading or a remark that the step asks for; the bar records the step without it all the same. */
function AskedEvidence({ running }: Props) {
  const tablet = useTablet();
  const evidence = evidenceOf(running);
  const offer = running.view.attention.inHand;
  if (!offer || !evidence) return null;
  if (evidence.kind === 'reading' || evidence.kind === 'note') {
    return (
      <TypedField step={offer.step} evidence={evidence} light={namingOf(running).spec.light} />
    );
  }
  if (evidence.kind !== 'choice') return null;
  return (
    <div className="chair-alternatives">
      {evidence.options.map((option) => (
        <Button
          key={option.id}
          size="chair"
          onPress={() => tablet.door.do({ do: 'press', offer, evidence: option.label })}
        >
          {option.label}
        </Button>
      ))}
    </div>
  );
}
