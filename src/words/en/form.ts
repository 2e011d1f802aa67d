/** Words of the fields of the editor's forms: what each is called, and what it needs. */
import type { FieldKey, FormPart } from '../../protocol/schema-fields.ts';

export interface FieldTexts {
  readonly label: string;
  readonly hint?: string;
  /** What a choice of none means. */
  readonly none?: string;
  /** What is said beside the field when what stands in it cannot be taken. */
  readonly needs?: string;
}

export const form = {
  fields: {
    protocol: {
      title: { label: 'Title', needs: 'Give the protocol a title.' },
      summary: {
        label: 'Summary',
        hint: 'What it is for, and how it goes, in one or two sentences.',
        needs: 'Say in a sentence what it is for.',
      },
    },
    slots: {
      label: { label: 'Label', needs: 'Give the material a label.' },
      materialClass: {
        label: 'Class of material',
        hint: 'What kind of material it is, never a product: “phosphoric acid gel”.',
        needs: 'Say what class of material it is.',
      },
      refrigerated: { label: 'Kept in the refrigerator' },
      optional: { label: 'Not every case needs it' },
    },
    choices: {
      title: { label: 'Title', needs: 'Give the choice a title.' },
      why: { label: 'Why' },
    },
    options: {
      label: { label: 'Label', needs: 'Give every option a label.' },
      note: { label: 'Note' },
    },
    steps: {
      title: {
        label: 'Title',
        hint: 'Read from 2 m: at most 14 characters',
        needs: 'Give the step a title.',
      },
      instruction: { label: 'What to do' },
      why: { label: 'Why' },
      stage: { label: 'Stage' },
      per: { label: 'Done for' },
      by: { label: 'Done by' },
      rangeClass: { label: 'Kind of step, for published ranges', none: 'None' },
      together: { label: 'One press covers the whole round' },
      usesLight: { label: 'Uses the curing light' },
      optional: { label: 'May be skipped' },
      mayHurt: { label: 'May be felt once the anaesthesia has worn off' },
      field: { label: 'Isolation of the field', none: 'As it was' },
      earlier: { label: 'Already done when the case opens', none: 'No' },
      roundOf: { label: 'Shares the rounds of', none: 'Rounds of its own' },
      beginsWith: { label: 'Its clock starts as this one ends', none: 'With its own press' },
    },
    windows: {
      title: {
        label: 'Title',
        hint: 'Read from 2 m: at most 24 characters',
        needs: 'Give the window a title.',
      },
      from: { label: 'Opens at' },
      to: { label: 'Must close by' },
      match: { label: 'Joins' },
      protects: { label: 'Protects' },
      severity: { label: 'When broken' },
      wayBack: { label: 'Way back', none: 'None' },
      amber: { label: 'The screen turns amber while it is open' },
      why: { label: 'Why' },
    },
    waysBack: {
      title: { label: 'Title', needs: 'Give the way back a title.' },
      mishap: { label: 'What went wrong' },
      per: { label: 'Happens to' },
      proposal: {
        label: 'What the app proposes',
        needs: 'Write what the app proposes.',
      },
      from: { label: 'Fits from', none: 'Any time' },
      until: { label: 'Fits until', none: 'Any time' },
    },
    cautions: {
      words: {
        label: 'Words',
        hint: 'What can hurt, whom, and what to do. Short.',
        needs: 'Write the words of the caution.',
      },
      short: {
        label: 'Short form',
        hint: 'Stands beside the clock while the hazard is in the hands. At most 34 characters.',
      },
    },
    sources: {
      citation: {
        label: 'Citation',
        hint: 'Author, title, journal or standard, volume, pages, year',
        needs: 'Write author, journal or standard, volume, pages and year.',
      },
      doi: {
        label: 'DOI',
        hint: 'For example 10.3390/dj10040055. Leave it empty if there is none.',
        needs: 'This is not a DOI. A DOI looks like 10.3390/dj10040055.',
      },
    },
    stages: { title: { label: 'Title', needs: 'Give the stage a title.' } },
    lists: {
      title: { label: 'Title', needs: 'Give the list a title.' },
      words: {
        label: 'What the bar says',
        needs: 'Write what the bar says when the list is pressed.',
      },
    },
    barWords: {
      start: { label: 'First press' },
      end: { label: 'Last press, or the only one' },
      leaves: { label: 'Where it leaves the tooth or unit', hint: 'For example “etched, rinsed”' },
    },
    some: { instruction: { label: 'What to do, for a part of them' } },
    someWords: {
      start: { label: 'First press, for a part of them' },
      end: {
        label: 'Last press, for a part of them',
        hint: '{subject} stands for the tooth, unit, contact or portion',
      },
    },
    coats: { until: { label: 'Applied until' } },
    expose: { walk: { label: 'Order of the light' } },
    tally: { label: { label: 'What is counted', needs: 'Write what is counted.' } },
    answer: { label: { label: 'Words', needs: 'Write the words of this answer.' } },
    reading: {
      label: { label: 'What is read', needs: 'Write what is read.' },
      unit: { label: 'Unit', needs: 'Give the unit.' },
      min: { label: 'Least that can be typed', needs: 'Give a number.' },
      max: { label: 'Most that can be typed', needs: 'Give a number.' },
      against: { label: 'Compared with', none: 'Nothing' },
      equals: { label: 'Must be the same number as in', none: 'No other step' },
    },
    material: { slot: { label: 'Material', needs: 'Choose a material.' } },
    note: { label: { label: 'What is noted', needs: 'Write what is noted.' } },
    readBack: { of: { label: 'What is read aloud', none: 'Nothing' } },
    times: {
      rangeClass: { label: 'Kind of step, for published ranges', none: 'That of the step' },
    },
    after: { step: { label: 'Step it waits for' }, link: { label: 'On' } },
    voids: {
      step: { label: 'Step' },
      link: { label: 'On' },
      onlyAfter: { label: 'Only where this has begun', none: 'Always' },
    },
    instructions: {
      document: {
        label: 'Document',
        hint: 'Instructions for use of the product in the cupboard, or a written rule of the clinic',
      },
      revision: { label: 'Revision or date' },
      page: { label: 'Page' },
      asWritten: { label: 'As written there' },
      confirmedBy: { label: 'Compared by' },
      confirmedOn: { label: 'Compared on' },
      reviewDue: { label: 'Review due', hint: 'Leave empty for no reminder' },
    },
  } satisfies { readonly [P in FormPart]: { readonly [K in FieldKey<P>]?: FieldTexts } },
  tooLong: (lengthMax: number): string => `At most ${lengthMax} characters.`,
};
