import { describe, expect, it } from 'vitest';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import {
  parseProtocolFile,
  parseProtocolFileText,
  protocolFileText,
  unconfirmed,
} from '../../src/runtime/lead/lead-protocol-file.ts';
import { smallProtocol } from '../protocol/edit-support.ts';
import { runSize } from '../tools/run-size.ts';
import { instruction, template } from './lead-support.ts';

const SEED = Number(process.env['LUTEWATCH_SEED'] ?? 20_261_125);

/** Mulberry32 (public domain, T. Ettinger): fast, repeatable, good enough to choose places. */
function diceOf(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) % below;
  };
}

type Dice = ReturnType<typeof diceOf>;

const CHARS = [...'{}[]",:0123456789.-+eE truefalsn\\u\n\u0000\ud800é🦷'];

function mutateText(text: string, dice: Dice): string {
  const at = dice(text.length);
  const char = CHARS[dice(CHARS.length)] ?? ' ';
  switch (dice(6)) {
    case 0:
      return text.slice(0, at) + char + text.slice(at + 1);
    case 1:
      return text.slice(0, at) + text.slice(at + 1 + dice(20));
    case 2:
      return text.slice(0, at) + char.repeat(1 + dice(4)) + text.slice(at);
    case 3:
      return text.slice(0, at);
    case 4: {
      const from = dice(text.length);
      return text.slice(0, at) + text.slice(from, from + dice(200)) + text.slice(at);
    }
    default: {
      const other = dice(text.length);
      const [a, b] = [Math.min(at, other), Math.max(at, other)];
      return text.slice(0, a) + text.slice(b) + text.slice(a, b);
    }
  }
}

const JUNK: readonly unknown[] = [
  null,
  true,
  false,
  '',
  'x',
  'etch',
  0,
  -1,
  1.5,
  1e300,
  [],
  {},
  [[]],
  'x'.repeat(3000),
  '\ud800',
  { value: 1 },
  { kind: 'instructions' },
  { kind: 'practice' },
  'lutewatch-protocol',
  '2026-02-30',
];

/** Replaces, drops, doubles or renames one thing somewhere in a JSON value, in place. */
function mutateValue(value: unknown, dice: Dice): void {
  let owner: unknown = value;
  for (let depth = 1 + dice(7); depth > 0; depth -= 1) {
    const keys = typeof owner === 'object' && owner !== null ? Object.keys(owner) : [];
    const key = keys[dice(Math.max(1, keys.length))];
    if (key === undefined) return;
    const inner: unknown = Reflect.get(Object(owner), key);
    const canGoOn = typeof inner === 'object' && inner !== null && Object.keys(inner).length > 0;
    if (depth > 1 && canGoOn) {
      owner = inner;
      continue;
    }
    const object = Object(owner);
    const deed = dice(5);
    if (deed === 0 && Array.isArray(object)) object.splice(Number(key), 1);
    else if (deed === 0) Reflect.deleteProperty(object, key);
    else if (deed === 1 && Array.isArray(object)) object.push(structuredClone(inner));
    else if (deed === 1) Reflect.set(object, `${key}x`, inner);
    else Reflect.set(object, key, structuredClone(JUNK[dice(JUNK.length)]));
    return;
  }
}

const fileOf = (protocol = smallProtocol()): string =>
  protocolFileText({
    protocol,
    hash: protocolHash(protocol),
    ancestors: ['0'.repeat(64)],
    from: null,
  });

