/** Every card and line has its words and its source, and none of them promises or doses. */
import { describe, expect, it } from 'vitest';
import { EMERGENCY_CARDS } from '../../src/engine/aside-types.ts';
import { CALL_LINE, cardLines } from '../../src/engine/emergency-cards.ts';
import {
  cardLineWords,
  emergencyNoteWords,
  emergencyWords,
} from '../../src/words/emergency-words.ts';
import { beside } from '../../src/words/en/beside.ts';
import { emergency } from '../../src/words/en/emergency.ts';

const MINUTE_MS = 60_000;

describe.each(EMERGENCY_CARDS)('the card %s', (id) => {
  const { title, lines, source } = emergencyWords.cards[id];

  it('has words for each of its lines and no words for others', () => {
    expect(cardLines(id).map((line) => line.id)).toEqual(Object.keys(lines));
    for (const line of cardLines(id)) expect(cardLineWords(id, line.id)).not.toBe(line.id);
  });

  it('names its source, or says that there is none', () => {
    expect(source).toMatch(/\b(19|20)\d\d\b|Resuscitation Council UK|no source|own protocol|H314/);
  });

  it('is told by its name in a record', () => {
    const told = emergencyNoteWords({ card: id, act: 'step-done', line: CALL_LINE });
    expect(told).toBe(`${title}: emergency number called`);
  });
});

it('the times that a card counts are those that its line names', () => {
  // University procedures; safety data sheets (H314); Resuscitation Council UK 2021; 15 to 30 s: common practice.
  const named = EMERGENCY_CARDS.flatMap((card) =>
    cardLines(card).flatMap(({ id, time }) => {
      if (time === undefined) return [];
      const ms = time.kind === 'every' ? [time.everyMs] : time.namedMs;
      return [[`${card}/${id}`, ms.map((each) => each / MINUTE_MS)]];
    }),
  );
  expect(Object.fromEntries(named)).toEqual({
    'allergic-reaction/count': [5],
    'hydrofluoric-skin/rinse': [5, 15],
    'hydrofluoric-skin/gel': [15],
    'hydrofluoric-eye/rinse': [15],
    'acid-eye/rinse': [15],
    'acid-skin/rinse': [0.25, 0.5],
  });
  for (const [place, minutes] of named) {
    const [card = '', line = ''] = String(place).split('/');
    const words = cardLineWords(card as 'choking', line);
    const last = Number((minutes as number[]).at(-1));
    expect(words).toContain(last < 1 ? `${last * 60} s` : `${last} min`);
  }
});

it('nothing on a card or beside it promises, and nothing names a dose', () => {
  const texts: string[] = [];
  const collect = (value: unknown): void => {
    if (typeof value === 'string') texts.push(value);
    else if (typeof value === 'object' && value !== null) Object.values(value).forEach(collect);
  };
  collect(emergency);
  collect(beside);
  expect(texts.length).toBeGreaterThan(80);
  for (const text of texts) {
    expect(text).not.toMatch(/\bsafe\b|adequate|\bcured\b|enough/i);
    expect(text).not.toMatch(/\d\s*(mg|µg|mcg|IU)\b|per kilo|maximum/i);
  }
});
