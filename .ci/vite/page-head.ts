import type { Plugin } from 'vite';
import { POLICY } from './page-policy.ts';

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
