import type { Protocol } from '../../protocol/types.ts';
import { untranslatedWords } from '../../words/protocol-words.ts';

/** Says where a protocol, as it is stored, is shown in its own language; nothing where all is told. */
export function ProtocolLanguage({ protocol }: { readonly protocol: Protocol }) {
  const words = untranslatedWords(protocol);
  return words === null ? null : <p className="lw-quiet">{words}</p>;
}
