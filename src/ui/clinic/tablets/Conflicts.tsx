import { useState } from 'react';
import { Link } from 'wouter';
import { present, unreachable } from '../../../base/assert.ts';
import type { Conflict } from '../../../runtime/sharing/conflicts.ts';
import { conflictWords } from '../../../words/conflict-words.ts';
import { peopleWords } from '../../../words/people-words.ts';
import { todayWords } from '../../../words/today-words.ts';
import { Banner, EmptyState } from '../../parts/Banner.tsx';
import { fieldTold } from '../../shared/differing-model.ts';
import { Frame } from '../../shared/Frame.tsx';
import { useStock } from '../../shared/materials-hooks.ts';
import { useApp, useSession, useTimes } from '../../shared/session-context.ts';
import { useLoaded } from '../../shared/use-loaded.ts';
import { type ConflictOf, type OnSettled, Sides } from './ConflictSides.tsx';
import { QuestionSides, VisitSides, VisitsSides } from './FollowUpConflicts.tsx';
import { TABLETS } from './places.ts';
import { preparedParts } from './prepared-parts.ts';
import { useShared, useSharing } from './use-sharing.ts';

const keyOf = (one: Conflict): string =>
  `${one.kind} ${one.id} ${one.kind === 'material' ? one.field : ''} ${one.kind === 'protocol' ? one.revision : ''} ${one.kind === 'visit' ? one.visit : ''} ${one.kind === 'visits' ? `${one.of} ${one.unit} ${one.sides[0]?.onDay}` : ''}`;

/** Everything that two tablets tell differently: both sides, who said them where, and the choice. */
export function Conflicts() {
  const sharing = useSharing();
  const count = useShared((s) => s.conflicts);
  const twice = useApp((s) => s.preparedTwice);
  const protocols = useApp((s) => s.protocols);
  const differing = useStock((s) => s.differing);
  const [settled, setSettled] = useState<string | null>(null);
  const loaded = useLoaded(
    () => sharing.conflicts(),
    [sharing],
    [count, twice, protocols, differing, settled],
  );
  const found = loaded.value?.ok === true ? loaded.value.value : null;
  const isFailed = loaded.state === 'failed' || loaded.value?.ok === false;
  return (
    <Frame
      place="clinic"
      title={conflictWords.title}
      lede={conflictWords.lede}
      actions={<Link href={TABLETS}>{conflictWords.back}</Link>}
    >
      <p role="status" className="tablets-settled">
        {settled ?? ''}
      </p>
      {isFailed && <Banner tone="attention" words={conflictWords.notRead} />}
      {found === null && !isFailed && <p>{conflictWords.reading}</p>}
      {found?.length === 0 && <EmptyState words={conflictWords.none} />}
      {found?.map((one) => (
        <One key={keyOf(one)} conflict={one} onSettled={setSettled} />
      ))}
      {found !== null && found.length > 0 && <p className="lw-quiet">{conflictWords.clock}</p>}
    </Frame>
  );
}

function One({
  conflict,
  onSettled,
}: {
  readonly conflict: Conflict;
  readonly onSettled: OnSettled;
}) {
  switch (conflict.kind) {
    case 'prepared-case':
      return <Prepared conflict={conflict} onSettled={onSettled} />;
    case 'material':
      return <MaterialField conflict={conflict} onSettled={onSettled} />;
    case 'fork':
      return <ForkEnds conflict={conflict} />;
    case 'sheet':
      return <SheetSides conflict={conflict} />;
    case 'protocol':
      return <ProtocolSides conflict={conflict} />;
    case 'person':
      return <PersonSides conflict={conflict} onSettled={onSettled} />;
    case 'visit':
      return <VisitSides conflict={conflict} />;
    case 'visits':
      return <VisitsSides conflict={conflict} />;
    case 'question':
      return <QuestionSides conflict={conflict} />;
    default:
      return unreachable(conflict);
  }
}

