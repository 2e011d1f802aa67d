import { useState } from 'react';
import type { Command } from '../../../engine/commands.ts';
import { CASE_SUBJECT, unitSubject } from '../../../protocol/subjects.ts';
import type { RunningCase } from '../../../runtime/app-state.ts';
import { extraWords } from '../../../words/chair-sheet-words.ts';
import { shadeWords } from '../../../words/read-back-words.ts';
import { refusalWords } from '../../../words/refusal-words.ts';
import { portionTitle, subjectLabel } from '../../../words/subject-words.ts';
import { Banner } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { Segmented } from '../../parts/Segmented.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { namingOf } from '../../shared/arch-model.ts';
import { useSession, useTablet } from '../../shared/session-context.ts';
import { sharesMix } from '../at-hand-model.ts';
import { openMixes } from '../chair-model.ts';
import { moveEarlier } from '../order-model.ts';

interface SheetProps {
  readonly running: RunningCase;
  readonly onClose: () => void;
}

const FOUND = ['soft', 'stringy', 'firm'] as const;

/** The sample bead of each mix that is being worked with. */
export function BeadSheet({ running, onClose }: SheetProps) {
  const tablet = useTablet();
  return (
    <Sheet open title={extraWords.bead} onClose={onClose}>
      <p>{extraWords.beadCaution}</p>
      {openMixes(running).map((mix) => (
        <div key={mix} className="chair-sheet-list">
          <h3>{portionTitle(mix)}</h3>
          <div className="chair-sheet-grid">
            {FOUND.map((found) => (
              <Button
                key={found}
                size="chair"
                onPress={() => {
                  if (!tablet.door.do({ do: 'probe-bead', mix, found })) onClose();
                }}
              >
                {extraWords.found[found]}
              </Button>
            ))}
          </div>
        </div>
      ))}
    </Sheet>
  );
}

const RESULTS = ['accepted', 'too-light', 'too-dark', 'other'] as const;
type ShadeResult = (typeof RESULTS)[number];

function percentOf(text: string): number | undefined {
  const value = Number(text.replace(',', '.'));
  return text.trim() !== '' && value >= 0 && value <= 100 ? value : undefined;
}

/** Shade trials so far, and one more: for one unit or for the set. */
export function ShadeSheet({ running, onClose }: SheetProps) {
  const tablet = useTablet();
  const { spec } = namingOf(running);
  const [subject, setSubject] = useState<string>(CASE_SUBJECT);
  const [paste, setPaste] = useState('');
  const [modifier, setModifier] = useState('');
  const [share, setShare] = useState('');
  const [note, setNote] = useState('');
  const [judgedBy, setJudgedBy] = useState<string>(extraWords.patient);
  const [result, setResult] = useState<ShadeResult>('accepted');
  const sharePercent = percentOf(share);
  // A share that is no number must be put right: the record would be without it.
  const isShareWrong = share.trim() !== '' && sharePercent === undefined;
  const save = () => {
    const refused = tablet.door.do({
      do: 'try-shade',
      trial: {
        subject,
        paste: paste.trim(),
        judgedBy,
        result,
        ...(modifier.trim() === '' ? {} : { modifier: modifier.trim() }),
        ...(sharePercent === undefined ? {} : { sharePercent }),
        ...(note.trim() === '' ? {} : { note: note.trim() }),
      },
    });
    if (!refused) onClose();
  };
  const subjects = [CASE_SUBJECT, ...spec.units.map((u) => unitSubject(u.id))];
  const judges = [extraWords.patient, ...spec.people.map((p) => p.label)];
  return (
    <Sheet open title={extraWords.shade} onClose={onClose} width="wide">
      <ShadeList running={running} />
      <div className="chair-sheet-fields">
        <SelectField
          label={extraWords.shadeFor}
          value={subject}
          options={subjects.map((value) => ({
            value,
            label: subjectLabel(value, spec) || extraWords.wholeSet,
          }))}
          onChange={setSubject}
        />
        <TextField label={extraWords.paste} value={paste} onChange={setPaste} />
        <TextField label={extraWords.modifier} value={modifier} onChange={setModifier} />
        <TextField
          label={extraWords.share}
          value={share}
          onChange={setShare}
          inputMode="decimal"
          problem={isShareWrong ? extraWords.shareProblem : undefined}
        />
        <SelectField
          label={extraWords.judgedBy}
          value={judgedBy}
          options={judges.map((value) => ({ value, label: value }))}
          onChange={setJudgedBy}
        />
      </div>
      <Segmented
        label={extraWords.result}
        value={result}
        options={RESULTS.map((value) => ({ value, label: extraWords.results[value] }))}
        onChange={setResult}
      />
      <TextField label={extraWords.trialNote} value={note} onChange={setNote} />
      <Button
        size="chair"
        rank="main"
        disabled={paste.trim() === '' || isShareWrong}
        onPress={save}
      >
        {extraWords.saveTrial}
      </Button>
    </Sheet>
  );
}

