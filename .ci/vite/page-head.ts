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

/**
 * Puts the policy first in the head of the built page, and the version after it, so that two versions
 * always differ in at least one file. The development server needs more freedom.
 */
export function pageHead(version: string): Plugin {
  return {
    name: 'lutewatch-page-head',
    apply: 'build',
    transformIndexHtml: () => [
      {
        tag: 'meta',
        attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY },
        injectTo: 'head-prepend',
      },
      { tag: 'meta', attrs: { name: 'version', content: version }, injectTo: 'head' },
    ],
  };
}
