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
    },
    windows: {
      title: { label: 'Title', needs: 'Give the window a title.' },
      from: { label: 'Opens at' },
      to: { label: 'Must close by' },
      match: { label: 'Joins' },
      protects: { label: 'Protects' },
      severity: { label: 'When broken' },
      wayBack: { label: 'Way back', none: 'None' },
      amber: { label: 'The screen turns amber while it is open' },
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
