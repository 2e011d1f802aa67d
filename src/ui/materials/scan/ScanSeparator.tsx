import { scanWords } from '../../../words/scan-words.ts';
import { TextField } from '../../parts/Field.tsx';
import { useStock } from '../../shared/materials-hooks.ts';
import { useSession } from '../../shared/session-context.ts';

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
