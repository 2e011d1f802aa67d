import { Link } from 'wouter';
import type { Missing } from '../../outcomes/figures/gates.ts';
import type {
  ComparisonShown,
  GroupingShown,
  GroupShown,
  OutcomesModel,
} from '../../outcomes/model/outcomes-types.ts';
import { materialWord } from '../../words/material-words.ts';
import {
  groupWords,
  oneDigit,
  outcomeWords,
  shareWords,
  twoDigits,
  yearsWords,
} from '../../words/outcome-words.ts';
import { EmptyState } from '../parts/Banner.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { Section } from '../parts/Page.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { Table } from '../parts/Table.tsx';
import { useTimes } from '../shared/session-context.ts';
import { GroupCurves } from './GroupCurves.tsx';
import { groupName } from './group-name.ts';
import { type PartProps, titled } from './part-props.ts';

/** What else differs is open where few groups stand beside one another. */
const SHOWN_OPEN = 3;

/** Units by limit, revision, class and lot; compared only where there are enough. */
export function OutcomesGroups({ model, input, isExample }: PartProps) {
  const { groupings, endPoint } = model;
  const hasLimits = (input.reviews.question?.limits.length ?? 0) > 0;
  return (
    <>
      <Section
        title={titled(groupWords.title(outcomeWords.endPoints[endPoint].toLowerCase()), isExample)}
        lede={groupWords.lede}
      >
        <p>{groupWords.noP}</p>
        {!hasLimits && (
          <p>
            {groupWords.limitsFirst}{' '}
            <Link className="lw-way" href="/outcomes/reviews">
              {groupWords.toQuestion}
            </Link>
          </p>
        )}
        {groupings.length === 0 && (
          <EmptyState words={groupWords.nothing} advice={groupWords.nothingTodo} />
        )}
      </Section>
      {groupings.map((grouping) => (
        <Grouping key={grouping.id} grouping={grouping} model={model} isExample={isExample} />
      ))}
    </>
  );
}

/** One way of putting units together: its groups, what else differs, and each beside the rest. */
export function Grouping(o: {
  readonly grouping: GroupingShown;
  readonly model: OutcomesModel;
  readonly isExample: boolean;
}) {
  const { grouping, model } = o;
  const { kind, about, groups, comparisons } = grouping;
  const words = groupWords.kind[kind](about);
  const title = `${words}: ${outcomeWords.endPoints[model.endPoint].toLowerCase()}`;
  // Nobody stands in front of the others.
  const first = kind === 'person' ? undefined : comparisons[0];
  const others = first === undefined ? comparisons : comparisons.slice(1);
  return (
    <Section title={titled(title, o.isExample)} lede={groupWords.association}>
      <ul className="outcomes-lines">
        <li>{groupWords.byChance}</li>
        {(kind === 'limit' || kind === 'limits') && <li>{groupWords.hardCase}</li>}
      </ul>
      <GroupsTable title={title} kind={kind} groups={groups} />
      {grouping.unknown > 0 && <p className="lw-aside">{groupWords.unknown(grouping.unknown)}</p>}
      <Disclosure summary={groupWords.alsoTitle} open={groups.length <= SHOWN_OPEN}>
        <AlsoTable kind={kind} groups={groups} />
      </Disclosure>
      {first !== undefined && <Compared kind={kind} comparison={first} />}
      {others.length > 0 && (
        <Disclosure
          summary={kind === 'person' ? groupWords.eachBeside : groupWords.otherComparisons}
        >
          {others.map((each) => (
            <Compared key={each.key} kind={kind} comparison={each} />
          ))}
        </Disclosure>
      )}
    </Section>
  );
}

function GroupsTable(o: {
  readonly title: string;
  readonly kind: GroupingShown['kind'];
  readonly groups: readonly GroupShown[];
}) {
  const { column } = groupWords;
  return (
    <Table
      caption={o.title}
      captionUnseen
      rows={o.groups}
      rowId={({ name }) => name}
      columns={[
        { id: 'group', label: column.group, heads: true, cell: (g) => groupName(o.kind, g.name) },
        { id: 'lives', label: column.lives, figures: true, cell: (g) => g.lives },
        { id: 'patients', label: column.patients, figures: true, cell: (g) => g.patients },
        { id: 'failures', label: column.failures, figures: true, cell: (g) => g.failures },
        { id: 'unseen', label: column.unseen, figures: true, cell: (g) => g.unseen },
        {
          id: 'rate',
          label: column.rate,
          figures: true,
          cell: ({ rate }) =>
            rate === null
              ? '–'
              : `${twoDigits(rate.per100)} (${outcomeWords.range({ low: twoDigits(rate.low), high: twoDigits(rate.high) })})`,
        },
      ]}
    />
  );
}

