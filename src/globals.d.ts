/** The version of this build, written in by the bundler. */
declare const __APP_VERSION__: string;
