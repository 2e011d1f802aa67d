import { jsonText } from '../../../base/json.ts';
import { escapeUnseen } from '../../../base/unseen.ts';
import { recordWords } from '../../../words/record-words.ts';
import { Disclosure } from '../../parts/Facts.tsx';

/** What was set apart of a case, as it was found; nothing where nothing was. */
export function RecordApart({ contents }: { readonly contents: readonly unknown[] }) {
  if (contents.length === 0) return null;
  return (
    <Disclosure summary={recordWords.apartOf(contents.length)}>
      <ol className="record-apart">
        {contents.map((content, n) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: what was set apart has no name but its place.
          <li key={n}>
            <pre>{escapeUnseen(jsonText(content))}</pre>
          </li>
        ))}
      </ol>
    </Disclosure>
  );
}
