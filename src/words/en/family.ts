/** Words of the editor for what a protocol says of itself, and for what its parts depend on. */
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

const NAMED_MAX = 4;

/** The first few names, and how many there are besides. */
function some(names: readonly string[]): string {
  if (names.length <= NAMED_MAX) return list(names);
  return list([...names.slice(0, NAMED_MAX), `${names.length - NAMED_MAX} more`]);
}

export const family = {
  head: {
    about: 'What it is for',
    edit: 'Edit',
    editName: 'Edit what it is for',
    title: 'Title',
    summary: 'Summary',
    restorations: 'Restorations',
    noRestorations: 'None named',
    materials: 'Classes of the units',
    materialsHint: 'Where none is chosen, it is for units of any class.',
    anyMaterial: 'Any',
    otherRestoration: 'Another restoration',
    otherMaterial: 'Another class',
    add: 'Add',
    addName: (label: string): string => `Add: ${label}`,
    list,
  },
  slots: {
    title: 'Materials',
    lede: 'What lies on the table, by its class. Steps say which of them they use.',
    add: 'Add a material',
    newOne: 'New material',
    sheet: (label: string): string => `Material: ${label}`,
    note: (
      o: {
        readonly materialClass: string;
        readonly refrigerated: boolean;
        readonly optional?: boolean;
        readonly standsFor?: readonly string[];
      },
      steps: number,
    ): string =>
      [
        o.materialClass,
        ...(o.refrigerated ? ['refrigerated'] : []),
        ...(o.optional === true ? ['optional'] : []),
        ...(o.standsFor === undefined ? [] : [`stands for ${list(o.standsFor)}`]),
        steps === 0
          ? 'no step uses it'
          : plural(steps, { one: '1 step uses it', other: `${steps} steps use it` }),
      ].join(', '),
    inUse: (names: readonly string[]): string =>
      plural(names.length, {
        one: `Not removed: ${some(names)} uses it. Take it out of that step first.`,
        other: `Not removed: ${some(names)} use it. Take it out of those steps first.`,
      }),
    standsFor: 'Stands for',
    standsForHint:
      'Labels under which other documents know what lies here, one on each line. Often none.',
  },
  choices: {
    title: 'Choices at set-up',
    lede: 'Ways to work between which the clinic chooses for each case.',
    add: 'Add a choice',
    newOne: 'New choice',
    sheet: (title: string): string => `Choice: ${title}`,
    note: (o: { readonly options: readonly string[]; readonly standing: string }): string =>
      `${o.options.join(' / ')}. Unless a case says otherwise: ${o.standing}`,
    inUse: (names: readonly string[]): string =>
      plural(names.length, {
        one: `Not removed: ${some(names)} depends on it. Change its conditions first.`,
        other: `Not removed: ${some(names)} depend on it. Change their conditions first.`,
      }),
    options: 'Options',
    option: (number: number): string => `Option ${number}`,
    addOption: 'Add an option',
    optionInUse: (names: readonly string[]): string =>
      plural(names.length, {
        one: `Not removed: ${some(names)} depends on this option.`,
        other: `Not removed: ${some(names)} depend on this option.`,
      }),
    twoOptions: 'Not removed: a choice is between at least two options.',
    standing: 'Taken by itself',
    standingHint: 'Holds where a case does not say otherwise.',
  },
  begin: {
    sheet: 'From a product’s sheet',
    blank: 'Begin blank',
    copy: 'From a copy',
    lede: {
      blank:
        'A new protocol with nothing in it. It becomes a draft; its id is made from the title.',
      copy: 'The same protocol under another name. From then on the two have nothing to do with each other.',
    },
    source: 'Copy of',
    shipped: (title: string): string => `${title}, as shipped`,
    own: (o: { readonly title: string; readonly hash: string }): string =>
      `${o.title}, of this clinic, ${o.hash}`,
    title: 'Title',
    titleTaken: 'There is a protocol with this title already. Give it another.',
    summary: 'Summary',
    summaryHint: 'What it is for, in a sentence. It can be changed later.',
    begin: 'Begin the draft',
  },
  condition: {
    fitsOnly: 'Fits only where',
    none: 'No condition: it always applies.',
    all: 'All of these must hold. What nobody has answered holds for nothing.',
    one: (place: string): string => `Condition ${place}`,
    asks: 'Asks about',
    asksThickness: 'Thickness of the unit',
    asksChoice: (title: string): string => `Chosen at set-up: ${title}`,
    asksAny: 'Any one of several',
    holds: 'Holds where it is',
    is: 'one of these',
    isNot: 'known, and none of these',
    values: 'Values',
    valuesMissing: 'Choose at least one value. Without one it never holds.',
    over: 'Thicker than',
    overMissing: 'Write a thickness in mm, such as 0.5.',
    add: 'Add a condition',
    addTo: (place: string): string => `Add to condition ${place}`,
  },
};
