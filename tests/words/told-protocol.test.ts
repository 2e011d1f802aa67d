import { afterEach, describe, expect, test } from 'vitest';
import { pseudoTranslation, TITLE_LENGTH_MAX } from '../../.ci/vite/pseudo-protocol.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import type { RecordFacts } from '../../src/export/record-types.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import type { Translation } from '../../src/protocol/parse-translation.ts';
import { toldTexts } from '../../src/protocol/told-texts.ts';
import { textHash, translate } from '../../src/protocol/translate.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { readTranslations } from '../../src/runtime/library/translations.ts';
import { speak } from '../../src/words/language.ts';
import { untranslatedWords } from '../../src/words/protocol-words.ts';
import {
  toldLabels,
  toldLog,
  toldProtocol,
  translateProtocols,
} from '../../src/words/told-protocol.ts';
import { followed, sourceOf } from '../export/journals.ts';
import { firstTemplate } from '../plan/documents.ts';

const TEMPLATE = firstTemplate();

afterEach(() => {
  speak('en', null);
  translateProtocols(null);
});

const withLanguage = (language: string): Protocol => {
  const parsed = parseProtocol({ ...TEMPLATE, language });
  if (!parsed.ok) throw new Error('a protocol with a language was expected');
  return parsed.value;
};

const speakPseudo = (translation: Translation): void => {
  speak(translation.language, null);
  translateProtocols((p) => (p.id === translation.protocol ? translate(p, translation) : null));
};

describe('a protocol as people read it', () => {
  test('in its own language it is the very document, and nothing is said of it', () => {
    translateProtocols(() => {
      throw new Error('nothing was to be translated');
    });
    expect(toldProtocol(TEMPLATE)).toBe(TEMPLATE);
    expect(untranslatedWords(TEMPLATE)).toBeNull();
    expect(untranslatedWords(withLanguage('en-GB'))).toBeNull();
  });

  test('it is in the language of the app where all of it is translated', () => {
    speakPseudo(pseudoTranslation(TEMPLATE));
    const told = toldProtocol(TEMPLATE);
    expect(told.summary).toMatch(/^⟦/);
    expect(told.steps.map((s) => s.id)).toEqual(TEMPLATE.steps.map((s) => s.id));
    expect(untranslatedWords(TEMPLATE)).toBeNull();
    // The same document is told once: screens compare by identity.
    expect(toldProtocol(TEMPLATE)).toBe(told);
  });

  test('what is not translated stays, and the screen says how much', () => {
    const whole = pseudoTranslation(TEMPLATE);
    const { [textHash(TEMPLATE.summary)]: _gone, ...texts } = whole.texts;
    speakPseudo({ ...whole, texts });
    expect(toldProtocol(TEMPLATE).summary).toBe(TEMPLATE.summary);
    expect(toldProtocol(TEMPLATE).title).not.toBe(TEMPLATE.title);
    expect(untranslatedWords(TEMPLATE)).toBe(
      '1 text of this protocol is not translated. It is shown in its own language, English.',
    );
  });

  test('one without any translation is shown as written, and the screen says so', () => {
    expect(untranslatedWords(withLanguage('de'))).toBe(
      'This protocol is not translated. It is shown in its own language, German.',
    );
    speakPseudo({ ...pseudoTranslation(TEMPLATE), protocol: 'another' });
    expect(toldProtocol(TEMPLATE)).toBe(TEMPLATE);
    expect(untranslatedWords(TEMPLATE)).toContain('not translated');
  });

  test('a tag that no name is known for is shown as it is', () => {
    expect(untranslatedWords(withLanguage('de-1996-1996'))).toContain('language, de-1996-1996.');
  });

  test('materials are matched by the labels of the documents and called by the translated ones', () => {
    speakPseudo(pseudoTranslation(TEMPLATE));
    const labels = toldLabels([TEMPLATE]);
    expect([...labels.keys()]).toEqual([...new Set(TEMPLATE.slots.map((s) => s.label))]);
    expect([...labels.values()].every((label) => label.startsWith('⟦'))).toBe(true);
    const told = toldProtocol(TEMPLATE).slots;
    expect(told.map((s) => s.materialClass)).toEqual(TEMPLATE.slots.map((s) => s.materialClass));
  });
});

describe('the record of a case', () => {
  test('keeps its entries, ids and hashes, and tells its texts in the language of the app', () => {
    const source = sourceOf(followed('eight-upper-veneers', 40).log);
    const before = JSON.stringify(source.entries);
    const plain = recordFacts(source);
    speakPseudo(pseudoTranslation(TEMPLATE));
    const told = recordFacts(source);
    expect(JSON.stringify(source.entries)).toBe(before);
    expect(told.protocol.title).toMatch(/^⟦/);
    expect({ ...told.protocol, title: plain.protocol.title }).toEqual(plain.protocol);
    const steps = (facts: RecordFacts) => facts.steps.map(({ step, subject }) => [step, subject]);
    expect(steps(told)).toEqual(steps(plain));
    expect(told.steps.map((s) => s.title)).toEqual(
      plain.steps.map((s) => toldProtocol(TEMPLATE).steps.find((own) => own.id === s.step)?.title),
    );
    // What is told once is not told again.
    const log = toldLog(source.log);
    expect(log.state.opened.protocol).toEqual(toldProtocol(TEMPLATE));
    expect(toldLog(log)).toBe(log);
    expect(source.log.state.opened.protocol).toEqual(TEMPLATE);
  });
});

describe('the pseudo-language of protocols', () => {
  test('titles keep the lengths that are read from two metres', () => {
    const { protocol, missing } = translate(TEMPLATE, pseudoTranslation(TEMPLATE));
    expect(missing).toBe(0);
    for (const { title } of protocol.steps)
      expect(title.length, title).toBeLessThanOrEqual(TITLE_LENGTH_MAX.step);
    for (const { title } of protocol.windows)
      expect(title.length, title).toBeLessThanOrEqual(TITLE_LENGTH_MAX.window);
    expect(toldTexts(protocol).filter((text) => text.includes('{subject}')).length).toBeGreaterThan(
      5,
    );
  });
});

describe('files of translations', () => {
  const good = pseudoTranslation(TEMPLATE);
  const { id } = TEMPLATE;
  const file = (language: string, name = id) => `../translations/${language}/${name}.json`;

  test('those of the language that is spoken are read, and no other is fetched', async () => {
    const read = await readTranslations(
      {
        [file('en-XA')]: async () => good,
        [file('de')]: () => Promise.reject(new Error('not asked for')),
      },
      'en-XA',
    );
    expect([...read.all.keys()]).toEqual([id]);
    expect(read.problems).toEqual([]);
  });

  test.each([
    ['translation.texts', async () => ({ ...good, texts: [] })],
    ['translation.language', async () => ({ ...good, language: 'de' })],
    ['translation.protocol', async () => ({ ...good, protocol: 'another' })],
    ['', () => Promise.reject(new Error('gone'))],
  ])('one that cannot be used is told with one problem at %j and left out', async (place, load) => {
    const { all, problems } = await readTranslations({ [file('en-XA')]: load }, 'en-XA');
    expect(all.size).toBe(0);
    expect(problems).toHaveLength(1);
    expect(problems[0]?.place).toContain(file('en-XA'));
    expect(problems[0]?.place.endsWith(place)).toBe(true);
  });
});
