import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { languageOf, reads } from '../../src/protocol/language-tag.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { parseTranslation, type Translation } from '../../src/protocol/parse-translation.ts';
import { toldTexts } from '../../src/protocol/told-texts.ts';
import { translate } from '../../src/protocol/translate.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';

const FOLDER = new URL('../../shared/protocols/', import.meta.url);

const shipped = readdirSync(FOLDER)
  .filter((name) => name.endsWith('.json') && name !== 'corrections.json')
  .map((name) => ({
    name,
    raw: JSON.parse(readFileSync(new URL(name, FOLDER), 'utf8')) as Record<string, unknown>,
  }));

function parsed(raw: unknown): Protocol {
  const read = parseProtocol(raw);
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return read.value;
}

/** SHA-256 as Node's OpenSSL computes it, beside the app's own. */
const hashOf = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex');

const translationOf = (
  protocol: Protocol,
  change = (text: string) => `«${text}»`,
): Translation => ({
  protocol: protocol.id,
  language: 'xx',
  texts: Object.fromEntries(toldTexts(protocol).map((text) => [hashOf(text), change(text)])),
});

/** Members that name something else: ids, codes, names that documents match by, citations, quotations. */
const NO_TEXTS =
  /\.(format|id|kind|stage|step|per|by|link|edge|restorations|materials|materialClass|standsFor|citation|doi|source|rangeClass|mishap|match|protects|severity|roundOf|beginsWith|wayBack|earlier|slot|of|against|walk|surfaces|redo|uses|onlyAfter|voided|unit|option|choice|fact|is|isNot|default|equals|field|list|confirmedBy)$/;

/** Every string of a document with its path, without list numbers. */
function stringsOf(value: unknown, path = ''): [string, string][] {
  if (typeof value === 'string') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) =>
    stringsOf(inner, Array.isArray(value) ? path : `${path}.${key}`),
  );
}

/** Cautions of a step and of a way back are ids; those of the document are texts. */
const isText = ([path]: [string, string]): boolean =>
  !NO_TEXTS.test(path) && path !== '.steps.cautions' && path !== '.waysBack.cautions';

describe('a translation', () => {
  it('the seven shipped documents are looked at', () => {
    expect(shipped).toHaveLength(7);
  });

  it.each(shipped)('says every text that people read in $name', ({ raw }) => {
    const protocol = parsed(raw);
    const { protocol: told, missing } = translate(protocol, translationOf(protocol));
    expect(missing).toBe(0);
    const texts = stringsOf(raw).filter(isText);
    expect(texts.length).toBeGreaterThan(100);
    const shown = stringsOf(told);
    expect(shown).toHaveLength(stringsOf(raw).length);
    expect(shown.filter(isText)).toEqual(texts.map(([path, text]) => [path, `«${text}»`]));
    expect(shown.filter((s) => !isText(s))).toEqual(stringsOf(raw).filter((s) => !isText(s)));
  });

  it.each(shipped)('counts every text of $name that it does not have', ({ raw }) => {
    const protocol = parsed(raw);
    const empty = { protocol: protocol.id, language: 'xx', texts: {} };
    const all = new Set(
      stringsOf(raw)
        .filter(isText)
        .map(([, text]) => text),
    );
    const none = translate(protocol, empty);
    expect(none.missing).toBe(all.size);
    expect(none.protocol).toEqual(protocol);
  });

  it.each(shipped)('changes neither $name nor its hash', ({ raw }) => {
    const protocol = parsed(raw);
    const before = canonicalText(protocol);
    const hash = protocolHash(protocol);
    const { protocol: told } = translate(protocol, translationOf(protocol));
    expect(canonicalText(protocol)).toBe(before);
    expect(protocolHash(protocol)).toBe(hash);
    expect(told).not.toBe(protocol);
    expect(parsed(told)).toEqual(told);
  });

  it('one letter of a text loses exactly the translation of that text', () => {
    const [first] = shipped;
    const protocol = parsed(first?.raw);
    const translation = translationOf(protocol);
    const [step, ...others] = protocol.steps;
    if (step === undefined) throw new Error('a step was expected');
    const changed = { ...protocol, steps: [{ ...step, why: 'Otherwise' }, ...others] };
    const { protocol: told, missing } = translate(changed, translation);
    expect(missing).toBe(1);
    const kept = stringsOf(told).filter((s) => isText(s) && !s[1].startsWith('«'));
    expect(kept).toEqual([['.steps.why', 'Otherwise']]);
  });

  it('words of a press that do not name the tooth are not taken', () => {
    const protocol = parsed(shipped.find(({ name }) => name.includes('separate-bottle'))?.raw);
    const lost = translationOf(protocol, (text) => text.replace('{subject}', 'it'));
    const named = toldTexts(protocol).filter((text) => text.includes('{subject}'));
    expect(named.length).toBeGreaterThan(5);
    const { protocol: told, missing } = translate(protocol, lost);
    expect(missing).toBe(named.length);
    expect(toldTexts(told)).toEqual(expect.arrayContaining(named));
  });
});

