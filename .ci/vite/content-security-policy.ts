import type { Plugin } from 'vite';

/**
 * What a page of this application may do. It may load its own files and nothing else, so that no
 * record of a case can leave the device by accident. WebAssembly is allowed for decoding codes.
 */
const POLICY = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "media-src 'self' blob:",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

/** Puts the policy first in the head of the built page. The development server needs more freedom. */
export function contentSecurityPolicy(): Plugin {
  return {
    name: 'lutewatch-content-security-policy',
    apply: 'build',
    transformIndexHtml: () => [
      {
        tag: 'meta',
        attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY },
        injectTo: 'head-prepend',
      },
    ],
  };
}
