import { useMemo, useState } from 'react';
import { Link } from 'wouter';
import { lostSpots, type SheetChange } from '../../../protocol/sheet-changes.ts';
import type { ProductSheet } from '../../../protocol/sheet-types.ts';
import type { ProtocolEntry } from '../../../runtime/app-state.ts';
import {
  makeDraft,
  type SheetEffect,
  sheetEffects,
} from '../../../runtime/lead/sheet-take-over.ts';
import type { SheetEntry } from '../../../runtime/lead/sheets.ts';
import { leadWords } from '../../../words/lead-words.ts';
import { sheetWords } from '../../../words/product-sheet-words.ts';
import { Banner, EmptyState } from '../../parts/Banner.tsx';
import { Button } from '../../parts/Button.tsx';
import { Frame } from '../../shared/Frame.tsx';
import { useApp } from '../../shared/session-context.ts';
import { LeadDeskActions } from '../LeadDeskActions.tsx';
import { sheetPlace } from '../lead-places.ts';
import { useDeed } from '../use-deed.ts';
import { useLead, useLeadDesk } from '../use-lead.ts';
import { SheetProtocol } from './SheetProtocol.tsx';

/** Names one place of one line, for what the lead takes out. */
const changeKey = ({ line, spot }: SheetChange): string =>
  `${line.id} ${spot.protocol} ${spot.id} ${spot.key}`;

/** What a sheet would change in the protocols in force, and the drafts that do it. */
export function SheetChanges({ entry }: { readonly entry: SheetEntry }) {
  const [first] = entry.current;
  if (first === undefined) return null;
  return (
    <Frame
      place="protocols"
      title={sheetWords.changesTitle(first.sheet.document)}
      lede={sheetWords.changesLede}
      actions={<LeadDeskActions />}
    >
      <p>
        <Link className="lw-way" href={sheetPlace(entry.id)}>
          {sheetWords.openName(first.sheet.document)}
        </Link>
      </p>
      {entry.current.length > 1 ? (
        <Banner tone="attention" words={sheetWords.apart} advice={sheetWords.apartTodo} />
      ) : (
        <Effects sheet={first.sheet} />
      )}
    </Frame>
  );
}

interface Made {
  readonly id: string;
  readonly title: string;
}

function useEffects(sheet: ProductSheet) {
  const protocols = useApp((s) => s.protocols);
  const drafts = useLead((s) => s.drafts);
  return useMemo(() => sheetEffects(sheet, { protocols, drafts }), [sheet, protocols, drafts]);
}

function Effects({ sheet }: { readonly sheet: ProductSheet }) {
  const desk = useLeadDesk();
  const protocols = useApp((s) => s.protocols);
  const effects = useEffects(sheet);
  const { act, words } = useDeed();
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [made, setMade] = useState<readonly Made[]>([]);
  const chosenOf = ({ changes }: SheetEffect): readonly SheetChange[] =>
    changes.filter((change) => !change.clashes && !left.has(changeKey(change)));
  const concerned = effects.filter((effect) => chosenOf(effect).length > 0);
  const make = async (): Promise<void> => {
    const done: Made[] = [];
    for (const effect of concerned) {
      const id = await act(makeDraft(desk, effect, chosenOf(effect)));
      if (id === null) break;
      done.push({ id, title: effect.inForce.title });
    }
    setMade(done);
  };
  const tick = (changes: readonly SheetChange[], isOn: boolean): void => {
    const next = new Set(left);
    for (const change of changes) {
      if (isOn) next.delete(changeKey(change));
      else next.add(changeKey(change));
    }
    setLeft(next);
  };
  return (
    <>
      {words !== null && <Banner tone="attention" words={leadWords.failed} advice={words} />}
      <Unfinished sheet={sheet} protocols={protocols} />
      {made.length > 0 && <MadeDrafts made={made} />}
      {made.length === 0 && effects.length === 0 && (
        <EmptyState words={sheetWords.changesNone} advice={sheetWords.changesNoneTodo} />
      )}
      {effects.map((effect) => (
        <SheetProtocol
          key={effect.hash}
          effect={effect}
          chosen={chosenOf(effect)}
          entry={protocols.find(({ hash }) => hash === effect.hash)}
          onTick={tick}
        />
      ))}
      {concerned.length > 0 && (
        <div>
          <Button rank="main" onPress={() => void make()}>
            {sheetWords.make(concerned.length)}
          </Button>
        </div>
      )}
    </>
  );
}

/** What of the sheet reaches no protocol: lines that nobody read, places that are gone. */
function Unfinished(props: {
  readonly sheet: ProductSheet;
  readonly protocols: readonly ProtocolEntry[];
}) {
  const { sheet, protocols } = props;
  const unread = sheet.lines.filter(({ read }) => read === undefined).length;
  const lost = protocols.flatMap(({ protocol }) => lostSpots(protocol, sheet));
  return (
    <>
      {unread > 0 && <Banner tone="plain" words={sheetWords.unreadLines(unread)} />}
      {lost.length > 0 && (
        <Banner
          tone="attention"
          words={sheetWords.lost(lost.length)}
          advice={lost.map(({ protocol, id }) => `${protocol}: ${id}`).join(', ')}
        />
      )}
    </>
  );
}

function MadeDrafts({ made }: { readonly made: readonly Made[] }) {
  return (
    <>
      <Banner tone="plain" words={sheetWords.made} />
      <ul className="sheet-made">
        {made.map(({ id, title }) => (
          <li key={id}>
            <Link className="lw-way" href={`/lead/draft/${id}/confirm`}>
              {sheetWords.toDraft(title)}
            </Link>
          </li>
        ))}
      </ul>
    </>
  );
}
