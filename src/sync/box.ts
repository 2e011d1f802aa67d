/**
 * The lead's box: everything that founds the clinic's store again, sealed with the lead's passphrase (PBKDF2,
 * then AES-256-GCM). It is kept as a fact, in every backup, and on paper: there in lines of Crockford's base 32
 * with a check of four digits each, so that a line that was mistyped is named.
 *
 * Sealed: one byte of format, rounds (4 bytes), salt (16), AES-256-GCM of the contents, 4 bytes of SHA-256 of
 * all before. Contents: length and text of the site, seeds of 32 bytes each, number of secrets (2 bytes), and of
 * each its version (2 bytes) and 32 bytes; then zeros, so that all of it fills whole groups.
 */
import { sha256 } from '@noble/hashes/sha2.js';
import * as v from 'valibot';
import { assert, present } from '../base/assert.ts';
import { KEY_ITERATIONS_MAX, SECRETS_MAX } from '../base/caps.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { parsedOr } from '../protocol/read-outside.ts';
import { PBKDF2_ROUNDS, passphraseBits } from '../storage/passphrase-bits.ts';
import { fromHex, hex, joined, random, textOf, utf8 } from './bytes.ts';
import { fromCrockford, GROUP_LENGTH, inGroups, toCrockford, typedDigits } from './crockford.ts';
import { rawOfSeed, type SeedKind, seedOfRaw } from './nkey-seed.ts';
import type { LeadBox } from './sealed-types.ts';
import type { Bytes } from './store-types.ts';
import { isToken } from './subjects.ts';

const FORMAT = 'lutewatch-box';
const FORMAT_VERSION = 1;
const SALT_BYTES = 16;
const HEAD_BYTES = 1 + 4 + SALT_BYTES;
const TAG_BYTES = 16;
const SUM_BYTES = 4;
const RAW_BYTES = 32;
const SECRET_ITEM_BYTES = 2 + RAW_BYTES;
/** Five bytes are two whole groups. */
const STEP_BYTES = 5;
const BOX_BYTES_MAX = 1_000 + SECRETS_MAX * SECRET_ITEM_BYTES;

/** The box as it is kept in a fact and in a backup. */
export interface SealedBox {
  readonly format: typeof FORMAT;
  readonly formatVersion: typeof FORMAT_VERSION;
  /** Hex. */
  readonly sealed: string;
}

type BoxProblemCode =
  | 'wrong-passphrase'
  /** A line of the printed box is not as it was printed. `place` is `line 3`. */
  | 'box-line'
  /** All lines are as they were printed, but some are missing, or the box is no whole one. */
  | 'box-not-whole'
  /** A newer version of this app sealed it. */
  | 'box-newer';

interface BoxProblem extends Problem {
  readonly code: BoxProblemCode;
  /** The printed line, from 1; null where it is not about one. */
  readonly line: number | null;
}

const refused = (
  code: BoxProblemCode,
  o: { readonly expected: string; readonly came: unknown; readonly line?: number },
): { readonly ok: false; readonly error: BoxProblem } => {
  const line = o.line ?? null;
  const place = line === null ? 'box' : `line ${line}`;
  return err({ ...problem(place, o.expected, o.came), code, line });
};

const SEEDS = [
  ['operatorSeed', 'operator'],
  ['systemSeed', 'account'],
  ['storeSeed', 'account'],
  ['tabletsSeed', 'account'],
  ['tabletSigningSeed', 'account'],
  ['pairingSigningSeed', 'account'],
] as const satisfies readonly (readonly [keyof LeadBox, SeedKind])[];

const u16 = (value: number): Bytes => Uint8Array.of(value >> 8, value & 0xff);

function contentsOf(box: LeadBox): Bytes {
  const site = utf8(box.site);
  assert(isToken(box.site), 'a site that is one name');
  const seeds = SEEDS.map(([name, kind]) => present(rawOfSeed(kind, box[name]), name));
  const secrets = box.secrets.map(({ version, secret }) => joined(u16(version), fromHex(secret)));
  const parts = [fromHex(box.rootSeed), u16(secrets.length), ...secrets];
  const contents = joined(Uint8Array.of(site.length), site, ...seeds, ...parts);
  const length = HEAD_BYTES + contents.length + TAG_BYTES + SUM_BYTES;
  const fill = (STEP_BYTES - (length % STEP_BYTES)) % STEP_BYTES;
  return joined(contents, new Uint8Array(fill));
}

