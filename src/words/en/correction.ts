/** Words of what a new template corrects in a revision that the clinic confirmed. */
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

export const correction = {
  moved: (entry: string): string => `${entry} moved`,
  named: (names: readonly string[]): string => list(names),
  more: (count: number): string => `${count} more`,
  notBegun: (o: { readonly names: string }): string =>
    `The clinic lead has not answered what the new template corrects: ${o.names}.`,
  notBegunTodo:
    'Left as it is, this could hurt. Ask the clinic lead, or begin on the protocol as it was confirmed.',
  toDesk: 'To the lead’s desk',
  beginAllTheSame: 'Begin all the same',
  beginAllTheSameName: (title: string): string => `Begin ${title} all the same`,
  recorded: 'Not answered at the beginning',
  together: (parts: readonly string[]): string => parts.join(' '),
  because: (o: { readonly what: string; readonly reason: string }): string =>
    `${o.what}. ${o.reason}`,
  notice: (o: { readonly count: number; readonly protocol: string }): string =>
    plural(o.count, {
      one: `The new template corrects 1 thing that could hurt: ${o.protocol}`,
      other: `The new template corrects ${o.count} things that could hurt: ${o.protocol}`,
    }),
  noticeTodo: (names: string): string => `${names}. The clinic lead has not answered yet.`,

  link: 'What the new template corrects',
  linkName: (protocol: string): string => `What the new template corrects in ${protocol}`,
  counts: (o: { readonly count: number; readonly hurting: number }): string =>
    o.count === 0
      ? 'nothing open'
      : plural(o.count, {
          one: o.hurting === 0 ? '1 open' : '1 open, it could hurt',
          other: `${o.count} open, ${o.hurting} of them could hurt`,
        }),
  title: (protocol: string): string => `What the new template corrects: ${protocol}`,
  lede: (o: {
    readonly revision: number;
    readonly hash: string;
    readonly template: string;
  }): string =>
    `Revision ${o.revision} (${o.hash}) stays as it was confirmed. Template ${o.template} differs from it as follows. The instructions of the product in hand govern.`,
  none: 'The template corrects nothing that is open in this revision.',
  noRevision:
    'No revision of this protocol is confirmed here, so the template is used as it ships.',
  unreadable: 'What the templates correct could not be read.',
  couldHurt: 'Could hurt',
  couldHurtLede: 'Every patient case names these as it begins, until each is answered.',
  also: 'Also corrected',
  source: (source: string): string => `Source: ${source}`,
  noSource: 'No source given',
  sides: { before: 'Confirmed here', after: 'New template' },
  typed:
    'Confirmed here against product instructions, which govern. Read them again before you answer.',
  inDraft: 'Taken over in a draft that is not confirmed yet.',
  toDraft: 'Read the draft',
  kept: (o: { readonly by: string; readonly on: string; readonly reason: string }): string =>
    `Kept by ${o.by}, ${o.on}: ${o.reason}`,
  answers: { take: 'Take over', keep: 'Keep ours', later: 'Later' },
  answer: (what: string): string => `Answer: ${what}`,
  reasonName: (what: string): string => `Why ours is kept: ${what}`,
  others: 'Other changes of the template',
  othersLede: 'No reasons are given for these. They are taken over only where you say so.',
  othersCount: (count: number): string =>
    plural(count, { one: '1 other change', other: `${count} other changes` }),
  otherAnswers: { take: 'Take over', later: 'Leave' },
  takeHurting: 'Take over all that could hurt',
  takeAll: 'Take over everything',
  leaveAll: 'Leave all for later',
  summary: (o: { readonly take: number; readonly keep: number; readonly later: number }): string =>
    `Take over: ${o.take}. Keep: ${o.keep}. Later: ${o.later}.`,
  along: 'Whatever else these need is taken over too; the draft lists it.',
  applyLede:
    'What is taken over goes into a draft, to be read and confirmed like any other. What is kept goes into the log with its reason.',
  apply: 'Save these answers',
  reasonMissing: 'Say why for each that is kept.',
  nothingChosen: 'Nothing is chosen: take something over, or keep something and say why.',
  doesNotFit:
    'Together these changes do not make a valid protocol. Choose others, or take over everything.',
};