function Prepared(o: {
  readonly conflict: ConflictOf<'prepared-case'>;
  readonly onSettled: OnSettled;
}) {
  const { title, shown, sides } = o.conflict;
  const session = useSession();
  const protocols = useApp((s) => s.protocols);
  const times = useTimes();
  const parts = preparedParts(
    sides.map(({ spec }) => spec),
    { protocols, times },
  );
  const choose = (at: number) => {
    const spec = sides[at]?.spec ?? shown;
    // Whichever holds, an allergy that one of them names is never lost by it.
    const { allergies } = shown;
    return session.saveCase(allergies === undefined ? spec : { ...spec, allergies });
  };
  return (
    <Sides
      kind="prepared-case"
      title={title}
      choose={choose}
      onSettled={o.onSettled}
      sides={sides.map((side, at) => ({
        ...side,
        shown: (
          <ul>
            {parts.map(({ part, values }) => {
              const name = todayWords.caseParts[part];
              const value = values?.[at];
              return (
                <li key={part}>
                  {value === undefined
                    ? conflictWords.partOnly(name)
                    : conflictWords.part({ part: name, value: value || conflictWords.nothing })}
                </li>
              );
            })}
          </ul>
        ),
      }))}
    >
      {parts.some(({ part }) => part === 'allergies') && <p>{conflictWords.allergies}</p>}
    </Sides>
  );
}

function MaterialField(o: {
  readonly conflict: ConflictOf<'material'>;
  readonly onSettled: OnSettled;
}) {
  const { id, field, sides } = o.conflict;
  const { stock } = useSession();
  const times = useTimes();
  const label = fieldTold(field, null, times)?.label ?? field;
  const choose = (at: number) => stock.settle(id, { field, value: sides[at]?.value ?? null });
  return (
    <Sides
      kind="material"
      title={conflictWords.materialTitle(o.conflict)}
      choose={choose}
      onSettled={o.onSettled}
      sides={sides.map((side) => ({
        ...side,
        shown: (
          <p>
            {conflictWords.part({
              part: label,
              value: fieldTold(field, side.value, times)?.value ?? conflictWords.nothing,
            })}
          </p>
        ),
      }))}
    />
  );
}

function ForkEnds({ conflict }: { readonly conflict: ConflictOf<'fork'> }) {
  const { id, at } = conflict;
  const known = useApp((s) => s.cases.find(({ caseId }) => caseId === id)?.title);
  const title = known ?? conflictWords.forkCase;
  return (
    <Sides
      kind="fork"
      title={conflictWords.forkTitle({ title, at: at + 1 })}
      sides={conflict.sides.map((side) => ({
        ...side,
        shown: (
          <>
            <p>{conflictWords.forkSide(side.entries)}</p>
            {side.withoutPen && <p>{conflictWords.withoutPen}</p>}
          </>
        ),
      }))}
    >
      <p>{conflictWords.forkTodo}</p>
      <p>
        <Link className="lw-way" href={`/record/${id}`}>
          {conflictWords.toRecord}
        </Link>
      </p>
    </Sides>
  );
}

function SheetSides({ conflict }: { readonly conflict: ConflictOf<'sheet'> }) {
  return (
    <Sides
      kind="sheet"
      title={conflict.title}
      sides={conflict.sides.map((side) => ({
        ...side,
        shown: <p>{conflictWords.sheetSide(side)}</p>,
      }))}
    >
      <p>{conflictWords.sheetTodo}</p>
      <p>
        <Link className="lw-way" href={`/lead/sheets/${conflict.id}`}>
          {conflictWords.toSheet}
        </Link>
      </p>
    </Sides>
  );
}

function PersonSides(o: {
  readonly conflict: ConflictOf<'person'>;
  readonly onSettled: OnSettled;
}) {
  const { name, sides } = o.conflict;
  const { people } = useSession();
  const choose = (at: number) => people.list(present(sides[at], 'a side'));
  return (
    <Sides
      kind="person"
      title={name}
      choose={choose}
      onSettled={o.onSettled}
      sides={sides.map((side) => ({
        ...side,
        shown: <p>{peopleWords.line({ name: side.name, role: peopleWords.roles[side.role] })}</p>,
      }))}
    />
  );
}

const HASH_SHOWN = 8;

function ProtocolSides({ conflict }: { readonly conflict: ConflictOf<'protocol'> }) {
  const { id, sides } = conflict;
  const compared = [id, ...sides.slice(0, 2).map(({ hash }) => hash)].map(encodeURIComponent);
  return (
    <Sides
      kind="protocol"
      title={conflictWords.protocolTitle(conflict)}
      sides={sides.map((side) => ({
        ...side,
        shown: <p>{conflictWords.protocolSide(side.hash.slice(0, HASH_SHOWN))}</p>,
      }))}
    >
      <p>{conflictWords.protocolTodo}</p>
      <p>
        <Link className="lw-way" href={`/lead/history/${compared.join('/')}`}>
          {conflictWords.toCompare}
        </Link>
      </p>
    </Sides>
  );
}
