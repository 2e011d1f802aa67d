/**
 * Which language people read and hear. English ships in `en`, in files that each screen brings
 * along; another language is one folder beside it, whose catalogue is handed to {@link speak} before
 * anything is drawn. What a language lacks the compiler names: see `catalogue.ts`.
 */
import type { Catalogue } from './catalogue.ts';
import type { LanguageTag } from './grammar.ts';

const ENGLISH: LanguageTag = 'en';

let spokenHere: { readonly tag: LanguageTag; readonly catalogue: Catalogue | null } = {
  tag: ENGLISH,
  catalogue: null,
};

/** Sets the language of this page or this command, once, at its start. Null is English. */
export function speak(tag: LanguageTag, catalogue: Catalogue | null): void {
  spokenHere = { tag, catalogue };
}

export function languageTag(): LanguageTag {
  return spokenHere.tag;
}

/**
 * The texts of one topic in the language of this page: each is looked up when it is read, so that a
 * text must be read where it is shown and not kept in a constant.
 */
export function spoken<T extends keyof Catalogue>(topic: T, english: Catalogue[T]): Catalogue[T] {
  return new Proxy(english, {
    get: (texts, name) => Reflect.get(spokenHere.catalogue?.[topic] ?? texts, name),
  });
}
