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
import { type ClinicFolder, forgetSeeds, noteHandedTo, readHandedTo } from './clinic-folder.ts';
import type { FoundServer } from './find-server.ts';
import { adminConnection, nodeConnect } from './run-server.ts';

export interface FoundingParts {
  readonly folder: ClinicFolder;
  readonly server: FoundServer;
  readonly port: number;
  readonly say: (line: string) => void;
  /** Asks the person at the terminal. */
  readonly ask: (question: string) => Promise<boolean>;
  /**
   * Asks whether another tablet is to be given the keys, of one that has them and has not founded the clinic.
   * Left out: they are handed out once.
   */
  readonly askAnew?: (question: string) => Promise<boolean>;
  /** Only a test has others. */
  readonly times?: typeof TIMES;
}

/** How often it is asked whether the clinic is founded, ms. A design choice of this project. */
const TIMES = { askMs: 4000 };

/** How a code came to its end: with the tablet that has the keys, or with why there is none. */
type End = JoinRequest | PairProblemCode | 'founded' | 'anew';

const WHY: Readonly<Record<PairProblemCode | 'anew', string>> = {
  anew: 'The keys are handed out once more. Only one of the two tablets can found the clinic.',
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

/** Whether somebody at the terminal wants another tablet to have the keys that `name` was given. */
async function isAskedAnew({ say, askAnew }: FoundingParts, name: string): Promise<boolean> {
  say(`"${name}" has the keys of the server now, and founds the clinic. Nobody else gets them.`);
  if (askAnew === undefined) return false;
  const isAnew = await askAnew(
    'If that tablet is lost or was closed: give them to another one? (y/n) ',
  );
  if (!isAnew) say('To give them to another one later, stop this and start it again.');
  return isAnew;
}

/** Of keys that were handed out before this was started: waits for that tablet, or is asked for another. */
async function untilHandedAnew(parts: FoundingParts, name: string): Promise<'founded' | 'anew'> {
  const { askMs } = parts.times ?? TIMES;
  let callOff: () => void = () => undefined;
  const founded = new Promise<'founded'>((resolve) => {
    callOff = untilFounded(parts, { askMs, onFounded: () => resolve('founded') });
  });
  const anew = isAskedAnew(parts, name).then((isAnew) => (isAnew ? ('anew' as const) : founded));
  const how = await Promise.race([founded, anew]);
  callOff();
  return how;
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

  const { askMs } = parts.times ?? TIMES;
  let end: (how: End) => void = () => undefined;
  const ended = new Promise<End>((resolve) => {
    end = resolve;
  });
  const callOff: (() => void)[] = [];

  async function compare({ digits }: PairEndState): Promise<void> {
    const name = present(pairing.request, 'the request of a tablet').name;
    parts.say(`The tablet calls itself "${name}". Its screen must show ${digits}`);
    if (!(await parts.ask('Does it show these digits? (y/n) '))) return pairing.stop();
    // From here on the keys may be with it, whatever it answers.
    await noteHandedTo(parts.folder, name);
    await pairing.confirm();
    if (await isAskedAnew(parts, name)) end('anew');
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
  if (how === 'founded' || how === 'anew') pairing.stop();
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
  let isAnew = false;
  for (;;) {
    // Its last word may have been lost: the keys are with it all the same.
    if (await hasFacts(parts)) break;
    const handedTo = await readHandedTo(folder);
    if (handedTo !== null && !isAnew) {
      if ((await untilHandedAnew(parts, handedTo)) === 'founded') break;
      say(WHY.anew);
    }
    const end = await withOneCode(parts, { store, founding });
    isAnew = end === 'anew';
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
