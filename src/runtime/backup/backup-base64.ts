/** Base64 (RFC 4648) of short byte strings, with what every browser has. */
export const base64 = {
  encode: (bytes: Uint8Array): string => btoa(String.fromCharCode(...bytes)),
  decode: (text: string): Uint8Array<ArrayBuffer> =>
    Uint8Array.from(atob(text), (character) => character.charCodeAt(0)),
};
