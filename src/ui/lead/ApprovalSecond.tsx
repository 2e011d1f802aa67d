import { figuresOf, type PlacedFigure } from '../../protocol/edit-types.ts';
import type { Protocol } from '../../protocol/types.ts';
import { secondWords } from '../../words/second-words.ts';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Check } from '../parts/Segmented.tsx';
import { PeopleChoices } from '../shared/PeopleChoices.tsx';
import {
  type FigureGroup,
  figureGroupsOf,
  figureName,
  groupTickId,
  readIn,
  spotId,
} from './approval-groups.ts';

/** What the second person has given so far. */
export interface SecondEntry {
  readonly name: string;
  /** The groups that were read, each as it stood then. */
  readonly read: ReadonlySet<string>;
}

export const NO_SECOND: SecondEntry = { name: '', read: new Set() };

const isBinding = ({ binds }: PlacedFigure): boolean => binds;

export const secondGroups = (protocol: Protocol): readonly FigureGroup[] =>
  figureGroupsOf(protocol, figuresOf(protocol).filter(isBinding));

/** Every number with its document, and the name of who read them after the first. */
export function ApprovalSecond(props: {
  readonly protocol: Protocol;
  readonly entry: SecondEntry;
  readonly onChange: (entry: SecondEntry) => void;
  /** What is wrong with the name; undefined before somebody tried. */
  readonly problem: string | undefined;
}) {
  const { protocol, entry, onChange } = props;
  const tick = (id: string, isOn: boolean): void => {
    const read = new Set(entry.read);
    if (isOn) read.add(id);
    else read.delete(id);
    onChange({ ...entry, read });
  };
  return (
    <Section title={secondWords.title} lede={secondWords.lede}>
      <ul className="approval-groups">
        {secondGroups(protocol).map((group) => (
          <li key={group.key}>
            <h3>{group.title}</h3>
            <ul className="approval-read">
              {group.figures.map((figure) => (
                <li key={spotId(figure.spot)}>
                  {figureName(figure)}
                  <span className="numbers-note">{readIn(protocol, figure)}</span>
                </li>
              ))}
            </ul>
            <Check
              label={secondWords.read(group.title)}
              checked={entry.read.has(groupTickId(group))}
              onChange={(isOn) => tick(groupTickId(group), isOn)}
            />
          </li>
        ))}
      </ul>
      <TextField
        label={secondWords.name}
        hint={secondWords.nameHint}
        value={entry.name}
        problem={props.problem}
        onChange={(name) => onChange({ ...entry, name })}
      />
      <PeopleChoices named={[entry.name]} onChoose={({ name }) => onChange({ ...entry, name })} />
    </Section>
  );
}
