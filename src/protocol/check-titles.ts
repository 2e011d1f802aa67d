/**
 * Titles that cannot be read from two metres, and steps behind the signature, which is the dentist's word
 * on the whole case and ends it.
 */
import { caution, type Finding } from './finding.ts';
import type { Protocol, Step } from './types.ts';

/** What one line of the chair holds, in characters. */
const TITLE_MAX = { steps: 14, windows: 24 } as const;

const PARTS = ['steps', 'windows'] as const;

function longTitles(protocol: Protocol): readonly Finding[] {
  return PARTS.flatMap((part) =>
    protocol[part].flatMap(({ title }, i) => {
      const [length, max] = [[...title].length, TITLE_MAX[part]];
      const values = { title, length, max };
      return length <= max
        ? []
        : [caution('title-too-long', `protocol.${part}[${i}].title`, values)];
    }),
  );
}

/** Known by its words in the languages that protocols have come in. */
const SIGNED = /\b(?:sign(?:s|ed|ature)?|unterschr\p{L}*|unterzeichn\p{L}*|firm[ao]\p{L}*)\b/iu;

const isSignature = ({ title, per, by, action, words }: Step): boolean =>
  per === 'case' &&
  by === 'dentist' &&
  action.kind === 'confirm' &&
  SIGNED.test(`${title} ${words?.end ?? ''}`);

function afterSignature({ steps }: Protocol): readonly Finding[] {
  const at = steps.findLastIndex(isSignature);
  const signature = steps[at];
  if (signature === undefined) return [];
  return steps.slice(at + 1).map(({ title }, i) =>
    caution('after-signature', `protocol.steps[${at + 1 + i}]`, {
      title,
      signature: signature.title,
    }),
  );
}

export function checkTitles(protocol: Protocol): readonly Finding[] {
  return [...longTitles(protocol), ...afterSignature(protocol)];
}
