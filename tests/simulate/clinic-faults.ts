/** What goes wrong with the store of a simulated clinic and on the way to it, at random, most of it for a while. */

import { present } from '../../src/base/assert.ts';
import { asFact, documentOf } from '../../src/runtime/facts/fact.ts';
import { makeTabletKeys } from '../../src/storage/signatures.ts';
import { importSecret } from '../../src/sync/clinic-secret.ts';
import type { HubDisk } from '../../src/sync/memory-store.ts';
import { rootKeys } from '../../src/sync/root-key.ts';
import { sealFact } from '../../src/sync/seal.ts';
import { makeSealingKeys } from '../../src/sync/sealed-for.ts';
import { mendStore, STORE_FAULTS, type StoreFaultName } from '../sharing/store-faults.ts';
import { SITE, type SimulatedClinic } from './clinic.ts';
import { FORGED } from './clinic-checks.ts';
import type { Dice } from './dice.ts';
import type { Tablet } from './tablet.ts';
import type { World } from './world.ts';

/** On the average one fault of the store in so long. */
const EVERY_MS = 12_000;
/** The tablet that is put out, if one is; the first holds the lead's desk. */
const OUT = 2;

const OWN_FAULTS = [
  'slow store',
  'silent store',
  'forged message',
  'put out',
  'late message',
] as const;
export type ClinicFaultName = StoreFaultName | (typeof OWN_FAULTS)[number];

const isOfStore = (name: ClinicFaultName): name is StoreFaultName => name in STORE_FAULTS;

const EVERY: readonly ClinicFaultName[] = [
  ...(Object.keys(STORE_FAULTS) as StoreFaultName[]),
  ...OWN_FAULTS,
];

export class ClinicFaults {
  readonly #world: World;
  readonly #clinic: SimulatedClinic;
  readonly #dice: Dice;
  readonly #disks: HubDisk[] = [];
  /** In this episode a tablet is put out. */
  readonly #putsOut: boolean;
  #isOn = false;
  #forged = 0;

  constructor(world: World, clinic: SimulatedClinic, dice: Dice) {
    this.#world = world;
    this.#clinic = clinic;
    this.#dice = dice;
    this.#putsOut = dice.chance(0.3) || clinic.spoil.only?.includes('put out') === true;
  }

  start(): void {
    this.#isOn = true;
    this.#next();
  }

  stop(): void {
    this.#isOn = false;
    this.#mend();
  }

  #mend(): void {
    const { network, everyDevice } = this.#clinic;
    mendStore(network.hub, [...everyDevice]);
    network.mend();
  }

  #next(): void {
    const { loop } = this.#world;
    loop.after(
      this.#dice.until(EVERY_MS),
      () => {
        if (!this.#isOn) return;
        void this.#strike();
        this.#next();
      },
      null,
    );
  }

  async #strike(): Promise<void> {
    const name = this.#dice.of(this.#clinic.spoil.only ?? EVERY);
    const tablet = this.#dice.of(this.#world.tablets);
    if (name === undefined || tablet === undefined) return;
    const isDone = isOfStore(name) ? this.#ofStore(name, tablet) : await this.#own(name, tablet);
    if (!isDone) return;
    this.#world.faults.count(name);
    this.#world.tell(`${tablet.name} ${name}`);
  }

  #ofStore(name: StoreFaultName, tablet: Tablet): boolean {
    const { network } = this.#clinic;
    const device = this.#clinic.deviceOf(tablet) ?? '';
    const { hub } = network;
    const isDone = STORE_FAULTS[name]({ hub, dice: this.#dice, device, disks: this.#disks });
    if (!isDone) return false;
    const mends: Partial<Record<StoreFaultName, () => void>> = {
      'cut off': () => hub.mend(device),
      'everybody cut off': () => hub.mend(),
      'nobody told': () => hub.tellStored(true),
      'store full': () => hub.full(false),
    };
    const mend = mends[name];
    if (mend !== undefined) this.#inAWhile(mend);
    return true;
  }

  #inAWhile(mend: () => void): true {
    const ms = this.#dice.chance(0.8)
      ? this.#dice.whole(500, 30_000)
      : this.#dice.whole(30_000, 400_000);
    this.#world.loop.after(ms, mend, null);
    return true;
  }

  async #own(name: (typeof OWN_FAULTS)[number], tablet: Tablet): Promise<boolean> {
    const { network, out } = this.#clinic;
    switch (name) {
      case 'slow store':
        network.slowMs = this.#dice.whole(200, 4000);
        return this.#inAWhile(() => network.mend());
      case 'silent store':
        network.isSilent = true;
        return this.#inAWhile(() => network.mend());
      case 'forged message':
        return this.#plantForged(tablet, null);
      case 'late message':
        // An older disk may have room before the place from which its word no longer counts.
        return (
          out !== null &&
          this.#lastFact >= out.lastFact &&
          this.#plantForged(out.tablet, out.tablet)
        );
      case 'put out':
        return this.#putsOut && out === null && this.tryPutOut();
    }
  }

  get #lastFact(): number {
    return this.#clinic.network.hub.messages('F').at(-1)?.seq ?? 0;
  }

  /** At the desk of the first tablet. */
  async tryPutOut(): Promise<boolean> {
    const [lead] = this.#world.tablets;
    const tablet = this.#world.tablets[OUT];
    const page = lead && this.#world.inFront(lead);
    if (tablet === undefined || !page) return false;
    return page.do(() => this.#clinic.putOut(tablet, page));
  }

  /**
   * Somebody who has the clinic's secret says something in the name of a tablet: with a key of his own, or with
   * that of the tablet, `by`, when its word counts no more.
   */
  async #plantForged(inNameOf: Tablet, by: Tablet | null): Promise<boolean> {
    const device = this.#clinic.deviceOf(inNameOf);
    if (device === null) return false;
    const { web } = this.#clinic.crypto;
    const box = await this.#clinic.box();
    const { secrets } = box;
    const secret = present(by === null ? secrets.at(-1) : secrets[0], 'a secret');
    const membership = {
      site: SITE,
      device,
      name: 'nobody',
      rootKey: (await rootKeys(web, box.rootSeed)).publicKey,
      secrets: [await importSecret(web, secret)],
      line: { jwt: '', seed: '' },
      isDemo: true,
      sealing: await makeSealingKeys(web),
    };
    const keys = await (by === null ? makeTabletKeys(web) : this.#clinic.keysOf(by));
    this.#forged += 1;
    const fact = asFact({
      kind: 'material',
      item: `${FORGED}${this.#forged}`,
      said: { type: 'used-up' },
      after: [],
      tablet: device,
      by: null,
      atWallMs: 1,
    });
    const sealer = { membership, keys: present(keys, 'keys'), crypto: web };
    const sealed = await sealFact(sealer, documentOf(fact));
    if (!sealed.ok) return false;
    this.#clinic.network.hub.plant({ stream: 'F', ...sealed.value });
    return true;
  }
}
