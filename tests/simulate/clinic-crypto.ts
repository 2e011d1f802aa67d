/**
 * Web Crypto on simulated time. The platform's own works in other threads and answers when it likes: here one
 * thing is done after the other, a step of the loop is over only when nothing is under way, and what is drawn
 * at random comes from the seed.
 */
import {
  createCipheriv,
  createDecipheriv,
  createECDH,
  createHash,
  KeyObject,
  sign,
  verify,
  webcrypto,
} from 'node:crypto';
import type { Dice } from './dice.ts';

type Ask = (...args: readonly unknown[]) => unknown;

/** A passphrase is stretched so far and no further: how long that takes is not what is looked at. */
const ROUNDS_MAX = 2;
/** What stands before the seed in PKCS #8 (RFC 8410, section 7). */
const PKCS8_ED25519 = Buffer.from('302e020100300506032b657004220420', 'hex');

interface Gcm {
  readonly iv: Uint8Array;
  readonly additionalData?: Uint8Array;
}

const TAG_BYTES = 16;
const GCM = 'aes-256-gcm';
const NOTHING = new Uint8Array();

const bufferOf = (...parts: readonly Uint8Array[]): ArrayBuffer =>
  new Uint8Array(Buffer.concat(parts)).buffer;

/** What is asked for thousands of times in an hour is done at once, without another thread. */
const AT_ONCE = {
  encrypt({ iv, additionalData = NOTHING }: Gcm, key: CryptoKey, plain: Uint8Array): ArrayBuffer {
    const cipher = createCipheriv(GCM, KeyObject.from(key), iv).setAAD(additionalData);
    return bufferOf(cipher.update(plain), cipher.final(), cipher.getAuthTag());
  },
  decrypt({ iv, additionalData = NOTHING }: Gcm, key: CryptoKey, sealed: Uint8Array): ArrayBuffer {
    const cipher = createDecipheriv(GCM, KeyObject.from(key), iv).setAAD(additionalData);
    cipher.setAuthTag(sealed.subarray(sealed.length - TAG_BYTES));
    return bufferOf(cipher.update(sealed.subarray(0, -TAG_BYTES)), cipher.final());
  },
  sign: (_ed25519: unknown, key: CryptoKey, bytes: Uint8Array): ArrayBuffer =>
    bufferOf(sign(null, bytes, KeyObject.from(key))),
  verify: (_ed25519: unknown, key: CryptoKey, signature: Uint8Array, bytes: Uint8Array): boolean =>
    verify(null, bytes, KeyObject.from(key), signature),
} as const;

const isAtOnce = (name: string): name is keyof typeof AT_ONCE => name in AT_ONCE;

const nameOf = (algorithm: unknown): string =>
  typeof algorithm === 'string' ? algorithm : String(Reflect.get(Object(algorithm), 'name'));

const url = (bytes: Buffer): string => bytes.toString('base64url');

export class SimulatedCrypto {
  readonly #dice: Dice;
  readonly #isTrue: boolean;
  #line: Promise<unknown> = Promise.resolve();
  #underWay = 0;
  /** What is handed to the app. */
  readonly web: Crypto;

