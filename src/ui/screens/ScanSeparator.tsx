import { useSession } from '../app/session-context.ts';
import { TextField } from '../parts/Field.tsx';
import { scanWords } from '../words/material-stock-words.ts';
import { useStock } from './materials-hooks.ts';

const LENGTH_MAX = 2;

/** What a scanner types where it cannot send the separator of GS1. */
export function ScanSeparator() {
  const { stock } = useSession();
  const separator = useStock((s) => s.separator);
  return (
    <TextField
      label={scanWords.separator}
      hint={scanWords.separatorHint}
      width="short"
      value={separator}
      onChange={(value) => void stock.saveSeparator(value.slice(0, LENGTH_MAX))}
    />
  );
}
