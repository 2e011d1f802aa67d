import { chairWords } from '../../words/chair-words.ts';
import './short-cautions.css';

/** Short cautions in one line that wraps; nothing where there is none. */
export function ShortCautions({ lines }: { readonly lines: readonly string[] }) {
  if (lines.length === 0) return null;
  return (
    <ul className="short-cautions" aria-label={chairWords.cautions}>
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
