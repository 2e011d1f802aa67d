import type { ReactNode } from 'react';
import { sheetWords } from '../../../words/product-sheet-words.ts';
import { EmptyState } from '../../parts/Banner.tsx';
import { Frame } from '../../shared/Frame.tsx';
import { LeadDeskActions } from '../LeadDeskActions.tsx';
import { SheetChanges } from './SheetChanges.tsx';
import { SheetKept } from './SheetKept.tsx';
import { SheetReading } from './SheetReading.tsx';
import { SheetsHome } from './SheetsHome.tsx';
import { useSheets, useSheetsRead } from './use-sheets.ts';
import './sheets.css';

/** What stands in the address in place of a sheet's id, before a device identifier. */
const LABEL = 'label';

/** The pages of the product sheets: all of them, one, one being typed, and what one changes. */
export function Sheets(props: {
  readonly id: string | undefined;
  readonly view?: string | undefined;
}) {
  useSheetsRead();
  const { id, view } = props;
  const isRead = useSheets((s) => s.isRead);
  const entry = useSheets((s) => s.entries.find((e) => e.id === id));
  const draft = useSheets((s) => s.drafts.find((d) => d.id === id));
  if (!isRead) return <Plain>{sheetWords.reading}</Plain>;
  if (id === undefined) return <SheetsHome identifier={null} />;
  if (id === LABEL) return <SheetsHome identifier={view ?? null} />;
  const isTyped = view === 'read' || entry === undefined;
  if (isTyped && draft !== undefined) return <SheetReading draft={draft} />;
  if (entry === undefined) return <Gone />;
  return view === 'changes' ? <SheetChanges entry={entry} /> : <SheetKept entry={entry} />;
}

function Plain({ children }: { readonly children: ReactNode }) {
  return (
    <Frame place="protocols" title={sheetWords.title} actions={<LeadDeskActions />}>
      <p className="lw-aside">{children}</p>
    </Frame>
  );
}

function Gone() {
  return (
    <Frame place="protocols" title={sheetWords.gone} actions={<LeadDeskActions />}>
      <EmptyState words={sheetWords.gone} advice={sheetWords.goneTodo} />
    </Frame>
  );
}
