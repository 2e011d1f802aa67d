/** Pairings as screens follow them, on the new tablet and on the lead's. */
import { createStore } from 'zustand/vanilla';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { TabletKeys } from '../../storage/signatures.ts';
import { type Joined, joinedBy, type OwnKeys, requestOf, welcomeFor } from '../../sync/founding.ts';
import { newPairCode, pairLine, typedPairCode } from '../../sync/pair-code.ts';
import type { Founding } from '../../sync/pair-messages.ts';
import { JoinPairing, LeadPairing } from '../../sync/pairing.ts';
import { makeSealingKeys } from '../../sync/sealed-for.ts';
import type { LeadBox, SignedStatement } from '../../sync/sealed-types.ts';
import type { ClinicStore } from '../../sync/store-types.ts';
import { setIfChanged } from '../readable.ts';
import type { Pairing, PairingState } from './sharing-state.ts';
import type { StorePlatform } from './store-platform.ts';

/** A server that is there answers sooner, ms. A design choice of this project. */
const OPENS_WITHIN_MS = 8000;

export const NO_LINE = err(problem('/store', 'a line to the store', 'none', 'not-connected'));

interface RunParts {
  readonly crypto: Crypto;
  readonly platform: StorePlatform;
  readonly timers: { after(delayMs: number, callback: () => void): () => void };
  readonly nowWallMs: () => number;
  /** Those that this tablet signs with. */
  readonly keys: () => Promise<TabletKeys | null>;
}

/** Keys of this tablet, and those that are new for this clinic. Null where the browser gives none. */
export async function ownKeys(
  { crypto, platform, keys }: RunParts,
  o: { readonly device: string; readonly name: string },
): Promise<OwnKeys | null> {
  const signing = await keys();
  if (signing === null) return null;
  const [sealing, user] = await Promise.all([makeSealingKeys(crypto), platform.newUser()]);
  return { ...o, signing, sealing, user };
}

async function pairingStore({
  platform,
}: RunParts): Promise<Result<{ readonly store: ClinicStore; readonly isDemo: boolean }, Problem>> {
  const door = await platform.door();
  if (door === null) {
    return err(problem('/store/pairing', 'a store at this address', 'nothing', 'no-store'));
  }
  const { jwt, seed, isDemo } = door;
  const store = await platform.open({ login: { jwt, seed }, name: 'pairing' });
  return ok({ store, isDemo });
}

/** Whether there is a line, or comes one in time. */
export const opens = (store: ClinicStore, { timers }: Pick<RunParts, 'timers'>): Promise<boolean> =>
  new Promise((resolve) => {
    const callOff = timers.after(OPENS_WITHIN_MS, () => resolve(false));
    store.onLine((line) => {
      if (line !== 'open') return;
      callOff();
      resolve(true);
    });
  });

const laterOf = ({ timers }: RunParts) => ({
  later: (ms: number, run: () => void) => timers.after(ms, run),
});

const waiting = (
  side: PairingState['side'],
  o: { readonly code: string | null; readonly untilWallMs: number },
): PairingState => ({
  side,
  step: 'waiting',
  digits: null,
  name: null,
  founds: false,
  problem: null,
  ...o,
});

/** A code was typed on this tablet. */
export async function runJoin(
  parts: RunParts,
  o: {
    readonly code: string;
    readonly own: OwnKeys;
    /** Keeps what the tablet was let in with. */
    readonly onJoined: (joined: Joined) => Promise<void>;
    /** No tablet founded the clinic yet: `found` goes on with it. */
    readonly onFounding: (founding: Founding, end: JoinPairing) => void;
  },
): Promise<Result<Pairing, Problem>> {
  const { crypto } = parts;
  const code = await typedPairCode(crypto, o.code);
  if (code === null) return err(problem('code', 'four groups of four', o.code, 'bad-code'));
  const opened = await pairingStore(parts);
  if (!opened.ok) return opened;
  const { store } = opened.value;
  if (!(await opens(store, parts))) {
    await store.close();
    return NO_LINE;
  }
  const nowWallMs = parts.nowWallMs();
  const line = pairLine(store.live, { id: code.id, side: 'new' });
  const request = await requestOf(crypto, o.own);
  const end = new JoinPairing({ crypto, line, timers: laterOf(parts), code, nowWallMs }, request);
  const { untilWallMs } = end.state;
  const state = createStore<PairingState>(() => waiting('new', { code: null, untilWallMs }));
  const set = (change: Partial<PairingState>): void =>
    setIfChanged(state, { ...state.getState(), ...change });
  const fail = (code: string): void => set({ step: 'failed', problem: code });
  const finish = async (): Promise<void> => {
    const { given } = end;
    if (given === null) return fail('no-answer');
    if (given.type === 'founding') {
      o.onFounding(given, end);
      return set({ step: 'done', founds: true });
    }
    const joined = await joinedBy(crypto, { welcome: given, own: o.own });
    if (joined === null) {
      end.stop();
      return fail('not-vouched');
    }
    await o.onJoined(joined);
    set({ step: 'done' });
    await end.finish();
    await store.close();
  };
  end.onState(({ step, digits, problem: against }) => {
    if (step === 'done') void finish().catch(() => fail('not-kept'));
    else set({ step, digits, problem: against });
    if (step === 'failed') void store.close();
  });
  return ok({
    state,
    confirm: () => Promise.resolve(),
    // Once it was let in it takes part, and the other end has to hear of it.
    stop: () => {
      if (end.given?.type !== 'welcome') end.stop();
    },
  });
}

/** A code is shown on the lead's tablet. */
export async function runInvite(
  parts: RunParts,
  o: {
    readonly box: LeadBox;
    readonly statements: () => readonly SignedStatement[];
    readonly isDemo: boolean;
    /** The tablet keeps what it was given: its statement is made public. */
    readonly onLetIn: (statement: SignedStatement) => Promise<void>;
  },
): Promise<Result<Pairing, Problem>> {
  const { crypto, platform } = parts;
  const opened = await pairingStore(parts);
  if (!opened.ok) return opened;
  const { store } = opened.value;
  if (!(await opens(store, parts))) {
    await store.close();
    return NO_LINE;
  }
  const code = await newPairCode(crypto);
  const nowWallMs = parts.nowWallMs();
  const line = pairLine(store.live, { id: code.id, side: 'lead' });
  let statement: SignedStatement | null = null;
  const end = new LeadPairing(
    { crypto, line, timers: laterOf(parts), code, nowWallMs },
    {
      accept: async (request) => {
        const given = await welcomeFor(crypto, {
          box: o.box,
          request,
          statements: o.statements(),
          isDemo: o.isDemo,
          nowWallMs: parts.nowWallMs(),
          jwtFor: platform.jwtFor,
        });
        statement = given?.statement ?? null;
        return given?.welcome ?? null;
      },
    },
  );
  const { untilWallMs } = end.state;
  const state = createStore<PairingState>(() => waiting('lead', { code: code.text, untilWallMs }));
  end.onState(({ step, digits, problem: against }) => {
    const name = end.request?.name ?? null;
    if (step === 'done' && statement !== null) void o.onLetIn(statement);
    setIfChanged(state, { ...state.getState(), step, digits, name, problem: against });
    // What was let in is answered for a while longer, as long as the end lives.
    if (step === 'failed') void store.close();
    if (step === 'done') parts.timers.after(LINE_KEPT_MS, () => void store.close());
  });
  return ok({ state, confirm: () => end.confirm(), stop: () => end.stop() });
}

/** Longer than an end of a pairing answers after its last word. */
const LINE_KEPT_MS = 15_000;
