/**
 * A clinic of the simulated tablets: one store for all of them, the lead's box, and who was put out. Each page
 * takes part through it as a real one does, over a network of simulated time.
 */
import { present } from '../../src/base/assert.ts';
import { makeTabletKeys, type TabletKeys } from '../../src/storage/signatures.ts';
import { boxFromText, boxText, openBox, sealBox } from '../../src/sync/box.ts';
import { newBox } from '../../src/sync/founding.ts';
import { seedOfRaw } from '../../src/sync/nkey-seed.ts';
import type { LeadBox } from '../../src/sync/sealed-types.ts';
import type { ServerSeeds } from '../../src/sync/server-keys.ts';
import { memoryPlatform } from '../sharing/memory-platform.ts';
import { SimulatedCrypto } from './clinic-crypto.ts';
import { ClinicNetwork } from './clinic-network.ts';
import type { ClinicSpoil } from './clinic-spoil.ts';
import type { Dice } from './dice.ts';
import type { Loop } from './loop.ts';
import type { Page, SharingOf } from './page.ts';
import type { Tablet } from './tablet.ts';

const PASSPHRASE = 'a lead of the clinic';
export const SITE = 'site-1';

/** A tablet that was put out, and up to where the store went then. */
interface Out {
  readonly tablet: Tablet;
  readonly atMs: number;
  readonly lastFact: number;
}

export class SimulatedClinic {
  readonly network: ClinicNetwork;
  readonly crypto: SimulatedCrypto;
  readonly spoil: ClinicSpoil;
  /** The tablet that is to be put out, from the first try on. */
  outTablet: Tablet | null = null;
  out: Out | null = null;
  readonly #loop: Loop;
  readonly #seeds: ServerSeeds;
  readonly #platform;
  readonly #taking = new Set<Tablet>();
  /** Keys lie in the database of a tablet, and are lost with it. */
  readonly #keys = new WeakMap<IDBFactory, Promise<TabletKeys | null>>();
  readonly #devices = new Map<Tablet, string>();
  #boxText = '';

  constructor(o: { readonly loop: Loop; readonly dice: Dice; readonly spoil: ClinicSpoil }) {
    this.#loop = o.loop;
    this.spoil = o.spoil;
    this.network = new ClinicNetwork(o.loop, o.dice.branch());
    this.crypto = new SimulatedCrypto({
      dice: o.dice.branch(),
      isTrue: o.spoil.isEverySignatureGood === true,
    });
    o.loop.isBusy = () => this.crypto.isBusy;
    const raw = (): Uint8Array => this.crypto.web.getRandomValues(new Uint8Array(32));
    const account = (): string => seedOfRaw('account', raw());
    this.#seeds = {
      operatorSeed: seedOfRaw('operator', raw()),
      systemSeed: account(),
      storeSeed: account(),
      tabletsSeed: account(),
      tabletSigningSeed: account(),
      pairingSigningSeed: account(),
    };
    this.#platform = memoryPlatform({ site: SITE, hub: this.network.hub, seeds: this.#seeds });
  }

  /** Makes the lead's box. */
  async found(): Promise<void> {
    const { web } = this.crypto;
    const box = newBox(web, {
      type: 'founding',
      site: SITE,
      device: '',
      seeds: this.#seeds,
      isDemo: true,
    });
    this.#boxText = boxText(await sealBox(web, { box, passphrase: PASSPHRASE }));
  }

  async box(): Promise<LeadBox> {
    const sealed = boxFromText(this.#boxText);
    if (!sealed.ok) throw new Error(sealed.error.code);
    const box = await openBox(this.crypto.web, { sealed: sealed.value, passphrase: PASSPHRASE });
    if (!box.ok) throw new Error(box.error.code);
    return box.value;
  }

  readonly sharing: SharingOf = (page, told) => {
    const { tablet } = page;
    return {
      told,
      crypto: this.crypto.web,
      version: '1',
      origin: 'https://clinic.example',
      mark: {
        isSet: () => this.#taking.has(tablet),
        set: (takesPart) =>
          void (takesPart ? this.#taking.add(tablet) : this.#taking.delete(tablet)),
      },
      platform: {
        ...this.#platform,
        open: async ({ name }) => {
          const line = this.network.open(page, name === 'pairing' ? null : name);
          return this.spoil.store?.(line, tablet) ?? line;
        },
      },
      keys: () => this.keysOf(tablet),
    };
  };

  keysOf({ idb }: Tablet): Promise<TabletKeys | null> {
    const keys = this.#keys.get(idb) ?? makeTabletKeys(this.crypto.web);
    this.#keys.set(idb, keys);
    return keys;
  }

  /** Under which id a tablet belongs to the clinic; null while that is not known. */
  deviceOf(tablet: Tablet): string | null {
    return this.#devices.get(tablet) ?? null;
  }

  /** Every id under which a tablet of it was ever let in. */
  readonly everyDevice = new Set<string>();

  /** A page is drawn: what it says of its tablet. */
  heed(page: Page): void {
    const own = page.session.store.getState().sharing.tablets.find(({ isThis }) => isThis);
    if (own === undefined) return;
    this.#devices.set(page.tablet, own.device);
    this.everyDevice.add(own.device);
  }

  isIn(tablet: Tablet): boolean {
    return this.outTablet !== tablet;
  }

  /** Lets a tablet in that takes no part: at first, and after its database was lost. */
  async letIn(page: Page): Promise<void> {
    const { tablet } = page;
    if (this.#taking.has(tablet) || !this.isIn(tablet) || page.epoch === null) return;
    const sharing = await page.session.sharing?.();
    if (page.isDead || sharing === undefined) return;
    const name = `Chair ${tablet.name}`;
    // What stands against it now, as a full disk, passes; it is tried again.
    await sharing.recover({ boxText: this.#boxText, passphrase: PASSPHRASE, name });
    this.heed(page);
  }

  /** Puts a tablet out at the desk of another; true once that is done. Broken off, it is begun again. */
  async putOut(tablet: Tablet, lead: Page): Promise<boolean> {
    this.heed(lead);
    const device = this.#devices.get(tablet);
    if (device === undefined) return false;
    const { hub } = this.network;
    if (this.spoil.isPutOutUnsaid) hub.putOut(device);
    else {
      const sharing = await lead.session.sharing?.();
      if (sharing === undefined || lead.isDead || !this.#taking.has(lead.tablet)) return false;
      if (sharing.state.getState().line !== 'open') return false;
      this.outTablet = tablet;
      const done = await sharing.putOut({ device, reason: 'lost', passphrase: PASSPHRASE });
      if (!done.ok) return false;
      this.#boxText = present(await sharing.boxText(), 'the box');
    }
    this.outTablet = tablet;
    const lastFact = hub.messages('F').at(-1)?.seq ?? 0;
    this.out = { tablet, atMs: this.#loop.nowMs, lastFact };
    return true;
  }
}
