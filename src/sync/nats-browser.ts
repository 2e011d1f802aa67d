/** The clinic's store as a page reaches it: by WebSocket, at the page's own origin. */
import { wsconnect } from '@nats-io/nats-core';
import type { Connect } from './nats-line.ts';
import { openNatsStore } from './nats-store.ts';
import type { StoreLogin } from './server-keys.ts';
import type { ClinicStore } from './store-types.ts';

/** `https://clinic.example` becomes `wss://clinic.example/store`. */
export const storeAddress = (origin: string): string => `${origin.replace(/^http/, 'ws')}/store`;

/** Connects as a page does. */
export const connectByPage: Connect = wsconnect;

/** `name` is the tablet's id, or `pairing` with the login that serves pairing. */
export const openBrowserStore = (o: {
  readonly origin: string;
  readonly login: StoreLogin;
  readonly name: string;
}): ClinicStore =>
  openNatsStore({
    address: storeAddress(o.origin),
    login: o.login,
    name: o.name,
    connect: wsconnect,
  });