function AlsoTable(o: {
  readonly kind: GroupingShown['kind'];
  readonly groups: readonly GroupShown[];
}) {
  const times = useTimes();
  const { column } = groupWords;
  return (
    <Table
      caption={groupWords.alsoTitle}
      captionUnseen
      rows={o.groups}
      rowId={({ name }) => name}
      columns={[
        { id: 'group', label: column.group, heads: true, cell: (g) => groupName(o.kind, g.name) },
        {
          id: 'front',
          label: column.front,
          figures: true,
          cell: (g) => shareWords(g.also.frontTeeth / g.lives),
        },
        {
          id: 'material',
          label: column.material,
          cell: (g) =>
            g.also.materials
              .slice(0, 2)
              .map(([material, count]) =>
                groupWords.materialShare({
                  material: materialWord(material),
                  share: shareWords(count / g.lives),
                }),
              )
              .join(', '),
        },
        {
          id: 'units',
          label: column.units,
          figures: true,
          cell: (g) => oneDigit(g.also.unitsPerCase),
        },
        {
          id: 'bonded',
          label: column.bonded,
          cell: ({ also }) =>
            groupWords.fromTo({
              from: times.dateOf(also.firstBonded),
              to: times.dateOf(also.lastBonded),
            }),
        },
        {
          id: 'unseen',
          label: column.unseen,
          figures: true,
          cell: (g) => shareWords(g.unseen / g.lives),
        },
      ]}
    />
  );
}

/** One comparison: what is missing, or two curves; and in either case what it rests on. */
function Compared(o: {
  readonly kind: GroupingShown['kind'];
  readonly comparison: ComparisonShown;
}) {
  const { kind, comparison } = o;
  const { first, rest, missing, smallestRatio, curves, commonDays } = comparison;
  const names = { first: groupName(kind, first.name), rest: groupName(kind, rest.name) };
  const isLimit = kind === 'limit' || kind === 'limits';
  const empty = first.lives === 0 ? names.first : rest.lives === 0 ? names.rest : null;
  if (empty !== null) return <p className="outcomes-compared">{groupWords.noneIn(empty)}</p>;
  return (
    <div className="outcomes-compared">
      <h3>{groupWords.against(names)}</h3>
      {missing.length > 0 && (
        <div className="outcomes-few">
          <p>
            <StateMark shape="part" /> {groupWords.tooFew}
          </p>
          <ul>
            {missing.map((each) => (
              <li key={`${each.gate} ${each.group ?? ''}`}>{missingWords(each, kind)}</li>
            ))}
          </ul>
        </div>
      )}
      {curves !== null && <GroupCurves curves={curves} names={names} />}
      <ul className="outcomes-lines">
        {[first, rest].map((side) => (
          <li key={side.name}>
            {groupWords.sideLine({
              name: groupName(kind, side.name),
              lives: side.lives,
              patients: side.patients,
              failures: side.failures,
              expected: oneDigit(side.expected),
              unseen: side.unseen,
            })}
          </li>
        ))}
        <li>
          {groupWords.unitsPerPatient({
            ...names,
            firstUnits: oneDigit(first.unitsPerPatient),
            restUnits: oneDigit(rest.unitsPerPatient),
          })}{' '}
          {groupWords.patientsInBoth(comparison.patientsInBoth)}
        </li>
        <li>
          {smallestRatio === null
            ? groupWords.smallestNone
            : groupWords.smallest(oneDigit(smallestRatio))}
        </li>
        <li>
          {groupWords.dating} {isLimit && groupWords.stratified}{' '}
          {commonDays !== null && groupWords.common(yearsWords(commonDays))}
        </li>
      </ul>
    </div>
  );
}

function missingWords({ gate, group, has, needs }: Missing, kind: GroupingShown['kind']): string {
  const of = { group: groupName(kind, group ?? '') };
  switch (gate) {
    case 'completeness':
    case 'completenessApart':
      return groupWords.missing[gate]({ has: shareWords(has), needs: shareWords(needs) });
    case 'expected':
      return groupWords.missing[gate]({ has: oneDigit(has), needs: String(needs), ...of });
    case 'patients':
      return groupWords.missing[gate]({ has, needs, ...of });
    case 'lives':
    case 'patientsWithFailure':
      return groupWords.missing[gate]({ has, needs });
  }
}
