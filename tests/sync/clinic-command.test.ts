/**
 * `npm run clinic` as a person runs it: it founds a clinic with a tablet that joins by the code on the terminal,
 * lets a second one in through the first, and keeps nothing in plain words.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { mkdtemp, readdir, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { wsconnect } from '@nats-io/nats-core';
// Node 20 has no WebSocket of its own.
import { WebSocket } from 'undici';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import {
  type Joined,
  joinedBy,
  joinedByBox,
  newBox,
  type OwnKeys,
  requestOf,
  welcomeFor,
} from '../../src/sync/founding.ts';
import { openNatsStore } from '../../src/sync/nats-store.ts';
import { newPairCode, pairLine, typedPairCode } from '../../src/sync/pair-code.ts';
import { JoinPairing, LeadPairing } from '../../src/sync/pairing.ts';
import { openMessage, sealFact } from '../../src/sync/seal.ts';
import type { LeadBox } from '../../src/sync/sealed-types.ts';
import type { PairingDoor } from '../../src/sync/server-keys.ts';
import type { ClinicStore } from '../../src/sync/store-types.ts';
import { serverSuite } from '../tools/nats-server.ts';
import { got, openerOf, platform } from './clinic.ts';
import { done, failure, newDevice, opened, until } from './contract.ts';
import { jwtFor, ownKeys, until as untilStep } from './pair-ends.ts';

Object.assign(globalThis, { WebSocket });

const CHECKOUT = fileURLToPath(new URL('../..', import.meta.url));

const timers = {
  later(ms: number, run: () => void): () => void {
    const timer = setTimeout(run, ms);
    return () => clearTimeout(timer);
  },
};

/** The command while it runs, and what it said so far. */
interface Command {
  readonly child: ChildProcess;
  readonly said: () => string;
}

/** Every file under a folder, as text of single bytes. */
async function filesOf(folder: string): Promise<ReadonlyMap<string, string>> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const files = new Map<string, string>();
  for (const entry of entries.filter((each) => each.isFile())) {
    const path = join(entry.parentPath, entry.name);
    files.set(path, await readFile(path, 'latin1'));
  }
  return files;
}

const holding = (files: ReadonlyMap<string, string>, word: string): readonly string[] =>
  [...files].flatMap(([path, text]) => {
    const bytes = Buffer.from(word, 'utf8').toString('latin1');
    return text.includes(bytes) ? [path] : [];
  });

