/** Starts the server program and makes the streams in it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { randomInt } from 'node:crypto';
import { once } from 'node:events';
import { readFile } from 'node:fs/promises';
import { connect as connectTo, createServer } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import { jwtAuthenticator, type NatsConnection } from '@nats-io/nats-core';
import { connect as connectByTcp } from '@nats-io/transport-node';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { Connect } from '../../sync/nats-line.ts';
import type { StoreLogin } from '../../sync/server-keys.ts';
import { STREAMS } from '../../sync/store-types.ts';
import { streamConfig } from './server-config.ts';

/** Opens a connection by TCP, for everything that runs in Node. */
export const nodeConnect: Connect = (options) => {
  const { tls: _, ...rest } = options;
  return connectByTcp(rest);
};

/** Whether something could listen there now. */
export async function isFree(port: number, host: string): Promise<boolean> {
  const server = createServer().listen(port, host);
  const isListening = await Promise.race([
    once(server, 'listening').then(() => true),
    once(server, 'error').then(() => false),
  ]).catch(() => false);
  if (!isListening) return false;
  server.close();
  await once(server, 'close');
  return true;
}

/** Below those that systems hand out for connections: nobody takes one while its server starts again. */
const [PORT_MIN, PORT_MAX] = [20_000, 32_000];

/** A port of this machine that nobody uses now. */
export async function freePort(): Promise<number> {
  for (;;) {
    const port = randomInt(PORT_MIN, PORT_MAX);
    if (await isFree(port, '127.0.0.1')) return port;
  }
}

export interface RunningServer {
  readonly child: ChildProcess;
  /** Ends it as it wishes to end, at most 5 s; then by force. */
  readonly stop: () => Promise<void>;
}

async function answers(port: number): Promise<boolean> {
  try {
    // The server greets everybody before it asks who they are.
    const socket = connectTo(port, '127.0.0.1');
    socket.on('error', () => undefined);
    const greeted = await Promise.race([
      once(socket, 'data').then(() => true),
      once(socket, 'close').then(() => false),
      wait(1000, false),
    ]);
    socket.destroy();
    return greeted;
  } catch {
    return false;
  }
}

const lastLines = async (path: string): Promise<string> => {
  const text = await readFile(path, 'utf8').catch(() => '');
  return text.trim().split('\n').slice(-3).join(' | ');
};

/**
 * Starts the server with the configuration in the folder and waits until it greets.
 *
 * @returns `server-does-not-start` with the last lines that it wrote.
 */
export async function startServer(o: {
  readonly path: string;
  readonly folder: string;
  readonly port: number;
}): Promise<Result<RunningServer, Problem>> {
  const child = spawn(o.path, ['-c', `${o.folder}/server.conf`], {
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  let said = '';
  child.stderr.setEncoding('utf8');
  child.stderr.on('data', (chunk: string) => {
    said = (said + chunk).slice(-500);
  });
  const ended = once(child, 'exit').catch((thrown: unknown) => {
    said += String(thrown);
  });
  const isRunning = (): boolean => child.exitCode === null && child.signalCode === null;
  for (const end = performance.now() + 15_000; performance.now() < end && isRunning(); ) {
    if (await answers(o.port)) return ok({ child, stop: () => stopped(child, ended) });
    await wait(20);
  }
  child.kill('SIGKILL');
  const came = `${said} ${await lastLines(`${o.folder}/server.log`)}`.trim();
  return err(problem('nats-server', 'a server that starts', came, 'server-does-not-start'));
}

async function stopped(child: ChildProcess, ended: Promise<unknown>): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  child.kill('SIGTERM');
  await Promise.race([ended, wait(5000)]);
  child.kill('SIGKILL');
  await ended;
}

/** A connection for one purpose of the command line; `name` as in the login. */
export const adminConnection = (o: {
  readonly port: number;
  readonly login: StoreLogin;
  readonly name: string;
}): Promise<NatsConnection> =>
  nodeConnect({
    servers: `127.0.0.1:${o.port}`,
    authenticator: jwtAuthenticator(o.login.jwt, new TextEncoder().encode(o.login.seed)),
    inboxPrefix: `_INBOX.${o.name}`,
    name: o.name,
    reconnect: false,
  });

/** Makes the streams that are not there yet. */
export async function makeStreams(o: {
  readonly port: number;
  readonly login: StoreLogin;
}): Promise<Result<null, Problem>> {
  const connection = await adminConnection({ ...o, name: 'builder' });
  try {
    for (const stream of STREAMS) {
      const info = await connection.request(`$JS.API.STREAM.INFO.${stream}`, '', { timeout: 5000 });
      if (!info.string().includes('"error"')) continue;
      const data = JSON.stringify(streamConfig(stream));
      const made = await connection.request(`$JS.API.STREAM.CREATE.${stream}`, data, {
        timeout: 10_000,
      });
      const answer = made.string();
      if (answer.includes('"error"')) {
        return err(problem(`stream ${stream}`, 'to be made', answer, 'no-stream'));
      }
    }
    return ok(null);
  } finally {
    await connection.close();
  }
}
