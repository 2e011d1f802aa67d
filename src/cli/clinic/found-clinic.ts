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
}

const WHY: Readonly<Record<PairProblemCode, string>> = {
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

/** One code, to its end. Resolves with the tablet that has the keys now, or with why there is none. */
async function withOneCode(
  parts: FoundingParts,
  o: { readonly store: ClinicStore; readonly founding: Omit<Founding, 'device'> },
): Promise<JoinRequest | PairProblemCode> {
  const { crypto } = globalThis;
  const code = await newPairCode(crypto);
  const line = pairLine(o.store.live, { id: code.id, side: 'lead' });
  const pairing = new LeadPairing(
    { crypto, line, timers, code, nowWallMs: Date.now() },
    { accept: ({ device }) => Promise.resolve({ ...o.founding, device }) },
  );
  parts.say(`Code for the first tablet, for ten minutes: ${code.text}`);

  async function compare({ digits }: PairEndState): Promise<void> {
    const name = present(pairing.request, 'the request of a tablet').name;
    parts.say(`The tablet calls itself "${name}". Its screen must show ${digits}`);
    if (await parts.ask('Does it show these digits? (y/n) ')) await pairing.confirm();
    else pairing.stop();
  }

  return new Promise((resolve) => {
    let isAsked = false;
    pairing.onState((state) => {
      if (state.step === 'failed') resolve(state.problem ?? 'no-answer');
      if (state.step === 'done') resolve(present(pairing.request, 'the request of a tablet'));
      if (state.step !== 'compare' || isAsked) return;
      isAsked = true;
      void compare(state);
    });
  });
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
