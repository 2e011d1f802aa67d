/**
 * What a page of this application may do. It may load its own files and nothing else, so that no
 * record of a case can leave the device by accident. WebAssembly is allowed for decoding codes. Text
 * becomes neither script nor markup; the one policy that is named lets addresses of own files pass.
 */
export const POLICY = [
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
  "require-trusted-types-for 'script'",
  'trusted-types default',
].join('; ');

/**
 * What only the server of the built folder can say, since no page can: `npm start` says it, and the
 * guide names it for whoever serves the folder.
 */
export const SERVER_HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': "frame-ancestors 'none'",
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy':
    'camera=(self), screen-wake-lock=(self), microphone=(), geolocation=(), usb=(), payment=()',
};
