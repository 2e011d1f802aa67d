import { Link } from 'wouter';
import type { CaseAhead, SlotAhead } from '../../../runtime/stock/shelf-ahead.ts';
import { shelfAheadWords } from '../../../words/shelf-ahead-words.ts';
import { Disclosure } from '../../parts/Facts.tsx';
import { Section } from '../../parts/Page.tsx';
import { StateMark } from '../../parts/StateMark.tsx';
import { useTimes } from '../../shared/session-context.ts';
import { useShelfAhead } from '../../shared/use-shelf-ahead.ts';

/** What the shelf will lack on the days of the prepared cases. */
export function MaterialsAhead() {
  const ahead = useShelfAhead(Date.now());
  if (ahead.length === 0) return null;
  // What a clinic never had on its list is folded away: it would hide what runs out.
  const isQuiet = (one: CaseAhead): boolean => one.isKnown && one.slots.every((s) => s.isUnlisted);
  const told = ahead.filter((one) => !isQuiet(one));
  const quiet = ahead.filter(isQuiet);
  return (
    <Section title={shelfAheadWords.title} lede={shelfAheadWords.lede}>
      <Cases cases={told} />
      {quiet.length > 0 && (
        <Disclosure summary={shelfAheadWords.neverListed(quiet.length)}>
          <Cases cases={quiet} />
        </Disclosure>
      )}
    </Section>
  );
}

function Cases({ cases }: { readonly cases: readonly CaseAhead[] }) {
  return (
    <ul className="shelf">
      {cases.map((one) => (
        <Case key={one.id} one={one} />
      ))}
    </ul>
  );
}

function Case({ one }: { readonly one: CaseAhead }) {
  const times = useTimes();
  const listed = one.slots.filter(({ isUnlisted }) => !isUnlisted);
  const unlisted = one.slots.flatMap(({ isUnlisted, label }) => (isUnlisted ? [label] : []));
  return (
    <li>
      <span>
        <Link href={`/plan/${one.id}`}>{one.title}</Link>
        <span className="lw-quiet stock-more">
          {one.day === null ? shelfAheadWords.undated : times.dateOf(one.day)}
        </span>
        <span className="lw-quiet stock-more">{one.chartRef}</span>
      </span>
      <ul className="shelf-slots">
        {!one.isKnown && (
          <li className="stock-state">
            <StateMark shape="empty" />
            <span>{shelfAheadWords.untold}</span>
          </li>
        )}
        {listed.map((slot) => (
          <Slot key={slot.slot} slot={slot} />
        ))}
        {unlisted.length > 0 && (
          <li className="stock-state">
            <StateMark shape="empty" />
            <span className="lw-quiet">{shelfAheadWords.unlisted(unlisted)}</span>
          </li>
        )}
      </ul>
    </li>
  );
}

function Slot({ slot }: { readonly slot: SlotAhead }) {
  const times = useTimes();
  const { isMissing, isAnotherLeft, lots, label } = slot;
  const head = isMissing
    ? lots.length === 0
      ? shelfAheadWords.usedUp(slot)
      : shelfAheadWords.missing(slot)
    : isAnotherLeft
      ? shelfAheadWords.another(label)
      : shelfAheadWords.noneLeft(label);
  return (
    <li className="stock-state" data-mark={isMissing ? 'broken' : 'full'}>
      <StateMark shape={isMissing ? 'broken' : 'part'} />
      <span>
        {head}
        {lots.map(({ id, label: own, lot, why, lastDay }) => (
          <span key={id} className="stock-more">
            <Link href={`/materials/${id}`}>
              {shelfAheadWords.lots[why]({
                label: own,
                lot,
                day: lastDay === null ? '' : times.dateOf(lastDay),
              })}
            </Link>
          </span>
        ))}
      </span>
    </li>
  );
}
