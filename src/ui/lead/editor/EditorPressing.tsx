import { useId } from 'react';
import type { Pressing, Protocol, Step } from '../../../protocol/types.ts';
import { couldConfirm, couldImply } from '../../../protocol/ways-to-press.ts';
import { pressingWords } from '../../../words/pressing-words.ts';
import { Button } from '../../parts/Button.tsx';
import { SelectField } from '../../parts/Field.tsx';
import { Check, Segmented } from '../../parts/Segmented.tsx';
import { choicesOf, titledChoices } from '../../shared/choices.ts';
import { FieldProblem } from './EntryFields.tsx';
import type { Form } from './editor-form.ts';
import { shippedWay, type Way, waysOf, withEdge, withWay } from './editor-pressing.ts';
import { nameOfStep, stepChoices } from './editor-step-names.ts';

interface PressingProps {
  readonly protocol: Protocol;
  /** What shipped, or what the draft was made from. */
  readonly template: Protocol;
  readonly form: Form<Step>;
}

/** How a step is pressed: only the ways that fit it, each with how closely its limits are judged then. */
export function StepPressing({ protocol, template, form }: PressingProps) {
  const { value: step, set, problems } = form;
  const ways = waysOf(protocol, step);
  const shipped = shippedWay(template, step);
  if (ways.length === 1 && shipped === undefined) return null;
  const kind = step.pressed?.kind ?? 'each';
  return (
    <fieldset className="editor-waits">
      <legend>{pressingWords.title}</legend>
      <Segmented
        label={pressingWords.title}
        labelUnseen
        value={kind}
        options={choicesOf(
          ways.map((way) => way.kind),
          pressingWords.ways,
        )}
        onChange={(chosen) => {
          const way = ways.find((each) => each.kind === chosen);
          if (way !== undefined) set(withWay(step, way.pressed));
        }}
      />
      {ways.map((way) => (
        <WayNote key={way.kind} way={way} step={step} />
      ))}
      {step.pressed !== undefined && (
        <Details
          protocol={protocol}
          step={step}
          pressed={step.pressed}
          onChange={(pressed) => set(withWay(step, pressed))}
        />
      )}
      <FieldProblem words={problems.at('pressed')} />
      {shipped !== undefined && (
        <Button onPress={() => set(withWay(step, shipped))}>{pressingWords.shipped}</Button>
      )}
    </fieldset>
  );
}

/** What a way is, and a sentence for each limit; first what nobody could judge any more. */
function WayNote({ way, step }: { readonly way: Way; readonly step: Step }) {
  const isOwn = way.pressed?.kind === 'implied' && way.pressed.by.includes(step.id);
  const name = useId();
  const lines = way.lines.toSorted((a, b) => Number(b.isLost) - Number(a.isLost));
  return (
    <section aria-labelledby={name}>
      <h3 id={name} className="lw-field-label">
        {pressingWords.ways[way.kind]}
      </h3>
      <p className="numbers-note">
        {isOwn ? pressingWords.aboutCoats : pressingWords.about[way.kind]}
      </p>
      {lines.length === 0 && <p className="numbers-note">{pressingWords.noLimit}</p>}
      {lines.map((line) => (
        <p key={line.id} className="numbers-note">
          {line.isLost ? <strong>{line.words}</strong> : line.words}
        </p>
      ))}
    </section>
  );
}

interface DetailsProps {
  readonly protocol: Protocol;
  readonly step: Step;
  readonly pressed: Pressing;
  readonly onChange: (pressed: Pressing) => void;
}

function Details({ protocol, step, pressed, onChange }: DetailsProps) {
  switch (pressed.kind) {
    case 'list':
      return (
        <SelectField
          label={pressingWords.list}
          value={pressed.list}
          options={titledChoices(protocol.lists ?? [])}
          onChange={(list) => onChange({ ...pressed, list })}
        />
      );
    case 'sweep':
      return (
        <>
          <div className="editor-choices">
            {step.beginsWith === undefined && (
              <Check
                label={pressingWords.atStart}
                checked={pressed.start !== undefined}
                onChange={(isOn) => onChange(withEdge(pressed, 'start', isOn))}
              />
            )}
            <Check
              label={pressingWords.atEnd}
              checked={pressed.end !== undefined}
              onChange={(isOn) => onChange(withEdge(pressed, 'end', isOn))}
            />
          </div>
          <p className="lw-aside">{pressingWords.numbersElsewhere}</p>
        </>
      );
    case 'implied':
      if (pressed.by.includes(step.id)) return null;
      return (
        <div className="editor-choices">
          <p>{pressingWords.by}</p>
          {couldImply(protocol, step).map(({ id }) => (
            <Check
              key={id}
              label={nameOfStep(protocol.steps, id)}
              checked={pressed.by.includes(id)}
              onChange={(isOn) => {
                const others = pressed.by.filter((other) => other !== id);
                onChange({ ...pressed, by: isOn ? [...others, id] : others });
              }}
            />
          ))}
        </div>
      );
    case 'paced':
      return <Confirms protocol={protocol} step={step} pressed={pressed} onChange={onChange} />;
    default:
      return pressed satisfies never;
  }
}

function Confirms(
  props: DetailsProps & { readonly pressed: Extract<Pressing, { kind: 'paced' }> },
) {
  const { protocol, step, pressed, onChange } = props;
  const { confirmedBy, ...own } = pressed;
  return (
    <>
      <SelectField
        label={pressingWords.confirmedBy}
        value={confirmedBy ?? ''}
        options={[
          { value: '', label: pressingWords.ownPress },
          ...stepChoices(protocol.steps, couldConfirm(protocol, step)),
        ]}
        onChange={(id) => onChange(id === '' ? own : { ...own, confirmedBy: id })}
      />
      <p className="lw-aside">{pressingWords.numbersElsewhere}</p>
    </>
  );
}
