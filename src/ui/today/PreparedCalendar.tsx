import { useState } from 'react';
import { preparedCalendar } from '../../export/case-calendar.ts';
import { clinicOf } from '../../export/export-clinic.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import type { Protocol } from '../../protocol/types.ts';
import { canShare, saveFile, shareFile } from '../../runtime/cases/share.ts';
import { dueWords } from '../../words/due-words.ts';
import { Button } from '../parts/Button.tsx';
import { useApp, useTablet } from '../shared/session-context.ts';

/** Hands the dates of a prepared case to the calendar of the clinic: share sheet, else a file. */
export function PreparedCalendar({ spec }: { readonly spec: CaseFile }) {
  const tablet = useTablet();
  const protocols = useApp((s) => s.protocols);
  const settings = useApp((s) => s.settings);
  const [words, setWords] = useState<string | null>(null);
  const protocol: Protocol | undefined = protocols.find(
    (p) => p.protocol.id === spec.protocol,
  )?.protocol;
  const hand = async () => {
    const stampedAtMs = tablet.wallNowMs();
    const content = preparedCalendar(spec, {
      stampedAtMs,
      zone: settings.zone,
      clinic: clinicOf(settings),
      ...(protocol ? { protocol } : {}),
    });
    if (content === null) {
      setWords(dueWords.calendarNone);
      return;
    }
    const name = `${spec.chartRef.replaceAll(/[^\p{L}\p{N}-]+/gu, '-')}.ics`;
    const file = { name, type: 'text/calendar', content };
    const isShared = canShare(navigator, file);
    if (!isShared) saveFile(file);
    if (isShared && !(await shareFile(navigator, file))) return;
    setWords(isShared ? dueWords.calendarShared : dueWords.calendarSaved);
  };
  return (
    <>
      <Button rank="quiet" onPress={() => void hand()} name={dueWords.calendarName(spec.title)}>
        {dueWords.calendar}
      </Button>
      {words !== null && <p role="status">{words}</p>}
    </>
  );
}
