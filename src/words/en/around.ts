/** Words of the editor for what stands around the steps: cautions, ways back, sources, stages. */
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

const NAMED_MAX = 4;

/** The first few names, and how many there are besides. */
function some(names: readonly string[]): string {
  if (names.length <= NAMED_MAX) return list(names);
  return list([...names.slice(0, NAMED_MAX), `${names.length - NAMED_MAX} more`]);
}

export const around = {
  language: 'Language of the texts',
  languageHint: 'A tag such as “en” or “de-AT”. Empty means English.',
  languageRefused: 'Write a language tag such as “en” or “de-AT”.',
  cautions: 'Cautions',
  cautionsLede: 'Shown in the chair at the steps they are bound to, and under “Why”.',
  addCaution: 'Add a caution',
  newCaution: 'New caution',
  caution: 'Caution',
  saidAt: 'Shown at',
  saidAtNone: 'Shown at no step',
  saidAtSteps: (titles: readonly string[]): string => `Shown at ${list(titles)}`,
  waysBack: 'Ways back',
  waysBackLede: 'What the app proposes when something goes wrong, and what has to be done again.',
  addWayBack: 'Add a way back',
  newWayBack: 'New way back',
  wayBackSheet: (title: string): string => `Way back: ${title}`,
  anyTime: 'Any time',
  voids: 'To be done again',
  voidOne: (number: number): string => `To be done again, ${number}`,
  addVoid: 'Add a step to do again',
  nothingAgain: 'Nothing has to be done again',
  wayBackNote: (o: {
    readonly mishap: string;
    readonly per: string;
    readonly again: string;
    readonly basis: string;
  }): string => `${o.mishap}, ${o.per}. ${o.again}. ${o.basis}`,
  wayBackLine: (o: { readonly title: string; readonly proposal: string }): string =>
    `${o.title}: ${o.proposal}`,
  again: (titles: readonly string[]): string => `To be done again: ${list(titles)}`,
  takeOut: 'Remove it',
  takeOutSheet: (title: string): string => `Remove: ${title}`,
  takeOutReason: 'Why it is removed',
  takeOutHint: 'Shown with the changes, and in the log once this is confirmed',
  takeOutMissing: 'Say in a few words why it is removed.',
  takeOutNamed: (names: readonly string[]): string =>
    `These refer to it and no longer will: ${some(names)}`,
  sources: 'Sources',
  sourcesLede: 'The publications that numbers and ways back can rest on.',
  addSource: 'Add a source',
  newSource: 'New source',
  source: 'Source',
  citationRead: (short: string): string => `Under a number: ${short}`,
  sourceNote: (o: { readonly doi: string; readonly uses: string }): string =>
    `DOI ${o.doi}, ${o.uses}`,
  doiRead: (doi: string): string => `Understood: ${doi}`,
  usedBy: (count: number): string =>
    count === 0
      ? 'Nothing rests on it'
      : plural(count, { one: '1 place rests on it', other: `${count} places rest on it` }),
  sourceInUse: (names: readonly string[]): string =>
    plural(names.length, {
      one: `Not removed: ${some(names)} rests on it. Give another basis there first.`,
      other: `Not removed: ${some(names)} rest on it. Give another basis there first.`,
    }),
  stages: 'Stages',
  stagesLede: 'The chapters of the protocol, in the order they are read. A step names its stage.',
  addStage: 'Add a stage',
  newStage: 'New stage',
  stageSheet: (title: string): string => `Stage: ${title}`,
  stageSteps: (count: number): string =>
    count === 0 ? 'No steps' : plural(count, { one: '1 step', other: `${count} steps` }),
  stageInUse: (names: readonly string[]): string =>
    plural(names.length, {
      one: `Not removed: ${some(names)} is in it. Give it another stage first.`,
      other: `Not removed: ${some(names)} are in it. Give them another stage first.`,
    }),
  cautionsOfStep: 'Cautions shown here',
  noCautions: 'This protocol has no cautions yet.',
  onlyIf: 'Done only if',
  onlyIfLede: 'One of these is enough. With none the step is always done.',
  condition: 'Condition',
  addCondition: 'Add a condition',
  noCondition: 'No step is a choice, and there is no way back: nothing to depend on.',
  chosen: (o: { readonly step: string; readonly option: string }): string =>
    `${o.step}: “${o.option}” was chosen`,
  taken: (wayBack: string): string => `way back taken: ${wayBack}`,
  takenWhere: (o: { taken: string; step: string }): string =>
    `${o.taken}, where it took back: ${o.step}`,
  numberOf: (o: { readonly title: string; readonly label: string }): string =>
    `${o.title}: ${o.label}`,
  shortened: (text: string): string => `${text}…`,
};
