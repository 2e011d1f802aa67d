import { type ReactNode, useState } from 'react';
import { Link } from 'wouter';
import { present, unreachable } from '../../../base/assert.ts';
import type { Result } from '../../../base/result.ts';
import type { Conflict, Teller } from '../../../runtime/sharing/conflicts.ts';
import { conflictWords } from '../../../words/conflict-words.ts';
import { peopleWords } from '../../../words/people-words.ts';
import { todayWords } from '../../../words/today-words.ts';
import { Banner, EmptyState } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { Section } from '../../parts/Page.tsx';
import { fieldTold } from '../../shared/differing-model.ts';
import { Frame } from '../../shared/Frame.tsx';
import { useStock } from '../../shared/materials-hooks.ts';
import { useApp, useSession, useTimes } from '../../shared/session-context.ts';
import { useLoaded } from '../../shared/use-loaded.ts';
import { TABLETS } from './places.ts';
import { preparedParts } from './prepared-parts.ts';
import { nameOf } from './tablet-names.ts';
import { useIsReader, useShared, useSharing } from './use-sharing.ts';

type Of<K extends Conflict['kind']> = Extract<Conflict, { readonly kind: K }>;

const keyOf = (one: Conflict): string =>
  `${one.kind} ${one.id} ${one.kind === 'material' ? one.field : ''} ${one.kind === 'protocol' ? one.revision : ''} ${one.kind === 'visit' ? one.visit : ''}`;

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

type OnSettled = (words: string) => void;

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
    default:
      return unreachable(conflict);
  }
}

/** Two or more sides beside each other; each with who said it, on which tablet and when. */
function Sides(o: {
  readonly kind: Conflict['kind'];
  readonly title: string;
  readonly sides: readonly (Teller & { readonly shown: ReactNode })[];
  /** Chooses a side by its place; left out where the choice is made elsewhere. */
  readonly choose?: (at: number) => Promise<Result<unknown, unknown>>;
  readonly onSettled?: OnSettled;
  readonly children?: ReactNode;
}) {
  const { title, sides, choose } = o;
  const isReader = useIsReader();
  const [isBusy, setBusy] = useState(false);
  const [isLost, setLost] = useState(false);
  const press = async (at: number): Promise<void> => {
    if (choose === undefined) return;
    setBusy(true);
    const kept = await choose(at).finally(() => setBusy(false));
    setLost(!kept.ok);
    if (kept.ok) o.onSettled?.(conflictWords.chosen(title));
  };
  return (
    <Section title={title} lede={conflictWords.kinds[o.kind]}>
      {isLost && <Banner tone="attention" words={conflictWords.lost} />}
      <ul className="tablets-sides">
        {sides.map(({ shown, ...teller }, at) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the sides of one conflict keep their order.
          <li key={at} className="tablets-side">
            <div className="tablets-side-value">{shown}</div>
            <Who teller={teller} />
            {choose !== undefined && (
              <Button
                disabled={isBusy || isReader}
                name={conflictWords.chooseName({ n: at + 1, title })}
                onPress={() => void press(at)}
              >
                {conflictWords.choose}
              </Button>
            )}
          </li>
        ))}
      </ul>
      {o.children}
    </Section>
  );
}

function Who({ teller }: { readonly teller: Teller }) {
  const tablets = useShared((s) => s.tablets);
  const own = useApp((s) => s.settings.tablet);
  const times = useTimes();
  const named = teller.tablet === '' ? conflictWords.unknownTablet : nameOf(tablets, teller.tablet);
  const isKnown = tablets.some(
    ({ device, tablet: id }) => device === teller.tablet || id === teller.tablet,
  );
  const ownName = isKnown ? conflictWords.thisTablet(named) : conflictWords.own;
  const tablet = teller.tablet !== '' && teller.tablet === own ? ownName : named;
  const when = times.moment(teller.atWallMs);
  const { by } = teller;
  const words =
    by === null || by === ''
      ? conflictWords.sideOn({ tablet, when })
      : conflictWords.sideBy({ tablet, by, when });
  return <p className="lw-quiet">{words}</p>;
}

function Prepared(o: { readonly conflict: Of<'prepared-case'>; readonly onSettled: OnSettled }) {
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

function MaterialField(o: { readonly conflict: Of<'material'>; readonly onSettled: OnSettled }) {
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

function ForkEnds({ conflict }: { readonly conflict: Of<'fork'> }) {
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

function SheetSides({ conflict }: { readonly conflict: Of<'sheet'> }) {
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

function PersonSides(o: { readonly conflict: Of<'person'>; readonly onSettled: OnSettled }) {
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

function VisitSides({ conflict }: { readonly conflict: Of<'visit'> }) {
  const { dateOf } = useTimes();
  return (
    <Sides
      kind="visit"
      title={conflict.title}
      sides={conflict.sides.map((side) => ({
        ...side,
        shown: (
          <p>
            {side.onDay === null
              ? conflictWords.visitStruck(side.reason)
              : conflictWords.visitSide({ on: dateOf(side.onDay), units: side.units })}
          </p>
        ),
      }))}
    >
      <p>{conflictWords.visitTodo}</p>
      <p>
        <Link className="lw-way" href={`/follow-up/${conflict.id}`}>
          {conflictWords.toFollowUp}
        </Link>
      </p>
    </Sides>
  );
}

const HASH_SHOWN = 8;

function ProtocolSides({ conflict }: { readonly conflict: Of<'protocol'> }) {
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