/** Reads on from where it stopped; null once there is no more. */
function reader(bytes: Bytes): (length: number) => Bytes | null {
  let at = 0;
  return (length) => {
    if (at + length > bytes.length) return null;
    at += length;
    return bytes.slice(at - length, at);
  };
}

const numberOf = (bytes: Bytes | null): number =>
  bytes === null ? 0 : bytes.reduce((sum, byte) => sum * 256 + byte, 0);

function boxOf(contents: Bytes): LeadBox | null {
  const next = reader(contents);
  const siteBytes = next(numberOf(next(1)));
  const site = siteBytes === null ? null : textOf(siteBytes);
  const raws = SEEDS.map(() => next(RAW_BYTES));
  const rootSeed = next(RAW_BYTES);
  const count = numberOf(next(2));
  const secrets = Array.from({ length: Math.min(count, SECRETS_MAX) }, () => ({
    version: numberOf(next(2)),
    secret: next(RAW_BYTES),
  }));
  if (site === null || !isToken(site) || rootSeed === null || count > SECRETS_MAX) return null;
  const seeds = SEEDS.map(([, kind], i) => {
    const raw = raws[i];
    return raw === undefined || raw === null ? null : seedOfRaw(kind, raw);
  });
  const [operatorSeed, systemSeed, storeSeed, tabletsSeed, tabletSigningSeed, pairingSigningSeed] =
    seeds.map((seed) => seed ?? '');
  const whole = secrets.flatMap(({ version, secret }) =>
    secret === null || version === 0 ? [] : [{ version, secret: hex(secret) }],
  );
  if (whole.length !== count || count === 0) return null;
  return {
    site,
    operatorSeed: present(operatorSeed, 'a seed'),
    systemSeed: present(systemSeed, 'a seed'),
    storeSeed: present(storeSeed, 'a seed'),
    tabletsSeed: present(tabletsSeed, 'a seed'),
    tabletSigningSeed: present(tabletSigningSeed, 'a seed'),
    pairingSigningSeed: present(pairingSigningSeed, 'a seed'),
    rootSeed: hex(rootSeed),
    secrets: whole,
  };
}

/** Key and nonce follow from passphrase and salt; no salt is used twice. */
async function cipherOf(
  { subtle }: Crypto,
  o: { readonly passphrase: string; readonly head: Bytes },
): Promise<{ readonly key: CryptoKey; readonly algorithm: AesGcmParams }> {
  const iterations = numberOf(o.head.slice(1, 5));
  const salt = o.head.slice(5);
  const bits = await passphraseBits({ subtle }, { passphrase: o.passphrase, salt, iterations });
  const from = await subtle.importKey('raw', bits, 'HKDF', false, ['deriveBits', 'deriveKey']);
  const hkdf = (purpose: string) => ({
    name: 'HKDF',
    hash: 'SHA-256',
    salt: new Uint8Array(),
    info: utf8(`${FORMAT} ${FORMAT_VERSION} ${purpose}`),
  });
  const aes = { name: 'AES-GCM', length: 256 };
  const key = await subtle.deriveKey(hkdf('key'), from, aes, false, ['encrypt', 'decrypt']);
  const iv = new Uint8Array(await subtle.deriveBits(hkdf('nonce'), from, 96));
  return { key, algorithm: { name: 'AES-GCM', iv, additionalData: o.head } };
}

const sumOf = (bytes: Uint8Array): Bytes => new Uint8Array(sha256(bytes).subarray(0, SUM_BYTES));

/** Seals the box with the lead's passphrase. */
export async function sealBox(
  crypto: Crypto,
  o: { readonly box: LeadBox; readonly passphrase: string },
): Promise<SealedBox> {
  const rounds = new Uint8Array(4);
  new DataView(rounds.buffer).setUint32(0, PBKDF2_ROUNDS);
  const head = joined(Uint8Array.of(FORMAT_VERSION), rounds, random(crypto, SALT_BYTES));
  const { key, algorithm } = await cipherOf(crypto, { passphrase: o.passphrase, head });
  const sealed = await crypto.subtle.encrypt(algorithm, key, contentsOf(o.box));
  const all = joined(head, new Uint8Array(sealed));
  return { format: FORMAT, formatVersion: 1, sealed: hex(joined(all, sumOf(all))) };
}

