/** The part of pngjs that the picture tests use; the package brings no types. */
declare module 'pngjs' {
  export const PNG: {
    readonly sync: {
      read(bytes: Uint8Array): { width: number; height: number; data: Uint8Array };
    };
  };
}
