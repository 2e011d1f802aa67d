import type { Compared, Review } from '../../outcomes/review-types.ts';
import { materialWord } from '../../words/material-words.ts';
import { comparedWords, groupWords, outcomeWords, pWords } from '../../words/outcome-words.ts';
import { Section } from '../parts/Page.tsx';
import { Table } from '../parts/Table.tsx';
import { useTimes } from '../shared/session-context.ts';
import { groupName } from './group-name.ts';
import type { PartProps } from './part-props.ts';
import { titled } from './part-props.ts';
import { QuestionForm } from './QuestionForm.tsx';
import { ReviewMake } from './ReviewMake.tsx';

/** The question, and the yearly reviews: the only place where a p stands. */
export function OutcomesReviews(props: PartProps) {
  const { input, model, isExample } = props;
  const { reviews } = input.reviews;
  return (
    <>
      <QuestionForm {...props} />
      <Section title={titled(groupWords.reviewTitle, isExample)} lede={groupWords.reviewLede}>
        <ul className="outcomes-lines">
          <li>{groupWords.reviewNote}</li>
          <li>{groupWords.association}</li>
          <li>{groupWords.byChance}</li>
          <li>{groupWords.hardCase}</li>
        </ul>
        <ReviewMake {...props} />
        {reviews.length === 0 && <p>{groupWords.reviewNone}</p>}
        {reviews.toReversed().map((review) => (
          <Reviewed key={review.id} review={review} titles={new Map(model.limitTitles)} />
        ))}
      </Section>
    </>
  );
}

function Reviewed(o: { readonly review: Review; readonly titles: ReadonlyMap<string, string> }) {
  const { review } = o;
  const times = useTimes();
  const { reviewColumn: column } = groupWords;
  const name = (compared: Compared): string => {
    const told = comparedWords(compared.grouping, (limit) => o.titles.get(limit) ?? limit);
    const kind = kindOf(compared.grouping);
    const group = kind === 'material' ? materialWord(told.group) : groupName(kind, told.group);
    return `${told.kind}: ${group}`;
  };
  const title = groupWords.reviewOn(times.dateOf(review.onDay));
  const orFew = (p: number | null): string => (p === null ? groupWords.tooFewCell : pWords(p));
  return (
    <div className="outcomes-chart">
      <h3>{title}</h3>
      <p>
        {groupWords.reviewQuestion({
          endPoint: outcomeWords.endPoints[review.question.endPoint],
          on: times.dateOf(review.question.onDay),
        })}
      </p>
      <Table
        caption={title}
        captionUnseen
        rows={review.compared}
        rowId={({ grouping }) => grouping}
        columns={[
          { id: 'compared', label: column.compared, heads: true, cell: name },
          { id: 'lives', label: column.lives, figures: true, cell: ({ lives }) => lives },
          { id: 'patients', label: column.patients, figures: true, cell: (one) => one.patients },
          { id: 'failures', label: column.failures, figures: true, cell: (one) => one.failures },
          { id: 'p', label: column.p, figures: true, cell: ({ p }) => orFew(p) },
          {
            id: 'adjusted',
            label: column.adjusted,
            figures: true,
            cell: ({ adjusted }) => (adjusted === null ? '–' : pWords(adjusted)),
          },
          {
            id: 'permuted',
            label: column.permuted,
            figures: true,
            cell: ({ permuted }) => (permuted === undefined ? '–' : pWords(permuted)),
          },
        ]}
      />
    </div>
  );
}

function kindOf(key: string): Parameters<typeof groupName>[0] {
  const [kind = ''] = key.split(' ');
  const kinds = ['limits', 'limit', 'revision', 'material', 'lot'] as const;
  return kinds.find((each) => each === kind) ?? 'lot';
}
