/**
 * The policy of the page takes no plain text for a script or for markup (W3C Trusted Types). Workers
 * are started by their address, which is text too: the one policy that is allowed lets the addresses
 * of this app's own files pass and nothing else.
 */

/** The only name that the page allows; a policy of this name is asked wherever text comes. */
const NAME = 'default';

interface PolicyMaker {
  createPolicy(
    name: string,
    rules: { readonly createScriptURL: (address: string) => string | null },
  ): unknown;
}

function isMaker(value: unknown): value is PolicyMaker {
  return typeof value === 'object' && value !== null && 'createPolicy' in value;
}

/** Makes the policy; to be called before any worker is started. Browsers without such policies need none. */
export function trustOwnScripts(window: Window): void {
  if (!('trustedTypes' in window) || !isMaker(window.trustedTypes)) return;
  const { origin, href } = window.location;
  window.trustedTypes.createPolicy(NAME, {
    createScriptURL: (address) => (new URL(address, href).origin === origin ? address : null),
  });
}