function sealedBytes(bytes: Bytes): Result<Bytes, BoxProblem> {
  const came = `${bytes.length} bytes`;
  const all = bytes.slice(0, -SUM_BYTES);
  const isWhole =
    bytes.length > HEAD_BYTES + TAG_BYTES + SUM_BYTES &&
    hex(sumOf(all)) === hex(bytes.slice(-SUM_BYTES));
  if (!isWhole) return refused('box-not-whole', { expected: 'a whole box', came });
  if (bytes[0] !== FORMAT_VERSION) {
    return refused('box-newer', { expected: 'a box of version 1', came: bytes[0] });
  }
  const iterations = numberOf(bytes.slice(1, 5));
  return iterations >= 1 && iterations <= KEY_ITERATIONS_MAX
    ? ok(all)
    : refused('box-not-whole', { expected: 'rounds that can be done', came: iterations });
}

/** Opens the box. */
export async function openBox(
  crypto: Crypto,
  o: { readonly sealed: SealedBox; readonly passphrase: string },
): Promise<Result<LeadBox, BoxProblem>> {
  const whole = sealedBytes(fromHex(o.sealed.sealed));
  if (!whole.ok) return whole;
  const all = whole.value;
  const head = all.slice(0, HEAD_BYTES);
  const { key, algorithm } = await cipherOf(crypto, { passphrase: o.passphrase, head });
  const contents = await crypto.subtle
    .decrypt(algorithm, key, all.subarray(HEAD_BYTES))
    .catch(() => null);
  if (contents === null) {
    return refused('wrong-passphrase', { expected: 'its passphrase', came: 'another' });
  }
  const box = boxOf(new Uint8Array(contents));
  return box === null
    ? refused('box-not-whole', { expected: 'what a box holds', came: 'other contents' })
    : ok(box);
}

const sealedBoxSchema = v.object({
  format: v.literal(FORMAT),
  formatVersion: v.literal(FORMAT_VERSION),
  sealed: v.pipe(v.string(), v.regex(/^(?:[0-9a-f]{2})+$/), v.maxLength(2 * BOX_BYTES_MAX)),
});

/** The sealed box of a fact or of a backup; null where it is none. */
export const parseSealedBox = (value: unknown): SealedBox | null =>
  parsedOr(sealedBoxSchema, value);

const LINE_GROUPS = 7;
const LINE_LENGTH = LINE_GROUPS * GROUP_LENGTH;

/** Four digits for a line at its place: no other line, and not this one elsewhere, has them but by chance. */
const checkOf = (digits: string, index: number): string =>
  toCrockford(sha256(utf8(`${FORMAT} line ${index}\n${digits}`))).slice(0, GROUP_LENGTH);

/** The box as text: lines of seven groups and a check. */
export function boxText({ sealed }: SealedBox): string {
  const digits = toCrockford(fromHex(sealed));
  const lines = digits.match(new RegExp(`.{1,${LINE_LENGTH}}`, 'g')) ?? [];
  return lines.map((line, index) => inGroups(line + checkOf(line, index))).join('\n');
}

/** Lines as they were typed; one long line is cut where the printed ones end. */
function typedLines(text: string): readonly string[] {
  const lines = text.split(/\r\n|[\n\r]/).filter((line) => line.trim() !== '');
  const [only = ''] = lines;
  if (lines.length !== 1) return lines;
  const cut = new RegExp(`.{1,${LINE_LENGTH + GROUP_LENGTH}}`, 'g');
  return only.replaceAll(/[\s-]/g, '').match(cut) ?? [];
}

/** The sealed box of a text that somebody typed. The first line that is not as it was printed is named. */
export function boxFromText(text: string): Result<SealedBox, BoxProblem> {
  if (text.length > 4 * BOX_BYTES_MAX) {
    return refused('box-not-whole', { expected: 'a printed box', came: `${text.length} digits` });
  }
  const parts: string[] = [];
  for (const [index, typed] of typedLines(text).entries()) {
    const digits = typedDigits(typed) ?? '';
    const line = digits.slice(0, -GROUP_LENGTH);
    if (line === '' || digits.slice(-GROUP_LENGTH) !== checkOf(line, index)) {
      const expected = 'the line as it was printed';
      return refused('box-line', { expected, came: typed.trim(), line: index + 1 });
    }
    parts.push(line);
  }
  const sealed = fromCrockford(parts.join(''));
  const whole = sealedBytes(sealed);
  return whole.ok ? ok({ format: FORMAT, formatVersion: 1, sealed: hex(sealed) }) : whole;
}
