import { useState } from 'react';
import { unreachable } from '../../base/assert.ts';
import type { CasesFile } from '../../runtime/cases/cases-export.ts';
import { canShare, saveFile, shareFile } from '../../runtime/cases/share.ts';
import { caseListWords, exportReadyWords } from '../../words/case-list-words.ts';
import { Button } from '../parts/Button.tsx';
import { useApp, useSession, useTablet, useTimes } from '../shared/session-context.ts';

type State =
  | { readonly at: 'rest'; readonly words?: string }
  | { readonly at: 'reading'; readonly done: number }
  | { readonly at: 'ready'; readonly made: CasesFile }
  | { readonly at: 'noting' };

/** Said this often while the file is made. */
const SAY_EVERY = 20;

/** Takes every case that was not exported into one file, and notes it once it was handed on. */
export function CasesExport() {
  const { casesList } = useSession();
  const isReader = useApp((s) => s.standing !== 'writer');
  const times = useTimes();
  const tablet = useTablet();
  const [state, setState] = useState<State>({ at: 'rest' });
  const make = async (): Promise<void> => {
    setState({ at: 'reading', done: 0 });
    try {
      const made = await casesList.exportFile({
        day: times.isoDay(tablet.wallNowMs()),
        onProgress: (done) => {
          if (done % SAY_EVERY === 0) setState({ at: 'reading', done });
        },
      });
      setState({ at: 'ready', made });
    } catch {
      setState({ at: 'rest', words: caseListWords.exportFailed });
    }
  };
  const note = async ({ cases }: CasesFile): Promise<void> => {
    setState({ at: 'noting' });
    const noted = await casesList.markAllExported(cases, 'journals').catch(() => null);
    setState(
      noted?.ok === true ? { at: 'rest' } : { at: 'rest', words: caseListWords.exportNotNoted },
    );
  };
  const save = async (made: CasesFile): Promise<void> => {
    saveFile(made.file);
    await note(made);
  };
  const share = async (made: CasesFile): Promise<void> => {
    if (await shareFile(navigator, made.file)) await note(made);
  };
  return (
    <div className="cases-export">
      {state.at === 'rest' && (
        <Button disabled={isReader} onPress={() => void make()}>
          {caseListWords.exportAll}
        </Button>
      )}
      {state.at === 'ready' && <Ready made={state.made} onSave={save} onShare={share} />}
      <p role="status">{statusWords(state)}</p>
    </div>
  );
}

function statusWords(state: State): string {
  switch (state.at) {
    case 'rest':
      return state.words ?? '';
    case 'reading':
      return caseListWords.exportReading(state.done);
    case 'ready': {
      const { cases, left } = state.made;
      return exportReadyWords({ cases: cases.length, left });
    }
    case 'noting':
      return caseListWords.exportNoting;
    default:
      return unreachable(state);
  }
}

function Ready(o: {
  readonly made: CasesFile;
  readonly onSave: (made: CasesFile) => Promise<void>;
  readonly onShare: (made: CasesFile) => Promise<void>;
}) {
  const { made } = o;
  return (
    <div className="cases-export-ready">
      <Button onPress={() => void o.onSave(made)}>{caseListWords.exportSave}</Button>
      {canShare(navigator, made.file) && (
        <Button onPress={() => void o.onShare(made)}>{caseListWords.exportShare}</Button>
      )}
    </div>
  );
}