/** A place that starts with the file and, inside JSON, tells line and column or the path. */
const PLACE = /^file(?:$|, line \d+, column \d+$|\.[a-zA-Z]+|\[)/;

function expectTold(result: ReturnType<typeof parseProtocolFileText>): 'taken' | 'refused' {
  if (result.ok) {
    // What is taken in has its own hash and parses again.
    if (protocolHash(result.value.protocol) !== result.value.hash) throw new Error('hash');
    return 'taken';
  }
  const { place, expected, came } = result.error;
  if (!PLACE.test(place)) throw new Error(`no place: ${JSON.stringify(result.error)}`);
  if (expected === '' || came === '') throw new Error(`no words: ${JSON.stringify(result.error)}`);
  return 'refused';
}

const FILES = runSize({ long: 50_000, part: 4000 });

describe(`mutated protocol files (seed ${SEED}, set LUTEWATCH_SEED for another)`, () => {
  it(`${FILES} mutated in their text: never a crash, always a message that names the place`, () => {
    const dice = diceOf(SEED);
    const text = fileOf();
    const counts = { taken: 0, refused: 0 };
    for (let i = 0; i < FILES; i += 1) {
      let mutated = text;
      for (let n = dice(3); n >= 0; n -= 1) mutated = mutateText(mutated, dice);
      counts[expectTold(parseProtocolFileText(mutated))] += 1;
    }
    console.info(`text: ${JSON.stringify(counts)}`);
    expect(counts.refused).toBeGreaterThan(0.8 * FILES);
  }, 240_000);

  it(`${FILES} mutated in their values, half with a hash that fits again: the same`, () => {
    const dice = diceOf(SEED + 1);
    const text = fileOf();
    const counts = { taken: 0, refused: 0 };
    for (let i = 0; i < FILES; i += 1) {
      const value: { protocol?: unknown; hash?: unknown } = JSON.parse(text);
      for (let n = dice(3); n >= 0; n -= 1) mutateValue(value, dice);
      if (dice(2) === 0) {
        const parsed = parseProtocol(value.protocol);
        if (parsed.ok && !JSON.stringify(parsed.value).includes('\\ud800')) {
          value.hash = protocolHash(parsed.value);
        }
      }
      counts[expectTold(parseProtocolFile(value))] += 1;
    }
    console.info(`values: ${JSON.stringify(counts)}`);
    expect(counts.refused).toBeGreaterThan(0.4 * FILES);
    // Some changes make another valid protocol, so that the path to the draft is walked too.
    expect(counts.taken).toBeGreaterThan(0.02 * FILES);
  }, 240_000);
});

describe('a protocol file', () => {
  it('comes back as it was handed out', () => {
    const protocol = template();
    const read = parseProtocolFileText(fileOf(protocol));
    expect(read).toEqual({
      ok: true,
      value: { protocol, hash: protocolHash(protocol), ancestors: ['0'.repeat(64)], from: null },
    });
  });

  it.each([
    ['no JSON', '{"format": ', 'file, line 1, column 12'],
    ['another format', '{"format": "lutewatch-protocol"}', 'file.format'],
    ['no hash', '{"format": "lutewatch-protocol-file", "formatVersion": 1}', 'file.hash'],
    ['a list', '[]', 'file'],
    ['saying a key twice', '{"format": "a", "format": "b"}', 'file, line 1, column 17'],
    ['turning its text round', '{"format": "\\u202e"}', 'file.format, line 1, column 13'],
    ['a stranger', fileOf().replace('"hash"', '"more": 1, "hash"'), 'file.more'],
    ['with an odd ancestor', fileOf().replace(/"0{64}"/, '7'), 'file.ancestors[0]'],
  ])('that is %s is refused at %s', (_, text, place) => {
    expect(parseProtocolFileText(text)).toMatchObject({ ok: false, error: { place } });
  });

  it('brings the confirmations of the other clinic as notes, never as confirmations', () => {
    const text = JSON.stringify(template()).replace(
      /\{"kind":"published"[^}]*\}/g,
      JSON.stringify(instruction),
    );
    const parsed = parseProtocol(JSON.parse(text));
    if (!parsed.ok) throw new Error(parsed.error[0]?.place);
    expect(JSON.stringify(parsed.value)).toContain('"kind":"instructions"');
    const taken = JSON.stringify(unconfirmed(parsed.value));
    expect(taken).not.toContain('"kind":"instructions"');
    expect(taken).toContain('file says: Etching gel, instructions for use, 2026-04, page 2');
  });
});
