/** The configuration of the clinic's web server. Caddy 2.6.2 took it and served with it, on 30 November 2026. */
import { expect, it } from 'vitest';
import { SERVER_HEADERS } from '../../.ci/vite/page-policy.ts';
import { caddyCommand, caddyfile, hubCaddyfile } from '../../src/cli/clinic/caddyfile.ts';

const text = caddyfile({
  name: 'clinic.example',
  dist: '/srv/a "quoted" folder/dist',
  publicDir: '/srv/keys/public',
  wsPort: 4711,
  headers: SERVER_HEADERS,
});

it('serves the application with every header that it asks for, and the store beside it', () => {
  for (const [name, value] of Object.entries(SERVER_HEADERS)) {
    expect(text).toContain(`\t\t${name} "${value}"\n`);
  }
  expect(text).toContain('root * "/srv/a \\"quoted\\" folder/dist"');
  expect(text).toMatch(/handle \/store \{[^}]*reverse_proxy 127\.0\.0\.1:4711\n/);
  expect(text).toMatch(/handle \/store\/pairing \{[^}]*"\/srv\/keys\/public"/);
  // A page of another address reaches no store, and no second one is opened to the network.
  expect(text).toContain('@foreign not header Origin https://clinic.example');
  expect(text.split('{').length).toBe(text.split('}').length);
});

it('lets clinics reach a hub, and nothing else of it', () => {
  const hub = hubCaddyfile('hub.example', 4280);
  expect(hub).toMatch(/^hub\.example \{$/m);
  expect(hub).toMatch(/handle \/leafnode \{\s+reverse_proxy 127\.0\.0\.1:4280\s+\}/);
  expect(hub.split('{').length).toBe(hub.split('}').length);
});

it('says how the server is started, so that a shell takes the folder as it is', () => {
  expect(caddyCommand('/srv/keys')).toBe('caddy run --config /srv/keys/Caddyfile');
  // POSIX.1-2017, XCU 2.2.2: between single quotes every character stands for itself but the quote.
  expect(caddyCommand("/srv/Anna's $keys")).toBe(
    `caddy run --config '/srv/Anna'\\''s $keys/Caddyfile'`,
  );
});
