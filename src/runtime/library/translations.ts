/**
 * Brings in the translations that ship in the language of the app. Loaded only where the app speaks
 * another language than the protocols that ship with it.
 */
import { type Problem, problem } from '../../base/problem.ts';
import { parseTranslation, type Translation } from '../../protocol/parse-translation.ts';
import { translate } from '../../protocol/translate.ts';
import { translateProtocols } from '../../words/told-protocol.ts';
import { readShipped } from './read-shipped.ts';

/** What a file gives, by its path `…/translations/<language>/<protocol>.json`. */
export type TranslationFiles = Readonly<Record<string, () => Promise<unknown>>>;

const PLACE = /\/translations\/([^/]+)\/([^/]+)\.json$/;

/** Translations of one language by protocol, and what was wrong with the others. */
export async function readTranslations(
  files: TranslationFiles,
  language: string,
): Promise<{ readonly all: ReadonlyMap<string, Translation>; readonly problems: Problem[] }> {
  const all = new Map<string, Translation>();
  const problems: Problem[] = [];
  for (const [path, load] of Object.entries(files)) {
    const [, folder, id] = PLACE.exec(path) ?? [];
    if (folder !== language || id === undefined) continue;
    const read = await load().then(parseTranslation, () => null);
    if (read === null) problems.push(problem(path, 'a translation that can be read', null));
    else if (!read.ok)
      problems.push(...read.error.map((p) => ({ ...p, place: `${path}: ${p.place}` })));
    else if (read.value.language !== language)
      problems.push(problem(`${path}: translation.language`, language, read.value.language));
    else if (read.value.protocol !== id)
      problems.push(problem(`${path}: translation.protocol`, id, read.value.protocol));
    else all.set(id, read.value);
  }
  return { all, problems };
}

/**
 * From now on protocols are shown in `language`, as far as they are translated. `addresses` gives
 * the address of each file. What is wrong with one is answered; its protocol stays in its own
 * language, and the screens say so.
 */
export async function bringTranslations(
  addresses: TranslationFiles,
  language: string,
): Promise<readonly Problem[]> {
  const files = Object.fromEntries(
    Object.entries(addresses).map(([path, address]) => [
      path,
      async () => readShipped(await address()),
    ]),
  );
  const { all, problems } = await readTranslations(files, language);
  translateProtocols((protocol) => {
    const translation = all.get(protocol.id);
    return translation === undefined ? null : translate(protocol, translation);
  });
  return problems;
}
