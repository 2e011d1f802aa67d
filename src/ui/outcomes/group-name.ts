import { type GroupingShown, NOT_NAMED } from '../../outcomes/model/outcomes-types.ts';
import { materialWord } from '../../words/material-words.ts';
import { groupWords } from '../../words/outcome-words.ts';

const isState = (name: string): name is keyof typeof groupWords.state => name in groupWords.state;

/** A group as people call it; the empty name is all the others. */
export function groupName(kind: GroupingShown['kind'], name: string): string {
  if (name === '') return groupWords.others;
  if (kind === 'person') return name === NOT_NAMED ? groupWords.notNamed : name;
  if (kind === 'revision') return groupWords.revision(name);
  if (kind === 'material') return materialWord(name);
  return isState(name) && kind !== 'lot' ? groupWords.state[name] : name;
}
