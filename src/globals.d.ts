/** The version of this build, written in by the bundler. */
declare const __APP_VERSION__: string;

/** The address of a document, compressed in a build. */
declare module '*?packed' {
  const address: string;
  // biome-ignore lint/style/noDefaultExport: the plugin's module has no other name to give.
  export default address;
}

/** The address of a worker that is built together with the page. */
declare module '*?chunk' {
  const url: string;
  // biome-ignore lint/style/noDefaultExport: the plugin's module has no other name to give.
  export default url;
}