  /** @param o.isTrue every signature is called good, as a spoil. */
  constructor(o: { readonly dice: Dice; readonly isTrue: boolean }) {
    this.#dice = o.dice;
    this.#isTrue = o.isTrue;
    const subtle = new Proxy(webcrypto.subtle, {
      get: (target, name) => this.#asked(target, String(name)),
    });
    const own = {
      subtle,
      getRandomValues: (to: Uint8Array) => to.set(this.#bytes(to.length)) ?? to,
      randomUUID: () => {
        const hex = this.#bytes(16).toString('hex');
        return [8, 12, 16, 20, 32].map((to, i, all) => hex.slice(all[i - 1] ?? 0, to)).join('-');
      },
    };
    // As much of it as the app uses.
    this.web = own as unknown as Crypto;
  }

  /** Something was asked for and is not done. */
  get isBusy(): boolean {
    return this.#underWay > 0;
  }

  #bytes(length: number): Buffer {
    return Buffer.from(Array.from({ length }, () => this.#dice.whole(0, 255)));
  }

  #asked(target: object, name: string): Ask {
    if (name === 'digest') {
      return async (_sha256: unknown, bytes: unknown) =>
        new Uint8Array(
          createHash('sha256')
            .update(bytes as Uint8Array)
            .digest(),
        ).buffer;
    }
    const own: Ask = Reflect.get(target, name).bind(target);
    if (name === 'generateKey') return (...args) => this.#inLine(() => this.#generated(args));
    if (name === 'verify' && this.#isTrue) return async () => true;
    // In its turn all the same: what was asked for before is answered before.
    if (isAtOnce(name))
      return (...args) => this.#inLine(() => Reflect.apply(AT_ONCE[name], null, args));
    if (name === 'importKey') return (...args) => this.#inLine(() => this.#imported(own, args));
    if (name !== 'deriveBits') return (...args) => this.#inLine(() => own(...args));
    return (algorithm, ...rest) => {
      const iterations = Number(Reflect.get(Object(algorithm), 'iterations') ?? 0);
      const asked =
        iterations > ROUNDS_MAX ? { ...Object(algorithm), iterations: ROUNDS_MAX } : algorithm;
      return this.#inLine(() => own(asked, ...rest));
    };
  }

  #inLine(ask: () => unknown): Promise<unknown> {
    this.#underWay += 1;
    const done = this.#line.then(ask).finally(() => {
      this.#underWay -= 1;
    });
    this.#line = done.catch(() => undefined);
    return done;
  }

  /** Each beat of a tablet is checked with its public key: that is taken in once. */
  #imported(own: Ask, args: readonly unknown[]): unknown {
    const [form, bytes, algorithm] = args;
    if (form !== 'raw' || nameOf(algorithm) !== 'Ed25519') return own(...args);
    const hex = Buffer.from(bytes as Uint8Array).toString('hex');
    const known = this.#publicKeys.get(hex) ?? own(...args);
    this.#publicKeys.set(hex, known);
    return known;
  }

  readonly #publicKeys = new Map<string, unknown>();

  /** Keys of the two kinds that tablets make, from the seed. */
  async #generated([algorithm, isOpen, uses]: readonly unknown[]): Promise<CryptoKeyPair> {
    const { subtle } = webcrypto;
    const open = isOpen === true;
    const usages = uses as KeyUsage[];
    if (nameOf(algorithm) === 'Ed25519') {
      const pkcs8 = Buffer.concat([PKCS8_ED25519, this.#bytes(32)]);
      const readable = await subtle.importKey('pkcs8', pkcs8, 'Ed25519', true, ['sign']);
      const { x } = await subtle.exportKey('jwk', readable);
      const publicJwk = { kty: 'OKP', crv: 'Ed25519', x: x ?? '' };
      return {
        privateKey: await subtle.importKey('pkcs8', pkcs8, 'Ed25519', open, ['sign']),
        publicKey: await subtle.importKey('jwk', publicJwk, 'Ed25519', true, ['verify']),
      };
    }
    const curve = createECDH('prime256v1');
    const scalar = this.#bytes(32);
    // Below the order of the curve.
    scalar[0] = 1;
    curve.setPrivateKey(scalar);
    const point = curve.getPublicKey();
    const [x, y] = [url(point.subarray(1, 33)), url(point.subarray(33))];
    const jwk = { kty: 'EC', crv: 'P-256', x, y };
    const named = { name: 'ECDH', namedCurve: 'P-256' };
    return {
      privateKey: await subtle.importKey('jwk', { ...jwk, d: url(scalar) }, named, open, usages),
      publicKey: await subtle.importKey('jwk', jwk, named, true, []),
    };
  }
}