await serverSuite('npm run clinic', (server) => {
  let top = '';
  const commands: ChildProcess[] = [];
  const stores: ClinicStore[] = [];

  beforeEach(async () => {
    top = await mkdtemp(join(tmpdir(), 'lutewatch-command-'));
  });
  afterEach(async () => {
    for (const store of stores.splice(0)) await store.close();
    for (const child of commands.splice(0)) {
      if (child.exitCode !== null) continue;
      child.kill('SIGINT');
      await once(child, 'exit');
    }
    await rm(top, { recursive: true, force: true });
  });

  const dir = (): string => join(top, 'clinic');
  const atHand = (): string => join(top, 'at-hand.json');

  function command(...args: readonly string[]): Command {
    const tsx = join(CHECKOUT, 'node_modules/tsx/dist/cli.mjs');
    const script = join(CHECKOUT, '.ci/clinic.ts');
    const child = spawn(process.execPath, [tsx, script, ...args], {
      env: { ...process.env, NATS_SERVER_BIN: server.path, LUTEWATCH_STORE_FILE: atHand() },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    commands.push(child);
    let text = '';
    for (const stream of [child.stdout, child.stderr]) {
      stream.setEncoding('utf8');
      stream.on('data', (chunk: string) => {
        text += chunk;
      });
    }
    return { child, said: () => text };
  }

  /** What it says and answers when it does not run. */
  async function refusal(...args: readonly string[]): Promise<readonly [number, string]> {
    const { child, said } = command(...args);
    const [code] = await once(child, 'exit');
    return [code, said()];
  }

  async function start(): Promise<Command> {
    const running = command('--dir', dir(), '--yes');
    await until('it runs', () => running.said().includes('Stop it with'), 60_000);
    return running;
  }

  async function door(): Promise<PairingDoor & { readonly wsPort: number }> {
    const at = JSON.parse(await readFile(atHand(), 'utf8'));
    const pairing = JSON.parse(await readFile(join(at.publicDir, 'pairing.json'), 'utf8'));
    return { ...pairing, wsPort: at.wsPort };
  }

  async function reach(login: { jwt: string; seed: string }, name: string): Promise<ClinicStore> {
    const { wsPort } = await door();
    const address = `ws://127.0.0.1:${wsPort}/store`;
    const store = await opened(openNatsStore({ address, login, name, connect: wsconnect }));
    stores.push(store);
    return store;
  }

  /** The tablet's end of a pairing, up to what it was given. */
  async function joining(codeText: string, own: OwnKeys) {
    const store = await reach(await door(), 'pairing');
    const code = present(await typedPairCode(platform, codeText), 'a code');
    const line = pairLine(store.live, { id: code.id, side: 'new' });
    const request = await requestOf(platform, own);
    const parts = { crypto: platform, line, timers, code, nowWallMs: Date.now() };
    return new JoinPairing(parts, request);
  }

  async function found(
    running: Command,
    own: OwnKeys,
  ): Promise<Joined & { readonly box: LeadBox }> {
    await until('a code', () => /ten minutes: \S+/.test(running.said()));
    const text = /ten minutes: (.+)/.exec(running.said())?.[1] ?? '';
    const join = await joining(text, own);
    const { digits } = await untilStep(join, 'done');
    expect(running.said()).toContain(`Its screen must show ${digits}`);
    const { given } = join;
    if (given?.type !== 'founding') throw new Error('no founding');
    const box = newBox(platform, given);
    const joined = await joinedByBox(platform, {
      box,
      own,
      isDemo: given.isDemo,
      nowWallMs: Date.now(),
      jwtFor,
    });
    expect(await join.finish()).toBe(true);
    return { ...joined, box };
  }

  /** The second tablet, let in by the first. */
  async function letIn(
    box: LeadBox,
    statements: Joined['statements'],
    own: OwnKeys,
  ): Promise<Joined> {
    const code = await newPairCode(platform);
    const store = await reach(await door(), 'pairing');
    const line = pairLine(store.live, { id: code.id, side: 'lead' });
    const lead = new LeadPairing(
      { crypto: platform, line, timers, code, nowWallMs: Date.now() },
      {
        accept: async (request) => {
          const o = { box, request, statements, isDemo: true, nowWallMs: Date.now(), jwtFor };
          return (await welcomeFor(platform, o))?.welcome ?? null;
        },
      },
    );
    const join = await joining(code.text, own);
    const seen = await untilStep(join, 'compare');
    await untilStep(lead, 'compare');
    expect(lead.state.digits).toBe(seen.digits);
    await lead.confirm();
    await untilStep(join, 'done');
    const { given } = join;
    if (given?.type !== 'welcome') throw new Error('no welcome');
    const joined = present(await joinedBy(platform, { welcome: given, own }), 'a member');
    expect(await join.finish()).toBe(true);
    return joined;
  }

  it('founds a clinic, lets a second tablet in, and keeps only what is sealed', async () => {
    const running = await start();
    if (server.isDemo) expect(running.said()).toContain('DEMO');
    const own = [await ownKeys(newDevice()), await ownKeys(newDevice())] as const;
    const first = await found(running, { ...own[0], name: 'Zimmer Nordlicht' });
    await until('the end of it', () => running.said().includes('let in by the tablet of the lead'));
    const kept = await filesOf(dir());
    const { membership, statements, box } = first;
    for (const seed of [
      box.operatorSeed,
      box.systemSeed,
      box.storeSeed,
      box.tabletsSeed,
      box.tabletSigningSeed,
      box.pairingSigningSeed,
    ]) {
      expect(holding(kept, seed)).toEqual([]);
    }
    expect(existsSync(join(dir(), 'seeds.json'))).toBe(false);

    const storeOfA = await reach(membership.line, membership.device);
    const title = 'Frontzahn-Veneers für Probe-Ölig 7731';
    const sealer = { membership, keys: own[0].signing, crypto: platform };
    const value = { item: 'case-77', said: { title } };
    const sealed = got(await sealFact(sealer, { kind: 'fact-case', id: 'x1', value }));
    const { subject, data } = sealed;
    expect(await done(storeOfA.put({ stream: 'F', subject, data }))).toEqual({ fresh: true });

    const second = await letIn(box, statements, { ...own[1], name: 'Zimmer Abendrot' });
    const storeOfB = await reach(second.membership.line, second.membership.device);
    const last = present(await done(storeOfB.last('F')), 'a message');
    const tablet = { sealer: { ...sealer, membership: second.membership }, paired: statements[0] };
    const opener = openerOf(
      { ...tablet, paired: present(tablet.paired, 'a statement') },
      { statements: second.statements },
    );
    const read = got(await openMessage(opener, last));
    expect(read).toMatchObject({ device: membership.device, payload: { value } });

    const files = await filesOf(dir());
    for (const word of [title, 'Veneers', '7731', 'Nordlicht', 'Abendrot', 'case-77']) {
      expect(holding(files, word), word).toEqual([]);
    }
    // The search finds what is there: the ids of tablets are part of the subjects.
    expect(holding(files, membership.device).length).toBeGreaterThan(0);
    expect(await failure(storeOfB.put({ stream: 'F', subject: sealed.subject, data }))).toBe(
      'refused',
    );
  });

  it('goes on after a restart, for tablets and for those that want to pair', async () => {
    const own = { ...(await ownKeys(newDevice())), name: 'Room 1' };
    const running = await start();
    const { membership } = await found(running, own);
    const before = await reach(membership.line, membership.device);
    const sealer = { membership, keys: own.signing, crypto: platform };
    const sealed = got(await sealFact(sealer, { kind: 'fact-lot', id: 'x', value: { lot: 1 } }));
    await done(before.put({ stream: 'F', ...sealed }));
    const last = await done(before.last('F'));
    await before.close();
    running.child.kill('SIGINT');
    const [code] = await once(running.child, 'exit');
    expect(code).toBe(0);
    expect(existsSync(atHand())).toBe(false);

    const again = await start();
    const after = await reach(membership.line, membership.device);
    expect(await done(after.last('F'))).toEqual(last);
    await reach(await door(), 'pairing');
    expect(again.said()).not.toContain('Code for the first tablet');
  });

  it('gives no second tablet the keys when the last word of the first was lost', async () => {
    const running = await start();
    const own = { ...(await ownKeys(newDevice())), name: 'Room 1' };
    await until('a code', () => /ten minutes: \S+/.test(running.said()));
    const join_ = await joining(/ten minutes: (.+)/.exec(running.said())?.[1] ?? '', own);
    await untilStep(join_, 'done');
    const { given } = join_;
    if (given?.type !== 'founding') throw new Error('no founding');
    const box = newBox(platform, given);
    const o = { box, own, isDemo: true, nowWallMs: Date.now(), jwtFor };
    const { membership } = await joinedByBox(platform, o);
    const store = await reach(membership.line, membership.device);
    const sealer = { membership, keys: own.signing, crypto: platform };
    const sealed = got(await sealFact(sealer, { kind: 'fact-lot', id: 'x', value: { lot: 1 } }));
    await done(store.put({ stream: 'F', ...sealed }));
    join_.stop();
    running.child.kill('SIGINT');
    await once(running.child, 'exit');
    expect(existsSync(join(dir(), 'seeds.json'))).toBe(true);
    const again = await start();
    await until('it knows', () => again.said().includes('let in by the tablet of the lead'));
    expect(again.said()).not.toContain('Code for the first tablet');
    expect(existsSync(join(dir(), 'seeds.json'))).toBe(false);
  });

  it('keeps the folder to its owner', async () => {
    await start();
    const entries = await readdir(dir(), { recursive: true, withFileTypes: true });
    const open: string[] = [];
    for (const entry of entries) {
      const path = join(entry.parentPath, entry.name);
      if (((await stat(path)).mode & 0o077) !== 0) open.push(path);
    }
    expect(open).toEqual([]);
    expect((await stat(dir())).mode & 0o077).toBe(0);
  });

  it('says in one line what is wrong, and starts nothing', async () => {
    await start();
    const cases: readonly (readonly [readonly string[], RegExp])[] = [
      [[], /^--dir: expected a folder for keys and store, got nothing\n$/],
      [['--dir', join(CHECKOUT, 'keys')], /^--dir: expected a folder outside this checkout/],
      [['--dir', '/dev/null/keys'], /expected a folder that can be written/],
      [['--dir', dir()], /^--dir: expected a folder that no server uses now, got "process \d+"\n$/],
      [['--dir', join(top, 'b'), '--port', '70000'], /^--port: expected a number from 1 to 65535/],
      [
        ['--dir', join(top, 'b'), '--port', String((await door()).wsPort)],
        /^--port: expected a port that is free/,
      ],
      [['--dir', join(top, 'b'), '--web', 'Not a name'], /^--web: expected a name like/],
      [['--dir', join(top, 'b'), '--dri'], /^clinic: expected only known arguments/],
      ...(server.isDemo
        ? [
            [
              ['--dir', join(top, 'b'), '--host', '0.0.0.0'],
              /^--host: expected 127.0.0.1 with the server .* anybody on the network can stop it/,
            ] as const,
          ]
        : []),
    ];
    for (const [args, line] of cases) {
      const [code, said] = await refusal(...args);
      expect(said, args.join(' ')).toMatch(line);
      expect(said.trim().split('\n')).toHaveLength(1);
      expect(code).toBe(2);
    }
    expect(existsSync(join(CHECKOUT, 'keys'))).toBe(false);
  });
});