describe('a file of translations', () => {
  const good = { protocol: 'preparation', language: 'de-AT', texts: { [hashOf('Etch')]: 'Ätzen' } };

  it('is read', () => {
    expect(parseTranslation(good)).toEqual({ ok: true, value: good });
  });

  it.each([
    ['translation', 'a list', []],
    ['translation.language', 'no language', { protocol: good.protocol, texts: good.texts }],
    ['translation.language', 'an impossible tag', { ...good, language: 'Deutsch, AT' }],
    ['translation.protocol', 'a name for an id', { ...good, protocol: 'Preparation visit' }],
    ['translation.texts.Etch', 'a text for a hash', { ...good, texts: { Etch: 'Ätzen' } }],
    [
      `translation.texts["${hashOf('a').slice(0, 58)}…]`,
      'an empty text',
      { ...good, texts: { [hashOf('a')]: '' } },
    ],
    ['translation.author', 'an unknown key', { ...good, author: 'somebody' }],
  ])('at %s one problem tells of %s', (place, _what, value) => {
    const read = parseTranslation(value);
    expect(read.ok ? [] : read.error.map((p) => p.place)).toEqual([place]);
  });
});

describe('the language of a protocol', () => {
  const raw = shipped[0]?.raw ?? {};

  it('is English when nothing is said, which leaves the hash of every document as it was', () => {
    const protocol = parsed(raw);
    expect('language' in protocol).toBe(false);
    expect(languageOf(protocol)).toBe('en');
    expect(protocolHash(protocol)).toBe(hashOf(canonicalText(raw)));
  });

  it('is part of the document and so of its hash', () => {
    const german = parsed({ ...raw, language: 'de' });
    expect(languageOf(german)).toBe('de');
    expect(protocolHash(german)).not.toBe(protocolHash(parsed(raw)));
  });

  // Examples of RFC 5646, appendix A.
  it.each(['de', 'zh-Hant', 'zh-cmn-Hans-CN', 'sl-rozaj-biske', 'de-CH-1901', 'es-419', 'en-XA'])(
    'may be %s',
    (language) => {
      expect(parseProtocol({ ...raw, language }).ok).toBe(true);
    },
  );

  // "de-419-DE" and "a-DE" are the invalid examples there.
  it.each(['', 'e', 'englishman', 'de-419-DE', 'a-DE', 'de_AT', 'en ', 7])(
    'is refused with one problem and its place when it is %j',
    (language) => {
      const read = parseProtocol({ ...raw, language });
      expect(read.ok ? [] : read.error).toEqual([
        expect.objectContaining({ place: 'protocol.language', code: 'bad-value' }),
      ]);
    },
  );

  it('is read as it stands by who reads the language, of whatever country', () => {
    expect(reads('en', 'en')).toBe(true);
    expect(reads('en', 'en-GB')).toBe(true);
    expect(reads('en', 'EN-gb')).toBe(true);
    expect(reads('de', 'en')).toBe(false);
    expect(reads('en-XA', 'en')).toBe(false);
    expect(reads('e', 'en')).toBe(false);
  });
});
