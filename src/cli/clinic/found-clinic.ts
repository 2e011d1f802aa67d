/**
 * The terminal's end of the founding: it shows a code until the first tablet has joined with it, and hands that
 * tablet the keys of the server. From then on they are here no more.
 */
import { present } from '../../base/assert.ts';
import { openNatsStore } from '../../sync/nats-store.ts';
import { newPairCode, pairLine } from '../../sync/pair-code.ts';
import type { Founding, JoinRequest } from '../../sync/pair-messages.ts';
import { LeadPairing, type PairEndState, type PairProblemCode } from '../../sync/pairing.ts';
import type { ClinicStore } from '../../sync/store-types.ts';
import { type ClinicFolder, forgetSeeds } from './clinic-folder.ts';
import type { FoundServer } from './find-server.ts';
import { adminConnection, nodeConnect } from './run-server.ts';

export interface FoundingParts {
  readonly folder: ClinicFolder;
  readonly server: FoundServer;
  readonly port: number;
  readonly say: (line: string) => void;
  /** Asks the person at the terminal. */
  readonly ask: (question: string) => Promise<boolean>;
  /** Only a test has others. */
  readonly times?: typeof TIMES;
}

/**
 * How often it is asked whether the clinic is founded, and how long a tablet that has the keys may say nothing
 * before another code is shown, ms. Design choices of this project.
 */
const TIMES = { askMs: 4000, silentMs: 10 * 60_000 };

/** How a code came to its end: with the tablet that has the keys, or with why there is none. */
type End = JoinRequest | PairProblemCode | 'founded' | 'silent';

const WHY: Readonly<Record<PairProblemCode | 'silent', string>> = {
  silent: 'The tablet has said nothing for long since it was given the keys.',
  'no-answer': 'The tablet did not answer any more.',
  'code-expired': 'The code counts no more.',
  'two-tablets': 'Two tablets used the code. Somebody else may have seen it.',
  'not-as-committed': 'The tablet did not keep to what it had said. Somebody may stand between.',
  stopped: 'The digits were not the same.',
  'stopped-there': 'It was stopped on the tablet.',
  'not-let-in': 'The tablet was not let in.',
};

/** Whether a tablet has founded the clinic: then it has said so in the store. */
async function hasFacts({ folder, port }: FoundingParts): Promise<boolean> {
  const login = folder.clinic.builder;
  const connection = await adminConnection({ port, login, name: 'builder' });
  try {
    const answer = await connection.request('$JS.API.STREAM.INFO.F', '', { timeout: 5000 });
    return !/"last_seq":0\b/.test(answer.string());
  } finally {
    await connection.close();
  }
}

const timers = {
  later(ms: number, run: () => void): () => void {
    const timer = setTimeout(run, ms);
    return () => clearTimeout(timer);
  },
};

/**
 * Asks now and again whether the clinic is founded: the word of the tablet may be lost. Twice, since a word that
 * is only late wants its answer. Returns the way to stop.
 */
function untilFounded(
  parts: FoundingParts,
  { askMs, onFounded }: { readonly askMs: number; readonly onFounded: () => void },
): () => void {
  let isOver = false;
  let callOff: () => void = () => undefined;
  const ask = async (wasFounded: boolean): Promise<void> => {
    const isFounded = await hasFacts(parts).catch(() => false);
    if (isOver) return;
    if (isFounded && wasFounded) return onFounded();
    callOff = timers.later(askMs, () => void ask(isFounded));
  };
  callOff = timers.later(askMs, () => void ask(false));
  return () => {
    isOver = true;
    callOff();
  };
}

/** One code, to its end. */
async function withOneCode(
  parts: FoundingParts,
  o: { readonly store: ClinicStore; readonly founding: Omit<Founding, 'device'> },
): Promise<End> {
  const { crypto } = globalThis;
  const code = await newPairCode(crypto);
  const line = pairLine(o.store.live, { id: code.id, side: 'lead' });
  const pairing = new LeadPairing(
    { crypto, line, timers, code, nowWallMs: Date.now() },
    { accept: ({ device }) => Promise.resolve({ ...o.founding, device }) },
  );
  parts.say(`Code for the first tablet, for ten minutes: ${code.text}`);

  const { askMs, silentMs } = parts.times ?? TIMES;
  let end: (how: End) => void = () => undefined;
  const ended = new Promise<End>((resolve) => {
    end = resolve;
  });
  const callOff: (() => void)[] = [];

  async function compare({ digits }: PairEndState): Promise<void> {
    const name = present(pairing.request, 'the request of a tablet').name;
    parts.say(`The tablet calls itself "${name}". Its screen must show ${digits}`);
    if (!(await parts.ask('Does it show these digits? (y/n) '))) return pairing.stop();
    await pairing.confirm();
    callOff.push(timers.later(silentMs, () => end('silent')));
  }

  let isAsked = false;
  pairing.onState((state) => {
    if (state.step === 'failed') end(state.problem ?? 'no-answer');
    if (state.step === 'done') end(present(pairing.request, 'the request of a tablet'));
    if (state.step !== 'compare' || isAsked) return;
    isAsked = true;
    void compare(state);
  });
  callOff.push(untilFounded(parts, { askMs, onFounded: () => end('founded') }));
  const how = await ended;
  for (const off of callOff) off();
  // One that is done answers its tablet for a while longer.
  if (how === 'founded' || how === 'silent') pairing.stop();
  return how;
}

/** Shows one code after the other until the clinic is founded. Returns at once where it is. */
export async function foundClinic(parts: FoundingParts): Promise<void> {
  const { folder, server, port, say } = parts;
  const { seeds, clinic } = folder;
  if (seeds === null) {
    say('The clinic is founded. More tablets are let in by the tablet of the lead.');
    return;
  }
  const founding = { type: 'founding', site: clinic.site, seeds, isDemo: server.isDemo } as const;
  const store = openNatsStore({
    address: `127.0.0.1:${port}`,
    login: clinic.pairing,
    name: 'pairing',
    connect: nodeConnect,
  });
  for (;;) {
    // Its last word may have been lost: the keys are with it all the same, and no second one gets them.
    if (await hasFacts(parts)) break;
    const end = await withOneCode(parts, { store, founding });
    if (end === 'founded') break;
    if (typeof end === 'string') {
      say(WHY[end]);
      continue;
    }
    say(`"${end.name}" has founded the clinic. The keys of the server are with its lead now.`);
    break;
  }
  await forgetSeeds(folder);
  await store.close();
  say('More tablets are let in by the tablet of the lead.');
}