function ShadeList({ running }: { readonly running: RunningCase }) {
  const { spec } = namingOf(running);
  const { shades } = running.log.state;
  if (shades.length === 0) return <p>{extraWords.noTrial}</p>;
  return (
    <ol className="chair-trials">
      {shades.map(({ trial, at }) => (
        <li key={`${trial.subject}${at.loMs}`}>
          {extraWords.trial({
            subject: subjectLabel(trial.subject, spec) || extraWords.wholeSet,
            recipe: shadeWords(trial),
            note: trial.note ?? '',
            result: extraWords.results[trial.result],
            judge: trial.judgedBy,
          })}
        </li>
      ))}
    </ol>
  );
}

/** Who holds which role from now on, and who presses. Every hand-over stands in the record. */
export function PeopleSheet({ running, onClose }: SheetProps) {
  const session = useSession();
  const tablet = useTablet();
  const { spec } = namingOf(running);
  const { roles } = running.log.state;
  return (
    <Sheet open title={extraWords.people} onClose={onClose}>
      {(['dentist', 'assistant'] as const).map((role) => {
        const holder = roles[role] ?? spec.people.find((p) => p.role === role)?.id;
        return (
          <div key={role} className="chair-sheet-list">
            <h3>{extraWords.roles[role]}</h3>
            <div className="chair-sheet-grid">
              {spec.people.map((person) => (
                <Button
                  key={person.id}
                  size="chair"
                  on={person.id === holder}
                  onPress={() => tablet.door.do({ do: 'take-role', person: person.id, role })}
                >
                  {person.label}
                </Button>
              ))}
            </div>
          </div>
        );
      })}
      <h3>{extraWords.presses}</h3>
      <div className="chair-sheet-grid">
        {spec.people.map((person) => (
          <Button
            key={person.id}
            size="chair"
            on={person.id === running.by}
            onPress={() => session.setBy(person.id)}
          >
            {person.label}
          </Button>
        ))}
      </div>
      <Button size="chair" rank="main" onPress={onClose}>
        {extraWords.done}
      </Button>
    </Sheet>
  );
}

/** The order of seating; one tap moves a unit one place earlier, or gives it a portion of its own. */
export function OrderSheet({ running, onClose }: SheetProps) {
  const tablet = useTablet();
  const { spec } = namingOf(running);
  const { plan } = running.log.state;
  const [refused, setRefused] = useState<string | null>(null);
  const reason = extraWords.orderReason;
  const order = (command: Command) => {
    const no = tablet.door.do(command);
    setRefused(no ? refusalWords(no).what : null);
  };
  return (
    <Sheet open title={extraWords.order} onClose={onClose}>
      {refused !== null && <Banner tone="attention" words={refused} />}
      <ol className="chair-order">
        {plan.order.map((unit, at) => (
          <li key={unit}>
            <span>{subjectLabel(unitSubject(unit), spec)}</span>
            <Button
              size="chair"
              disabled={at === 0}
              name={extraWords.earlierName(subjectLabel(unitSubject(unit), spec))}
              onPress={() => order({ do: 'change-plan', plan: moveEarlier(plan, unit), reason })}
            >
              {extraWords.earlier}
            </Button>
            {sharesMix(running, unit) && (
              <Button
                size="chair"
                name={extraWords.ownMixName(subjectLabel(unitSubject(unit), spec))}
                onPress={() => order({ do: 'add-mix', units: [unit], reason })}
              >
                {extraWords.ownMix}
              </Button>
            )}
          </li>
        ))}
      </ol>
    </Sheet>
  );
}
