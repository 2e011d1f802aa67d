import { askedFacts, chosenOption } from '../../protocol/conditions.ts';
import type { Substrate } from '../../protocol/facts.ts';
import type { Protocol } from '../../protocol/types.ts';
import { PROVISIONALS, SUBSTRATES } from '../../protocol/vocabulary.ts';
import { conditionWords } from '../../words/condition-words.ts';
import { setUpWords } from '../../words/set-up-words.ts';
import { toothLabel } from '../../words/subject-words.ts';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { SelectField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { MultiSegmented, Segmented } from '../parts/Segmented.tsx';
import type { DraftPartProps } from './set-up-drafts.ts';
import { type DraftTooth, isProvisional, toggled, toothDraft } from './set-up-teeth.ts';

const substrateOptions = () =>
  SUBSTRATES.map((value) => ({ value, label: conditionWords.substrates[value] }));

const provisionalOptions = () => [
  { value: '', label: setUpWords.notAskedYet },
  ...PROVISIONALS.map((value) => ({ value, label: conditionWords.provisionals[value] })),
];

interface ToothRowProps {
  readonly label: string;
  readonly tooth: DraftTooth;
  readonly asks: ReadonlySet<string>;
  readonly change: (next: DraftTooth) => void;
}

function ToothRow({ label, tooth, asks, change }: ToothRowProps) {
  return (
    <li className="set-up-tooth" aria-label={setUpWords.tooth(label)}>
      <p className="set-up-unit-label">{label}</p>
      {asks.has('substrate') && (
        <MultiSegmented
          label={setUpWords.showsOf(label)}
          labelUnseen
          values={tooth.substrate}
          options={substrateOptions()}
          onToggle={(value: Substrate) =>
            change({ ...tooth, substrate: toggled(tooth.substrate, value) })
          }
        />
      )}
      {asks.has('provisional') && (
        <SelectField
          label={setUpWords.provisional}
          value={tooth.provisional}
          options={provisionalOptions()}
          onChange={(value) => change({ ...tooth, provisional: isProvisional(value) ? value : '' })}
        />
      )}
    </li>
  );
}

/** What each tooth shows and what covers it: only what the protocol's steps depend on is asked. */
export function SetUpFacts(props: DraftPartProps & { readonly protocol: Protocol | undefined }) {
  const { draft, change, protocol } = props;
  const asks = protocol === undefined ? new Set<string>() : askedFacts(protocol);
  const bonded = draft.units.flatMap((unit) => unit.teeth);
  const isAsked = asks.has('substrate') || asks.has('provisional');
  if (!isAsked || bonded.length === 0) return null;
  const set = (tooth: string, facts: DraftTooth): void =>
    change({ ...draft, teeth: { ...draft.teeth, [tooth]: facts } });
  const first = bonded[0] ?? '';
  const allLikeFirst = (): void => {
    const facts = toothDraft(draft.teeth, first);
    change({ ...draft, teeth: Object.fromEntries(bonded.map((tooth) => [tooth, facts])) });
  };
  return (
    <Section title={setUpWords.shows} lede={setUpWords.showsLede}>
      <ul className="set-up-teeth">
        {bonded.map((tooth) => (
          <ToothRow
            key={tooth}
            label={toothLabel(tooth, draft.notation)}
            tooth={toothDraft(draft.teeth, tooth)}
            asks={asks}
            change={(facts) => set(tooth, facts)}
          />
        ))}
      </ul>
      {bonded.length > 1 && (
        <ButtonRow>
          <Button onPress={allLikeFirst}>{setUpWords.allTeethLikeFirst}</Button>
        </ButtonRow>
      )}
    </Section>
  );
}

/** The ways to work between which the protocol leaves a choice, each as it stands by itself. */
export function SetUpChoices(props: DraftPartProps & { readonly protocol: Protocol | undefined }) {
  const { draft, change, protocol } = props;
  const choices = protocol?.choices ?? [];
  if (protocol === undefined || choices.length === 0) return null;
  return (
    <Section title={setUpWords.choices} lede={setUpWords.choicesLede}>
      <div className="set-up-choices">
        {choices.map((choice) => {
          const facts = { spec: { units: [], choices: draft.choices }, protocol };
          const taken = chosenOption(facts, choice.id) ?? choice.default;
          const note = choice.options.find(({ id }) => id === taken)?.note;
          return (
            <div key={choice.id}>
              <Segmented
                label={choice.title}
                value={taken}
                options={choice.options.map(({ id, label }) => ({ value: id, label }))}
                onChange={(option) =>
                  change({ ...draft, choices: { ...draft.choices, [choice.id]: option } })
                }
              />
              {note !== undefined && <p className="set-up-quiet">{note}</p>}
              {choice.why !== undefined && <p className="set-up-quiet">{choice.why}</p>}
            </div>
          );
        })}
      </div>
    </Section>
  );
}
